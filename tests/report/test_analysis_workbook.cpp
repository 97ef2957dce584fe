#include "report/analysis_workbook.hpp"

#include "eggfall/base/version.hpp"
#include "eggfall/judgement/analyse.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

using namespace eggfall;

namespace {

using Row = std::vector<ResultCell>;
using Columns = std::vector<std::string>;

constexpr std::monostate nothing;

AnalysisSettings quick() {
  AnalysisSettings settings;
  settings.simulations = 0;
  return settings;
}

/// Two treated groups, of which one has cultures and an animal that went missing, and a control.
TrialAnalysis trial() {
  Group first = support::group("T", {40, 55, 12, 80, 31}, {1, 1, 0, 2, 0}, 15, 15);
  first.drench = "White";
  first.classes = {DrugClass::bz, DrugClass::lv};
  first.animals[4].after.reset();
  first.culture_before = {{"haemonchus", 60}, {"teladorsagia", 40}};
  first.culture_after = {{"haemonchus", 90}, {"teladorsagia", 10}};
  const Group second = support::group("U", {0, 0}, {1, 0}, 15, 15);
  Group control = support::group("C", {30, 20}, {25, 40}, 15, 15);
  control.role = Role::control;
  return analyse({"t", {first, second, control}}, published_cut_offs(), quick());
}

const ResultSheet& sheet(const std::vector<ResultSheet>& sheets, const std::string& name) {
  return *std::ranges::find(sheets, name, &ResultSheet::name);
}

ResultCell cell(const ResultSheet& sheet, std::size_t row, const std::string& column) {
  const auto found = std::ranges::find(sheet.columns, column);
  REQUIRE(found != sheet.columns.end());
  return sheet.rows.at(row).at(static_cast<std::size_t>(found - sheet.columns.begin()));
}

ResultCell text(const char* value) {
  return std::string(value);
}

ResultCell whole(std::uint64_t value) {
  return value;
}

} // namespace

TEST_CASE("A proportion is shown in percent without the noise of the multiplication") {
  CHECK(InPercent{0.07}.percent() == 7);
  CHECK(InPercent{0.57}.percent() == 57); // 100 x 0.57 is 56.99999999999999
  CHECK(InPercent{-0.25}.percent() == -25);
}

TEST_CASE("The workbook has six sheets with the columns of docs/data-format.md, all rows as wide") {
  const auto sheets = analysis_sheets({trial()}, quick());
  Columns names;
  for (const ResultSheet& each : sheets) {
    names.push_back(each.name);
    CAPTURE(each.name);
    CHECK_FALSE(each.rows.empty());
    for (const Row& row : each.rows)
      CHECK(row.size() == each.columns.size());
  }
  CHECK(names == Columns{"Groups", "Intervals", "Verdicts", "Animals", "Caveats", "Settings"});
  CHECK(sheet(sheets, "Groups").columns == Columns{"trial",
                                                   "group",
                                                   "drench",
                                                   "class",
                                                   "host",
                                                   "worm",
                                                   "design",
                                                   "animals",
                                                   "eggs_before",
                                                   "eggs_after",
                                                   "mean_epg_before",
                                                   "mean_epg_after",
                                                   "reduction_percent",
                                                   "method",
                                                   "level",
                                                   "lower_percent",
                                                   "upper_percent",
                                                   "criteria",
                                                   "verdict",
                                                   "reason",
                                                   "next_step",
                                                   "standing",
                                                   "bars"});
  CHECK(sheet(sheets, "Verdicts").columns ==
        Columns{"trial", "group", "worm", "criteria", "class", "design", "reduction_percent",
                "expected_percent", "lower_percent", "method", "level", "interval_lower_percent",
                "interval_upper_percent", "reason", "source", "provenance"});
  CHECK(sheet(sheets, "Animals").columns ==
        Columns{"trial", "group", "role", "animal", "eggs_before", "eggs_after", "epg_before",
                "epg_after", "reduction_percent", "dose_of_label_percent", "mg_per_kg",
                "days_after", "left_out"});
  CHECK(sheet(sheets, "Caveats").columns ==
        Columns{"trial", "group", "worm", "severity", "code", "text"});
  CHECK(sheet(sheets, "Settings").columns == Columns{"setting", "value"});
  CHECK(sheet(sheets, "Intervals").columns == intervals_sheet({trial()}).columns);
}

