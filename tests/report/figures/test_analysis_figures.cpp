#include "report/figures/analysis_figures.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"
#include "report/farmer_words.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <array>
#include <cmath>
#include <regex>
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

TEST_CASE("Every figure stands alone: what it is of and shows, how to read it, and whence it is") {
  const auto figures = analysis_figures(some());
  REQUIRE(figures.size() == 4);
  std::set<std::string> names;
  for (const NamedFigure& figure : figures) {
    INFO(figure.name);
    names.insert(figure.name);
    const pugi::xml_document document = read(figure.svg);
    const pugi::xml_node svg = document.child("svg");
    CHECK(std::string_view(svg.child("title").text().get()).size() > 10);
    CHECK(std::string_view(svg.child("desc").text().get()).size() > 20);
    CHECK(std::string(svg.attribute("role").value()) == "img");
    std::string words;
    for (const auto& text : svg.select_nodes("./text | ./g[@class='source']/text"))
      words += std::string(text.node().child_value()) + ' ';
    CHECK(words.find("Trial x") != std::string::npos);
    CHECK(words.find("eggfall ") != std::string::npos);
    CHECK(words.find('.') != std::string::npos); // of the key
    for (const auto& text : svg.select_nodes(".//text"))
      CHECK(text.node().attribute("font-size").as_double() >= small_size);
  }
  CHECK(names == std::set<std::string>{"falls", "1-eggs-left", "1-animals", "1-intervals"});
}

TEST_CASE("The tray is solid up to the best estimate, and hatched as far as luck allows") {
  const GroupAnalysis& group = some().groups[0];
  const pugi::xml_document document = read(eggs_left_figure(group)->svg);
  std::size_t solid = 0;
  std::size_t all = 0;
  for (const auto& egg : document.select_nodes("//ellipse")) {
    ++all;
    solid += std::string(egg.node().attribute("fill").value()) == deep_colour ? 1 : 0;
  }
  CHECK(all == 100);
  CHECK(solid == static_cast<std::size_t>(std::round(100 * (1 - *group.evidence.reduction))));
  CHECK(solid + document.select_nodes("//path[@class='hatching']").size() ==
        static_cast<std::size_t>(std::ceil(100 * (1 - *group.evidence.headline.lower))));
  // The three numbers stand below it, as the sentences tell them.
  CHECK(document.select_nodes("//path[@class='luck']").size() == 1);
  const std::string numbers = tray_numbers(*eggs_left(group.evidence, group.judgement));
  CHECK(document.select_nodes(fmt::format("//text[.='{}']", numbers).c_str()).size() == 1);
  for (const char* limit : {"\u2190 good: up to 5", "too many: over 10 \u2192"})
    CHECK(document.select_nodes(fmt::format("//text[.='{}']", limit).c_str()).size() == 1);
}

TEST_CASE("Hatching stays within its egg") {
  const pugi::xml_document document = read(eggs_left_figure(some().groups[0])->svg);
  const pugi::xml_node lines = document.select_node("//path[@class='hatching']").node();
  REQUIRE(lines);
  const pugi::xml_node egg = lines.previous_sibling();
  REQUIRE(std::string(egg.name()) == "ellipse");
  const std::regex point("[ML]([-0-9.]+) ([-0-9.]+)");
  const std::string path = lines.attribute("d").value();
  std::size_t points = 0;
  for (std::sregex_iterator match(path.begin(), path.end(), point), end; match != end; ++match) {
    ++points;
    const double x = (std::stod((*match)[1]) - egg.attribute("cx").as_double()) /
                     egg.attribute("rx").as_double();
    const double y = (std::stod((*match)[2]) - egg.attribute("cy").as_double()) /
                     egg.attribute("ry").as_double();
    CHECK_THAT(x * x + y * y, support::close_to(1, 0.01)); // coordinates have two decimals
  }
  CHECK(points == 6);
}

TEST_CASE("No egg found leaves one that may be there") {
  const GroupAnalysis group =
      trial_of(std::vector<std::uint32_t>(trial_a::before.size(), 0)).groups[0];
  const pugi::xml_document document = read(eggs_left_figure(group)->svg);
  CHECK(document.select_nodes("//path[@class='hatching']").size() >= 1);
  const std::string solid = fmt::format("//ellipse[@fill='{}']", deep_colour);
  CHECK(document.select_nodes(solid.c_str()).empty());
}

TEST_CASE("More eggs than the tray holds run on in an arrow and in numbers") {
  GroupAnalysis group = some().groups[0];
  group.evidence.reduction = -0.3;
  group.evidence.headline.lower = -0.9;
  group.evidence.headline.upper = 0.1;
  const pugi::xml_document document = read(eggs_left_figure(group)->svg);
  const std::string solid = fmt::format("//ellipse[@fill='{}']", deep_colour);
  CHECK(document.select_nodes(solid.c_str()).size() == 100);
  const std::string bar =
      document.select_node("//path[@class='luck']").node().attribute("d").value();
  // The tray's right edge is at 316; the arrow's barbs begin 5 before it.
  CHECK(bar.find("M311 ") != std::string::npos);
  CHECK(bar.find("L316 ") != std::string::npos);
  CHECK(document.select_nodes("//text[.='130 for every 100; could be 90 to 190']").size() == 1);
}

