#include "teach/chamber/chamber_figures.hpp"

#include "support/support.hpp"
#include "teach/chamber/chamber_practical.hpp"
#include "teach/chamber/drawn_chambers.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <set>
#include <string>
#include <string_view>
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

/// Whose centre lies in the square.
std::size_t in_square(const ChamberView& view, ParticleKind kind) {
  const auto within = [&view](double value) { return value >= 0 && value <= view.spec.side_um; };
  return static_cast<std::size_t>(std::ranges::count_if(view.particles, [&](const Particle& each) {
    return each.kind == kind && within(each.centre.x_um) && within(each.centre.y_um);
  }));
}

/// A dense chamber, with eggs on all lines and outside.
ChamberView crowded() {
  const FaecesSample sample{"A", {Epg(20'000), Epg(20'000), Epg(20'000)}};
  return chamber_view(ChamberSpec{}, sample, 7, 1);
}

} // namespace

TEST_CASE("A picture of all lanes shows each particle once, and nothing of the key", "[chamber]") {
  const ChamberView view = crowded();
  const pugi::xml_document picture = parsed(chamber_figure(view, {1, view.spec.lanes}));
  for (const ParticleKind kind : particle_kinds) {
    INFO(to_string(kind));
    CHECK(of_kind(view, kind) > 0);
    CHECK(drawn(picture, kind_class(kind)) <= of_kind(view, kind)); // some lie out of sight
    CHECK(drawn(picture, kind_class(kind)) >= in_square(view, kind));
  }
  CHECK(drawn(picture, "counted") == 0);
  CHECK(drawn(picture, "left-out") == 0);
}

TEST_CASE("A picture of some lanes shows all that reaches into them", "[chamber]") {
  const ChamberView view = crowded();
  const double lane = view.spec.side_um / view.spec.lanes;
  const pugi::xml_document picture = parsed(chamber_figure(view, {3, 4}));
  const double left = 2 * lane - view.spec.margin_um;
  const double right = 4 * lane + view.spec.margin_um;
  std::size_t sure = 0;
  std::size_t possible = 0;
  for (const Particle& each : view.particles) {
    const double x = each.centre.x_um;
    sure += x > left && x < right ? 1 : 0;
    possible += x > left - 400 && x < right + 400 ? 1 : 0; // none is so long
  }
  std::size_t shown = 0;
  for (const ParticleKind kind : particle_kinds)
    shown += drawn(picture, kind_class(kind));
  CHECK(shown >= sure);
  CHECK(shown < possible);
}

TEST_CASE("The keys of all sheets ring every egg counted once, and cross those left out",
          "[chamber]") {
  const ChamberView view = crowded();
  REQUIRE(left_out(view) > 0);
  std::vector<pugi::xml_document> pictures;
  std::vector<pugi::xml_node> rings;
  std::size_t crossed = 0;
  for (const LaneRange& lanes : {LaneRange{1, 2}, LaneRange{3, 5}, LaneRange{6, 6}}) {
    const pugi::xml_document& picture = pictures.emplace_back(parsed(key_figure(view, lanes)));
    crossed += drawn(picture, "left-out");
    for (const auto& ring : picture.select_nodes(".//g[@class='counted']"))
      rings.push_back(ring.node());
  }
  CHECK(crossed == left_out(view));
  const std::vector<Particle> eggs = counted_eggs(view);
  REQUIRE(rings.size() == eggs.size());
  for (std::size_t i = 0; i < eggs.size(); ++i) {
    const pugi::xml_node ring = rings[i];
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
    for (const ChamberView& view : views_of(chamber_practical(seed)))
      descriptions.insert(
          parsed(chamber_figure(view, {1, 3})).child("svg").child("desc").text().get());
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

TEST_CASE("A picture is as wide on paper as its lanes and both margins, 60 to 1", "[chamber]") {
  ChamberSpec spec;
  spec.side_um = 4'000;
  spec.margin_um = 500;
  spec.lanes = 4;
  // Two lanes of 1 mm and half a millimetre on either side.
  CHECK_THAT(paper_width_mm(spec, {2, 3}), Catch::WithinRel(60 * 3.0, support::other_order));
  const ChamberView view = chamber_view(spec, {"A", {Epg(100), Epg(0), Epg(0)}}, 1, 1);
  const pugi::xml_document picture = parsed(chamber_figure(view, {2, 3}));
  // The strip above the picture is for the lanes' numbers.
  CHECK_THAT(picture.child("svg").attribute("viewBox").value(),
             Catch::StartsWith("500 -600 3000 "));
  CHECK_THAT(picture.child("svg").attribute("style").value(), Catch::StartsWith("width: 180mm;"));
  std::string words;
  for (const auto& label : picture.select_nodes("//text"))
    words += std::string(label.node().text().get()) + "; ";
  CHECK(words == "lane 2; lane 3; ");
}

TEST_CASE("The smallest kind of egg is 3 mm long on paper", "[chamber]") {
  CHECK(chamber_scale * size_of(ParticleKind::strongyloides_like).length_um / 1000 >= 3);
}

TEST_CASE("Sheets have all lanes once, from left to right, and fit on paper", "[chamber]") {
  const ChamberSpec spec = chamber_practical(1).spec;
  const std::vector<LaneRange> sheets = lane_pages(spec);
  REQUIRE(sheets.size() == 2);
  CHECK(lane_words(sheets[0]) == "lanes 1 to 3");
  CHECK(lane_words(sheets[1]) == "lanes 4 to 6");
  for (const LaneRange& lanes : sheets)
    CHECK(paper_width_mm(spec, lanes) <= 133); // 50 mm of Letter are left for what stands beside
  // Letter is 279.4 mm high, of which the page leaves 8 mm above and 12 mm below.
  const pugi::xml_document picture = parsed(
      chamber_figure(chamber_view(spec, {"A", {Epg(0), Epg(0), Epg(0)}}, 1, 1), sheets.front()));
  const std::string box = picture.child("svg").attribute("viewBox").value();
  CHECK(60 * std::stod(box.substr(box.rfind(' '))) / 1000 < 279.4 - 20);

  ChamberSpec five = spec;
  five.lanes = 5; // 48 mm of paper each: two and two, and one is left
  CHECK(lane_pages(five).size() == 3);
  CHECK(lane_words(lane_pages(five).back()) == "lane 5");
  ChamberSpec wide;
  wide.lanes = 1; // never less than a lane on a sheet
  REQUIRE(lane_pages(wide).size() == 1);
}

TEST_CASE("The map shows which lanes of the chamber a sheet has", "[chamber]") {
  const pugi::xml_document map = parsed(lane_map(chamber_practical(1).spec, {4, 6}));
  std::string bold;
  std::size_t labels = 0;
  for (const auto& label : map.select_nodes("//text")) {
    ++labels;
    if (std::string_view(label.node().attribute("font-weight").value()) == "bold")
      bold += label.node().text().get();
  }
  CHECK(labels == 6);
  CHECK(bold == "456");
  CHECK(map.select_nodes("//path").size() == 3); // arrows, the way to count
}

TEST_CASE("The scale bar is as long as it says, at the scale of the pictures", "[chamber]") {
  const pugi::xml_document bar = parsed(scale_bar());
  const pugi::xml_node line = bar.select_node("//line").node();
  CHECK_THAT(line.attribute("x2").as_double() - line.attribute("x1").as_double(),
             Catch::WithinAbs(500, support::many_steps)); // micrometres
  const std::string box = bar.child("svg").attribute("viewBox").value();
  CHECK(box.starts_with("0 0 780 "));
  // 780 micrometres, 60 to 1.
  CHECK_THAT(bar.child("svg").attribute("style").value(), Catch::StartsWith("width: 46.8mm;"));
  CHECK_THAT(scale_bar(),
             Catch::Contains("0.5 mm in the chamber") && Catch::Contains("30 mm on this paper"));
}
