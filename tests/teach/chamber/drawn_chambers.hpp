#pragma once

#include "teach/chamber/chamber_practical.hpp"
#include "teach/chamber/counting_chamber.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

// What is looked for in pictures of chambers and in pages with them.
namespace drawn_chambers {

using namespace eggfall;

inline pugi::xml_document parsed(const std::string& text) {
  pugi::xml_document document;
  REQUIRE(document.load_string(text.c_str(), pugi::parse_full));
  return document;
}

inline std::vector<ChamberView> views_of(const ChamberPractical& lesson) {
  std::vector<ChamberView> views;
  for (const PracticalSample& sample : lesson.samples)
    views.insert(views.end(), sample.chambers.begin(), sample.chambers.end());
  return views;
}

/// Those of the sheets with pictures, in the order of views_of() and their lanes.
inline std::vector<pugi::xml_node> chamber_sections(const pugi::xml_document& page) {
  std::vector<pugi::xml_node> sections;
  for (const auto& found : page.select_nodes("//section[@class='sheet slide']"))
    sections.push_back(found.node());
  return sections;
}

/// The picture of a chamber's lanes on its sheet.
inline pugi::xml_node picture_on(pugi::xml_node section) {
  return section.child("figure").child("svg");
}

inline std::size_t drawn(pugi::xml_node within, const std::string& css_class) {
  return within.select_nodes(fmt::format(".//g[@class='{}']", css_class).c_str()).size();
}

inline std::size_t of_kind(const ChamberView& view, ParticleKind kind) {
  return static_cast<std::size_t>(std::ranges::count(view.particles, kind, &Particle::kind));
}

} // namespace drawn_chambers