TEST_CASE("Where a rule lets so few be left that they are told of 1,000, the tray is of those") {
  GroupAnalysis group = some().groups[0];
  group.judgement.first_verdict().expected = 0.999;
  group.judgement.first_verdict().lower = 0.95;
  group.evidence.reduction = 0.998;
  group.evidence.headline.lower = 0.996;
  group.evidence.headline.upper = 0.999;
  REQUIRE(eggs_left(group.evidence, group.judgement)->told_of == 1000);
  const pugi::xml_document document = read(eggs_left_figure(group)->svg);
  const std::string solid = fmt::format("//ellipse[@fill='{}']", deep_colour);
  CHECK(document.select_nodes(solid.c_str()).size() == 2);
  CHECK(document.select_nodes("//path[@class='hatching']").size() == 2);
  CHECK(std::string_view(document.select_node("//title").node().text().get())
            .starts_with("Of 1,000 eggs"));
  // The two limits, of 1 and of 50 eggs, stand apart.
  CHECK(document.select_nodes("//text[.='\u2190 good: up to 1 of 1,000']").size() == 1);
  std::set<double> places;
  for (const auto& text : document.select_nodes("//text[contains(., '1,000')]"))
    if (std::string_view(text.node().text().get()).find("up to") != std::string_view::npos ||
        std::string_view(text.node().text().get()).find("over") != std::string_view::npos)
      places.insert(text.node().attribute("x").as_double());
  CHECK(places.size() >= 2);
}

TEST_CASE("Each animal has a line from before to after, and none seen is hollow") {
  const pugi::xml_document document =
      read(animals_figure(some().groups[0], *count_range_of(some())).svg);
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
  const pugi::xml_document document =
      read(animals_figure(analysed.groups[0], *count_range_of(analysed)).svg);
  const auto lines = document.select_nodes("//g[@class='animals']/line");
  REQUIRE(lines.size() == 2);
  const auto drop = [](pugi::xml_node line) {
    return line.attribute("y2").as_double() - line.attribute("y1").as_double();
  };
  // Coordinates have two decimals.
  CHECK(std::abs(drop(lines[0].node()) - drop(lines[1].node())) <= 0.02);
  CHECK(drop(lines[0].node()) > 5);
}

TEST_CASE("All groups and the control share one scale of counts and one axis of falls") {
  Trial trial{"x",
              {support::group("white", {100, 80, 90}, {50, 5, 1}, 10, 10),
               support::group("clear", {4, 2, 3}, {0, 0, 0}, 5, 5),
               support::group("left", {400, 20, 30}, {30, 10, 60}, 10, 10)}};
  trial.groups[2].role = Role::control;
  const TrialAnalysis analysed = analyse(trial, published_cut_offs(), quick());
  const CountRange range = *count_range_of(analysed);
  CHECK(range.least == 5);
  CHECK(range.most == 4000);
  const auto labels = [](const std::string& svg) {
    std::string all;
    const pugi::xml_document drawing = read(svg); // which its nodes must not outlive
    for (const auto& text : drawing.select_nodes("//text"))
      if (const std::string word = text.node().child_value();
          word.ends_with('%') || word == "10" || word == "100" || word == "1000")
        all += word + text.node().attribute("y").value() + ' ';
    return all;
  };
  CHECK(labels(animals_figure(analysed.groups[0], range).svg) ==
        labels(animals_figure(*analysed.control, range).svg));
  const auto axis = [](const std::string& svg) {
    std::string all;
    const pugi::xml_document drawing = read(svg); // which its nodes must not outlive
    for (const auto& text : drawing.select_nodes("//text"))
      if (const std::string word = text.node().child_value(); word.ends_with('%'))
        all += word + text.node().attribute("x").value() + ' ';
    return all;
  };
  const FallRange falls = fall_range_of(analysed);
  CHECK(axis(intervals_figure(analysed.groups[0], falls)->svg) ==
        axis(intervals_figure(analysed.groups[1], falls)->svg));
}

