#include "trial/header_cells.hpp"

#include "base/problems.hpp"
#include "support/support.hpp"

#include <chrono>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

/// A header line with what it reads from and tells to.
struct Header {
  TableRow row;
  Source source;
  Problems problems;
  HeaderCells cells;

  explicit Header(std::vector<std::string> names, Source place = "t.csv")
      : row{1, std::move(names), {}}, source(std::move(place)), cells(row, source, problems) {}

  std::string told() {
    return support::input_error([this] { problems.throw_if_any(); });
  }
};

bool any(std::string_view /*rest*/) {
  return true;
}

} // namespace

TEST_CASE("Eggs per gram have a decimal point or comma, but no mark for thousands") {
  CHECK(parse_epg("1250") == 1250.0);
  CHECK(parse_epg("0") == 0.0);
  CHECK(parse_epg("12.5") == 12.5);
  CHECK(parse_epg("12,5") == 12.5);
  // No thousands begin with a 0.
  CHECK(parse_epg("0.250") == 0.25);
  for (const char* none : {"1.250", "1,250", "12.500", "-50", "", "many", "1e999"})
    CHECK_FALSE(parse_epg(none));
}

TEST_CASE("A column is known by its words, however they are joined") {
  Header header({"EGGS-BEFORE", " eggs after ", "Eggs_Of", "group"});
  CHECK(header.cells.column("eggs_before").index == 0U);
  CHECK(header.cells.column("eggs_after").index == 1U);
  CHECK(header.cells.needed("group").index == 3U);
  const Column none = header.cells.column("role");
  CHECK_FALSE(none);
  CHECK(none.name == "role");
  CHECK(header.cells.note() == "t.csv: not used: column \"Eggs_Of\"");
  CHECK_FALSE(header.problems.any());
}

TEST_CASE("A header that is used up leaves nothing to note") {
  Header header({"group"});
  header.cells.column("group");
  CHECK_FALSE(header.cells.note());
}

TEST_CASE("A column that is there twice, or not at all, is told") {
  Header header({"group", "animals", "group"}, {"t.xlsx", "Counts"});
  CHECK(header.cells.needed("group").index == 0U);
  CHECK_FALSE(header.cells.needed("animal", "tag"));
  CHECK(header.told() ==
        "t.xlsx, sheet \"Counts\", C1 (group): found a second column of this name (the first is "
        "column A); expected one\n"
        "t.xlsx, sheet \"Counts\", row 1: found the columns \"group\", \"animals\", \"group\"; "
        "expected a column animal (or tag) (is \"animals\" meant?)");
}

TEST_CASE("Columns of one start are claimed with the rest of their names") {
  Header header({"Eggs before: Nematodirus battus", "eggs_before_2", "eggs_before", "eggs_before_x",
                 "EGGS_BEFORE: Trichuris :"});
  header.cells.column("eggs_before");
  const auto digits = [](std::string_view rest) { return rest == "2"; };
  const std::vector<NamesakeColumn> repeats = header.cells.columns_starting("eggs_before_", digits);
  REQUIRE(repeats.size() == 1);
  CHECK(repeats[0].rest == "2");
  CHECK(repeats[0].column.index == 1U);
  // What comes after a colon is a worm's name, which keeps its blank.
  const std::vector<NamesakeColumn> kinds = header.cells.columns_starting("eggs_before:", any);
  REQUIRE(kinds.size() == 2);
  CHECK(kinds[0].rest == "nematodirus battus");
  CHECK(kinds[0].column.name == "eggs_before:nematodirus battus");
  CHECK(kinds[1].rest == "trichuris"); // without the mark at its end
  CHECK(header.cells.columns_starting("eggs_before:", any).empty());
  CHECK(header.cells.note() == "t.csv: not used: column \"eggs_before_x\"");
}

TEST_CASE("Columns that are not used are noted by their names, or by their places") {
  Header text({"ear", "", "colour"});
  CHECK(text.cells.note() ==
        "t.csv: not used: columns \"ear\", \"number 2, without a header\", \"colour\"");
  Header sheet({"ear", ""}, {"t.xlsx", "Counts"});
  sheet.cells.column("ear");
  CHECK(sheet.cells.note() == "t.xlsx, sheet \"Counts\": not used: column \"B, without a header\"");
}

