#include "report/figures/analysis_figures.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <cmath>
#include <set>

using namespace eggfall;

namespace {

AnalysisSettings quick() {
  AnalysisSettings settings;
  settings.simulations = 0;
  return settings;
}

/// Trial A, 50 EPG an egg.
TrialAnalysis trial_of(const std::vector<std::uint32_t>& after) {
  Trial trial{"x", {support::group("white", trial_a::before, after, 50, 50)}};
  trial.groups[0].classes = {DrugClass::bz};
  return analyse(trial, published_cut_offs(), quick());
}

const TrialAnalysis& some() {
  static const TrialAnalysis made = trial_of(trial_a::after);
  return made;
}

pugi::xml_document read(const std::string& svg) {
  pugi::xml_document document;
  REQUIRE(document.load_string(svg.c_str()));
  return document;
}

} // namespace

TEST_CASE("Every figure has a title, a description, and a box of 320 units' width") {
  const auto figures = analysis_figures(some());
  REQUIRE(figures.size() == 5);
  std::set<std::string> names;
  for (const NamedFigure& figure : figures) {
    INFO(figure.name);
    names.insert(figure.name);
    const pugi::xml_document document = read(figure.svg);
    const pugi::xml_node svg = document.child("svg");
    CHECK(std::string_view(svg.child("title").text().get()).size() > 10);
    CHECK(std::string_view(svg.child("desc").text().get()).size() > 20);
    CHECK(std::string(svg.attribute("viewBox").value()).starts_with("0 0 320 "));
    CHECK(std::string(svg.attribute("role").value()) == "img");
    for (const auto& text : svg.select_nodes(".//text"))
      CHECK(text.node().attribute("font-size").as_double() >= small_size);
  }
  CHECK(names.size() == 5);
}

TEST_CASE("The tray shows as many eggs as the interval leaves") {
  const GroupAnalysis& group = some().groups[0];
  const pugi::xml_document document = read(*eggs_left_figure(group));
  std::size_t dark = 0;
  std::size_t all = 0;
  for (const auto& egg : document.select_nodes("//ellipse")) {
    ++all;
    dark += std::string(egg.node().attribute("fill").value()) == deep_colour ? 1 : 0;
  }
  CHECK(all == 100);
  CHECK(dark == static_cast<std::size_t>(std::round(100 * (1 - *group.evidence.headline.upper))));
  const std::size_t with_dot = document.select_nodes("//circle").size();
  CHECK(dark + with_dot ==
        static_cast<std::size_t>(std::round(100 * (1 - *group.evidence.headline.lower))));
}

TEST_CASE("No egg found leaves one that may be there") {
  const GroupAnalysis group =
      trial_of(std::vector<std::uint32_t>(trial_a::before.size(), 0)).groups[0];
  const pugi::xml_document document = read(*eggs_left_figure(group));
  CHECK(document.select_nodes("//circle").size() >= 1);
  const std::string dark = fmt::format("//ellipse[@fill='{}']", deep_colour);
  CHECK(document.select_nodes(dark.c_str()).empty());
}

TEST_CASE("Each animal has a line from before to after, and none seen is hollow") {
  const pugi::xml_document document = read(*animals_figure(some().groups[0]));
  CHECK(document.select_nodes("//g[@class='animals']/line").size() == trial_a::before.size());
  // Six of the twelve had no egg after treatment, and none before.
  std::size_t hollow = 0;
  for (const auto& dot : document.select_nodes("//circle"))
    hollow += std::string(dot.node().attribute("fill").value()) == "#ffffff" ? 1 : 0;
  CHECK(hollow ==
        static_cast<std::size_t>(std::count(trial_a::after.begin(), trial_a::after.end(), 0U)));
  CHECK(document.select_nodes("//circle").size() == 2 * trial_a::before.size());
}

TEST_CASE("Equal falls are equally steep on the scale of counts") {
  Trial trial{"x", {support::group("white", {100, 10}, {50, 5}, 1, 1)}};
  const TrialAnalysis analysed = analyse(trial, published_cut_offs(), quick());
  const pugi::xml_document document = read(*animals_figure(analysed.groups[0]));
  const auto lines = document.select_nodes("//g[@class='animals']/line");
  REQUIRE(lines.size() == 2);
  const auto drop = [](pugi::xml_node line) {
    return line.attribute("y2").as_double() - line.attribute("y1").as_double();
  };
  // Coordinates have two decimals.
  CHECK(std::abs(drop(lines[0].node()) - drop(lines[1].node())) <= 0.02);
  CHECK(drop(lines[0].node()) > 5);
}

TEST_CASE("Where there is nothing to draw there is no figure") {
  Trial trial{"x", {support::group("white", {}, {}, 1, 1)}};
  trial.groups[0].animals.resize(2);
  const TrialAnalysis analysed = analyse(trial, published_cut_offs(), quick());
  const GroupAnalysis& group = analysed.groups[0];
  CHECK_FALSE(eggs_left_figure(group));
  CHECK_FALSE(animals_figure(group));
  CHECK_FALSE(posterior_figure(group));
  CHECK_FALSE(intervals_figure(group));
  CHECK(analysis_figures(analysed).size() == 1);
}

TEST_CASE("Names in figures are cut at whole characters") {
  CHECK(cut_to("short", 100, 11) == "short");
  const std::string cut = cut_to("שלום שלום שלום שלום שלום", 60, 11);
  CHECK(cut.ends_with("..."));
  CHECK_FALSE(first_invalid_utf8(cut));
  CHECK(character_count(cut) <= 9); // 60 units at 0.56 x 11 a character
}