TEST_CASE("What was given is drawn against what the label asks, fuller where eggs were left") {
  Trial trial{"x", {support::group("white", {100, 80, 90}, {100, 8, 0}, 10, 10)}};
  Group& group = trial.groups[0];
  const std::array weights{20.0, 30.0, 40.0};
  const std::array doses{3.0, 6.0, 8.0};
  for (std::size_t i = 0; i < 3; ++i) {
    group.animals[i].weight_kg = weights[i];
    group.animals[i].dose_ml = doses[i];
    group.animals[i].label_ml_per_kg = 0.2;
  }
  const TrialAnalysis analysed = analyse(trial, published_cut_offs(), quick());
  const auto figure = doses_figure(analysed.groups[0]);
  REQUIRE(figure);
  // 3 mL where 4 are asked: 75%; arithmetic.
  CHECK_THAT(figure->finding, Catch::Contains("1 of 3 animals got less than their label dose") &&
                                  Catch::Contains("(75%)"));
  const pugi::xml_document document = read(figure->svg);
  const auto dots = document.select_nodes("//circle[@fill-opacity]");
  REQUIRE(dots.size() == 3);
  CHECK(dots[0].node().attribute("fill-opacity").as_double() == 1);
  CHECK_THAT(dots[1].node().attribute("fill-opacity").as_double(), support::close_to(0.1));
  CHECK(dots[2].node().attribute("fill-opacity").as_double() == 0);
  CHECK_FALSE(doses_figure(some().groups[0]));
}

TEST_CASE("Where there is nothing to draw there is no figure") {
  Trial trial{"x", {support::group("white", {}, {}, 1, 1)}};
  trial.groups[0].animals.resize(2);
  const TrialAnalysis analysed = analyse(trial, published_cut_offs(), quick());
  const GroupAnalysis& group = analysed.groups[0];
  CHECK_FALSE(eggs_left_figure(group));
  CHECK_FALSE(count_range_of(analysed));
  CHECK_FALSE(doses_figure(group));
  CHECK_FALSE(intervals_figure(group, fall_range_of(analysed)));
  CHECK(analysis_figures(analysed).size() == 1);
}

TEST_CASE("Names in figures are cut at whole characters") {
  CHECK(cut_to("short", 100, 11) == "short");
  const std::string cut = cut_to("שלום שלום שלום שלום שלום", 60, 11);
  CHECK(cut.ends_with("..."));
  CHECK_FALSE(first_invalid_utf8(cut));
  CHECK(character_count(cut) <= 9); // 60 units at 0.56 x 11 a character
}

TEST_CASE("The words below a tray have room, whatever the numbers") {
  for (const double found : {0.0, 0.3, 99.0, 101.0, 998.0, 1e12})
    for (const double least : {0.0, 0.3, 997.0})
      for (const double most : {0.4, 998.0, 1e18}) {
        if (least > found)
          continue; // limits are on both sides of the fall, or next to it
        const std::string words = tray_numbers({found, least, most});
        INFO(words);
        CHECK(text_units(words) <= NarrowFigure::full_width - 2 * NarrowFigure::margin);
      }
}

TEST_CASE(
    "The figure of visits has each visit, the threshold, the weeks expected and its finding") {
  Trial trial{"x", {support::group("ivm", trial_a::before, {}, 5, 5)}};
  Group& group = trial.groups[0];
  group.host = "horses";
  group.worm = "strongyles";
  group.drench = "ivermectin";
  group.classes = {DrugClass::ml};
  for (std::size_t i = 0; i < group.animals.size(); ++i)
    for (const auto& [day, left] : {std::pair{14, 0}, {28, 10}, {56, 2}})
      group.animals[i].visits.push_back(
          {day,
           Count{EggsSeen(left == 0 ? 0 : trial_a::before[i] / static_cast<unsigned>(left)),
                 MultiplicationFactor(5)},
           {}});
  const GroupAnalysis analysis = analyse(trial, published_cut_offs(), quick()).groups.at(0);
  const auto figure = visits_figure(analysis);
  REQUIRE(figure);
  CHECK(figure->finding == "ivm: eggs back between week 4 and week 8");
  const pugi::xml_document document = read(figure->svg);
  const pugi::xml_node svg = document.child("svg");
  CHECK(svg.select_nodes(".//g[@class='visit']").size() == 3);
  CHECK(svg.select_nodes(".//g[@class='expected']").size() == 1);
  // Time runs down in proportion: weeks 2, 4 and 8.
  std::vector<double> heights;
  for (const auto& dot : svg.select_nodes(".//g[@class='interval']/circle"))
    heights.push_back(dot.node().attribute("cy").as_double());
  REQUIRE(heights.size() == 3);
  CHECK_THAT((heights[2] - heights[1]) / (heights[1] - heights[0]),
             Catch::WithinAbs(2, 0.01)); // two decimals of a unit
  std::string words;
  for (const auto& text : svg.select_nodes(".//text"))
    words += std::string(text.node().child_value()) + '|';
  for (const char* word : {"drench|", "week 2|", "week 4|", "week 6|", "week 8|", "expected|"})
    CHECK_THAT(words, Catch::Contains(word));
  CHECK_THAT(figure->key, Catch::Contains("weeks 6 to 8") && Catch::Contains("from memory"));
  CHECK_FALSE(visits_figure(some().groups[0]));
}