TEST_CASE("The numbers of a row are taken up to their limits") {
  Header header({"weight", "pool"});
  const Column weight = header.cells.column("weight");
  const Column pool = header.cells.column("pool");
  const Column absent = header.cells.column("dose");
  std::size_t line = 1;
  const auto weight_in = [&](const std::string& cell) {
    const TableRow row{++line, {cell, "1"}, {}};
    return header.cells.cells_of(row).number(weight, {0.5, 2'000}, "a weight in kg");
  };
  const auto pool_in = [&](const std::string& cell) {
    const TableRow row{++line, {"1", cell}, {}};
    return header.cells.cells_of(row).whole_number(pool, 1, 1'000, "a whole number of animals");
  };
  CHECK(weight_in("2000") == 2'000.0);
  CHECK(weight_in("31,5") == 31.5);
  CHECK_FALSE(weight_in(""));
  CHECK(pool_in("1") == 1U);
  CHECK(pool_in("1000") == 1'000U);
  CHECK_FALSE(pool_in(""));
  const TableRow row{++line, {"1", "1"}, {}};
  CHECK_FALSE(header.cells.cells_of(row).number(absent, {0, 10}, "a dose"));
  CHECK_FALSE(header.problems.any());

  line = 1;
  CHECK_FALSE(weight_in("0"));
  CHECK_FALSE(weight_in("2000.5"));
  CHECK_FALSE(pool_in("0"));
  CHECK_FALSE(pool_in("1001"));
  CHECK_FALSE(pool_in("4294967297")); // 2^32 + 1, which must not become 1
  const std::string of_pool = "; expected a whole number of animals from 1 to 1000";
  CHECK(header.told() == "t.csv:2: column 1 (weight): found \"0\"; expected a weight in kg from "
                         "0.5 to 2000\n"
                         "t.csv:3: column 1 (weight): found \"2000.5\"; expected a weight in kg "
                         "from 0.5 to 2000\n"
                         "t.csv:4: column 2 (pool): found \"0\"" +
                             of_pool + "; so too line 5 (\"1001\"), line 6 (\"4294967297\")");
}

TEST_CASE("Names and dates of a row are taken as they stand") {
  Header header({"animal", "date"});
  const Column animal = header.cells.column("animal");
  const Column date = header.cells.column("date");
  const TableRow first{2, {"0402", "2031-04-27"}, {}};
  const RowCells cells = header.cells.cells_of(first);
  CHECK(cells.line() == 2);
  CHECK(cells.name_of_line(7) == "line 7");
  CHECK(cells.needed(animal) == "0402");
  CHECK(cells.text({"role", {}}).empty());
  CHECK(cells.date(date) == std::chrono::year(2031) / std::chrono::April / std::chrono::day(27));
  CHECK_FALSE(header.problems.any());

  const TableRow second{3, {"", "27.4.2031"}, {}};
  CHECK(header.cells.cells_of(second).needed(animal).empty());
  CHECK_FALSE(header.cells.cells_of(second).date(date));
  const TableRow third{4, {"1", ""}, {}};
  CHECK_FALSE(header.cells.cells_of(third).date(date));
  CHECK(header.told() == "t.csv:3: column 1 (animal): found nothing; expected a name\n"
                         "t.csv:3: column 2 (date): found \"27.4.2031\"; expected a date written "
                         "YYYY-MM-DD, such as 2031-04-27");
}

TEST_CASE("An unreadable cell is told once, and only in a column that is used") {
  Header header({"weight", "ear"}, {"t.xlsx", "Counts"});
  const Column weight = header.cells.column("weight");
  const TableRow row{2,
                     {"#N/A", "#REF!"},
                     {{0, "the error #N/A", "a value, or an empty cell"},
                      {1, "the error #REF!", "a value, or an empty cell"}}};
  const RowCells cells = header.cells.cells_of(row);
  CHECK_FALSE(cells.number(weight, {0.5, 2'000}, "a weight in kg"));
  CHECK(header.told() == "t.xlsx, sheet \"Counts\", A2 (weight): found the error #N/A; expected a "
                         "value, or an empty cell");
}

TEST_CASE("What is wrong in every row alike is told of the first row") {
  Header header({"eggs"});
  const Column eggs = header.cells.column("eggs");
  for (std::size_t line = 2; line < 5; ++line) {
    const TableRow row{line, {"5"}, {}};
    header.cells.cells_of(row).problem_once("no factor", eggs, "a count alone", "a factor");
  }
  CHECK(header.told() == "t.csv:2: column 1 (eggs): found a count alone; expected a factor");
}