TEST_CASE("A group's row holds what was counted, and nothing where nothing could be compared") {
  const auto sheets = analysis_sheets({trial()}, quick());
  const ResultSheet& groups = sheet(sheets, "Groups");
  REQUIRE(groups.rows.size() == 2);
  CHECK(cell(groups, 0, "drench") == text("White"));
  CHECK(cell(groups, 0, "class") == text("BZ+LV"));
  CHECK(cell(groups, 0, "worm") == ResultCell(nothing));
  CHECK(cell(groups, 0, "design") == text("paired"));
  CHECK(cell(groups, 0, "animals") == whole(4));
  CHECK(cell(groups, 0, "eggs_before") == whole(187)); // 40 + 55 + 12 + 80
  CHECK(cell(groups, 0, "eggs_after") == whole(4));
  CHECK(cell(groups, 0, "mean_epg_after") == ResultCell(15.0));
  const auto fall = std::get<InPercent>(cell(groups, 0, "reduction_percent"));
  CHECK_THAT(fall.percent(), support::close_to(100 * (1 - 4.0 / 187)));
  CHECK(cell(groups, 1, "reduction_percent") == ResultCell(nothing));
  CHECK(cell(groups, 1, "lower_percent") == ResultCell(nothing));
}

TEST_CASE("Intervals of a group are followed by those of its worms") {
  const TrialAnalysis analysed = trial();
  const ResultSheet intervals = intervals_sheet({analysed});
  std::size_t rows = 0;
  for (const GroupAnalysis& group : analysed.groups) {
    rows += std::max<std::size_t>(1, group.evidence.intervals.size());
    for (const WormAnalysis& worm : group.judgement.worms)
      rows += std::max<std::size_t>(1, worm.evidence.intervals.size());
  }
  CHECK(intervals.rows.size() == rows);
  std::vector<std::string> worms;
  for (std::size_t i = 0; i < intervals.rows.size(); ++i)
    if (const ResultCell worm = cell(intervals, i, "worm"); worm != ResultCell(nothing))
      if (worms.empty() || worms.back() != std::get<std::string>(worm))
        worms.push_back(std::get<std::string>(worm));
  CHECK(worms == std::vector<std::string>{"haemonchus", "teladorsagia"});
  CHECK(cell(intervals, 0, "usable") == ResultCell(true));
}

TEST_CASE("Animals of the control stand last, and who was left out is told why") {
  const auto sheets = analysis_sheets({trial()}, quick());
  const ResultSheet& animals = sheet(sheets, "Animals");
  REQUIRE(animals.rows.size() == 5 + 2 + 2);
  CHECK(cell(animals, 0, "role") == text("treated"));
  CHECK(cell(animals, 0, "eggs_before") == whole(40));
  CHECK(cell(animals, 0, "epg_before") == ResultCell(600.0));
  CHECK(cell(animals, 0, "left_out") == ResultCell(nothing));
  CHECK(cell(animals, 4, "eggs_after") == ResultCell(nothing));
  CHECK(cell(animals, 4, "left_out") == text("not sampled after treatment"));
  CHECK(cell(animals, 7, "group") == text("C"));
  CHECK(cell(animals, 8, "role") == text("control"));
  CHECK(cell(animals, 8, "eggs_after") == whole(40));
}

TEST_CASE("The settings of the workbook are those given, with the version that made it") {
  AnalysisSettings settings;
  settings.seed = 5;
  settings.design = Design::controlled;
  const auto sheets = analysis_sheets({}, settings);
  const auto& rows = sheet(sheets, "Settings").rows;
  const auto has_row = [&](const Row& row) { return std::ranges::count(rows, row) == 1; };
  CHECK(has_row({text("version"), std::string(version())}));
  CHECK(has_row({text("seed"), whole(5)}));
  CHECK(has_row({text("level"), 0.9}));
  CHECK(has_row({text("design"), text("controlled")}));
  CHECK(has_row({text("criteria"), nothing}));
  CHECK(has_row({text("units_confirmed"), text("no")}));
  CHECK(sheet(sheets, "Groups").rows.empty());
}
