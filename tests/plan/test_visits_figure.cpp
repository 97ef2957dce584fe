#include "plan/visits_figure.hpp"

#include "base/date.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;

namespace {

FieldSheets line_ups_on_paper(std::vector<DrugClass> first, std::vector<DrugClass> second) {
  FieldSheetQuestion question;
  question.host = "sheep";
  question.groups.resize(3);
  question.groups[0].name = "white";
  question.groups[0].classes = std::move(first);
  question.groups[1].name = "clear";
  question.groups[1].classes = std::move(second);
  question.groups[2].name = "keepers";
  question.groups[2].role = Role::control;
  question.unlisted = 10;
  question.day0 = parse_date("2031-05-12");
  return field_sheets(question, published_cut_offs());
}

pugi::xml_document drawing_of(const CaptionedFigure& figure) {
  pugi::xml_document document;
  REQUIRE(document.load_string(figure.svg.c_str()));
  return document;
}

std::vector<std::string> texts_of(const pugi::xml_document& drawing) {
  std::vector<std::string> texts;
  for (const auto& text : drawing.select_nodes("//text"))
    texts.emplace_back(text.node().text().get());
  return texts;
}

/// Where the line of days has the label of this day.
double tick_at(const pugi::xml_document& drawing, int day) {
  for (const auto& text : drawing.select_nodes("//text"))
    if (text.node().text().get() == std::to_string(day))
      return text.node().attribute("x").as_double();
  FAIL("no tick at day " << day);
  return 0;
}

} // namespace

// The windows are those of src/data/cut_offs.toml, from memory: BZ 8 to 10 days, ML 14 to 17.
TEST_CASE("The visits are told with dates, and so are each group's own days") {
  const CaptionedFigure figure = visits_figure(line_ups_on_paper({DrugClass::bz}, {DrugClass::ml}));
  // 12 May 2031 is a Monday (ISO week date).
  CHECK(figure.finding ==
        "All are sampled twice: on day 0, Mon 12 May 2031, and again on day 14, Mon 26 May; white "
        "and the control once more, if you can, on days 8 to 10, Tue 20 to Thu 22 May.");
  CHECK(visits_figure(line_ups_on_paper({DrugClass::ml}, {DrugClass::ml})).finding ==
        "All are sampled twice: on day 0, Mon 12 May 2031, and again on days 14 to 17, Mon 26 to "
        "Thu 29 May.");
  const pugi::xml_document drawing = drawing_of(figure);
  const std::vector<std::string> texts = texts_of(drawing);
  for (const char* text : {"Day 0", "Day 14", "Mon 12 May", "Mon 26 May", "sample all, then drench",
                           "sample all again", "white: BZ", "days 8 to 10: Tue 20 to Thu 22 May",
                           "clear: ML", "days 14 to 17: Mon 26 to Thu 29 May",
                           "keepers: untreated control", "sampled, NO DRENCH"}) {
    INFO(text);
    CHECK(std::ranges::find(texts, text) != texts.end());
  }
  CHECK_THAT(drawing.child("svg").child_value("desc"),
             Catch::Contains("keepers: untreated control, sampled, NO DRENCH.") &&
                 Catch::Contains("Day 14: Mon 26 May: all are sampled again.") &&
                 Catch::Contains("Usual for white: BZ: days 8 to 10: Tue 20 to Thu 22 May, not "
                                 "when all are sampled."));
}

TEST_CASE("A bar stands over its days, striped where the common day misses them") {
  const CaptionedFigure figure = visits_figure(line_ups_on_paper({DrugClass::bz}, {DrugClass::ml}));
  const pugi::xml_document drawing = drawing_of(figure);
  // White's days, and the control's with white.
  CHECK(drawing.select_nodes("//line[@class='striped']").size() == 2);
  CHECK_THAT(figure.key, Catch::Contains("striped where"));
  const auto bars = drawing.select_nodes("//rect[@stroke]");
  REQUIRE(bars.size() == 4); // BZ, ML, and the control with BZ and with all
  const double day = (tick_at(drawing, 14) - tick_at(drawing, 0)) / 14;
  const auto check_days = [&](std::size_t i, int first, int last) {
    const pugi::xml_node bar = bars[i].node();
    const double left = bar.attribute("x").as_double();
    const double right = left + bar.attribute("width").as_double();
    CHECK(std::abs(left - (tick_at(drawing, 0) + first * day)) < day / 2);
    CHECK(std::abs(right - (tick_at(drawing, 0) + last * day)) < day / 2);
  };
  check_days(0, 8, 10);
  check_days(1, 14, 17);
  check_days(2, 8, 10);
  check_days(3, 14, 14);
  // Days in common: nothing is striped, and the key does not speak of it.
  const CaptionedFigure alike = visits_figure(line_ups_on_paper({DrugClass::ml}, {DrugClass::ml}));
  CHECK(drawing_of(alike).select_nodes("//line[@class='striped']").empty());
  CHECK_THAT(alike.key, !Catch::Contains("striped"));
}

TEST_CASE("Who is drenched on day 0 has a solid dot and who is not a ring") {
  const pugi::xml_document drawing =
      drawing_of(visits_figure(line_ups_on_paper({DrugClass::bz}, {DrugClass::ml})));
  std::vector<bool> solid;
  for (const auto& dot : drawing.select_nodes("//circle"))
    solid.push_back(std::string_view(dot.node().attribute("fill").value()) ==
                    std::string_view(dot.node().attribute("stroke").value()));
  CHECK(solid == std::vector<bool>{true, true, false});
}

TEST_CASE("Nothing of the figure is too small to read or beyond its paper") {
  for (const bool dated : {true, false}) {
    FieldSheets sheets = line_ups_on_paper({DrugClass::bz, DrugClass::lv}, {});
    sheets.question.groups[0].name = "a very long name of a group that goes on and on";
    if (!dated)
      sheets.question.day0.reset();
    const pugi::xml_document drawing = drawing_of(visits_figure(sheets));
    for (const auto& each : drawing.select_nodes("//text")) {
      const pugi::xml_node text = each.node();
      INFO(text.text().get());
      const double size = text.attribute("font-size").as_double();
      CHECK(size >= small_size);
      const std::string_view anchor = text.attribute("text-anchor").value();
      const double units = text_units(text.text().get(), size);
      const double x = text.attribute("x").as_double();
      const double left = anchor == "end" ? x - units : anchor == "middle" ? x - units / 2 : x;
      CHECK(left >= 0);
      CHECK(left + units <= NarrowFigure::full_width);
    }
  }
}
