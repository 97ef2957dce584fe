#include "teach/chamber/chamber_figures.hpp"

#include "support/support.hpp"
#include "teach/chamber/chamber_lesson.hpp"
#include "teach/chamber/drawn_chambers.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <set>
#include <string>
#include <vector>

using namespace eggfall;
using namespace drawn_chambers;

namespace {

std::size_t left_out(const ChamberView& view) {
  return static_cast<std::size_t>(
      std::ranges::count_if(view.particles, [&view](const Particle& each) {
        return is_egg(each.kind) && placing(view.spec, each) == Placing::left_out;
      }));
}

/// A dense chamber, with eggs on all lines and outside.
ChamberView crowded() {
  const FaecesSample sample{"A", {Epg(20'000), Epg(20'000), Epg(20'000)}};
  return chamber_view(ChamberSpec{}, sample, 7, 1);
}

} // namespace

TEST_CASE("A picture shows each particle once, and nothing of the key", "[chamber]") {
  const ChamberView view = crowded();
  const pugi::xml_document picture = parsed(chamber_figure(view));
  for (const ParticleKind kind : particle_kinds) {
    INFO(to_string(kind));
    CHECK(of_kind(view, kind) > 0);
    CHECK(drawn(picture, kind_class(kind)) == of_kind(view, kind));
  }
  CHECK(drawn(picture, "counted") == 0);
  CHECK(drawn(picture, "left-out") == 0);
}

TEST_CASE("A key rings every egg counted and crosses every one left out", "[chamber]") {
  const ChamberView view = crowded();
  REQUIRE(left_out(view) > 0);
  const pugi::xml_document picture = parsed(key_figure(view));
  CHECK(drawn(picture, "left-out") == left_out(view));
  const auto rings = picture.select_nodes(".//g[@class='counted']");
  const std::vector<Particle> eggs = counted_eggs(view);
  REQUIRE(rings.size() == eggs.size());
  for (std::size_t i = 0; i < eggs.size(); ++i) {
    const pugi::xml_node ring = rings[i].node();
    CHECK(ring.child("text").text().as_uint() == i + 1);
    // Written with two decimals.
    CHECK_THAT(ring.child("circle").attribute("cx").as_double(),
               Catch::WithinAbs(eggs[i].centre.x_um, 0.005));
    CHECK_THAT(ring.child("circle").attribute("cy").as_double(),
               Catch::WithinAbs(eggs[i].centre.y_um, 0.005));
  }
}

TEST_CASE("The words of a picture are the same whatever is to be counted", "[chamber]") {
  std::set<std::string> descriptions;
  for (const std::uint64_t seed : {1U, 2U, 3U})
    for (const ChamberView& view : views_of(chamber_lesson(seed)))
      descriptions.insert(parsed(chamber_figure(view)).child("svg").child("desc").text().get());
  CHECK(descriptions.size() == 1);
  CHECK_FALSE(descriptions.begin()->empty());
}

TEST_CASE("The line rule's drawing ticks and crosses what its words say", "[chamber]") {
  const pugi::xml_document drawing = parsed(line_rule_figure());
  // Three inside, three on the left and top lines and their corner, one on the inner line.
  CHECK(drawing.select_nodes("//polyline").size() == 7);
  CHECK(drawn(drawing, kind_class(ParticleKind::strongyle_type)) == 13);
}

TEST_CASE("The panel shows every kind with its size", "[chamber]") {
  const pugi::xml_document panel = parsed(particle_panel());
  CHECK(drawn(panel, "enlarged") == particle_kinds.size());
  std::string words;
  for (const auto& label : panel.select_nodes("//text"))
    words += std::string(label.node().text().get()) + "; ";
  for (const char* part :
       {"85 x 45 \u00b5m", "200 x 90 \u00b5m", "50 x 25 \u00b5m", "coiled larva"})
    CHECK_THAT(words, Catch::Contains(part));
}

TEST_CASE("A picture is as wide on paper as the square and both margins, 17 to 1", "[chamber]") {
  ChamberSpec spec;
  spec.side_um = 4'000;
  spec.margin_um = 500;
  CHECK_THAT(paper_width_mm(spec), Catch::WithinRel(17 * 5.0, 1e-12));
  const ChamberView view = chamber_view(spec, {"A", {Epg(100), Epg(0), Epg(0)}}, 1, 1);
  const pugi::xml_document picture = parsed(chamber_figure(view));
  CHECK_THAT(picture.child("svg").attribute("viewBox").value(),
             Catch::StartsWith("-500 -500 5000 "));
  // The bar of half a millimetre is 8.5 mm of paper.
  CHECK_THAT(chamber_figure(view), Catch::Contains("0.5 mm in the chamber; 8.5 mm on paper"));
}
