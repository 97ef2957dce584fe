#include "formats/table_builder.hpp"

#include "base/problems.hpp"
#include "support/support.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

using Cells = std::vector<std::string>;

/// The cells of the rows that a builder hands over.
std::vector<Cells> taken(TableBuilder& builder, const std::vector<Cells>& rows) {
  std::vector<Cells> all;
  std::size_t line = 0;
  for (const Cells& cells : rows) {
    TableRow row{++line, cells, {}};
    builder.add(row, [&](TableRow&& each) { all.push_back(std::move(each.cells)); });
    CHECK(row.cells.empty());
  }
  return all;
}

/// The message of the problems with these rows of a source.
std::string refused(const Source& source, std::string_view row_is, const std::vector<Cells>& rows) {
  return support::input_error([&] {
    Problems problems;
    TableBuilder builder(source, row_is, problems);
    taken(builder, rows);
    builder.finish();
    problems.throw_if_any();
  });
}

const Source text("t.csv");
const Source sheet("t.xlsx", "Counts");

} // namespace

TEST_CASE("The first row that is not blank is the header, and gives the others their width") {
  Problems problems;
  TableBuilder builder(text, "animal", problems);
  const std::vector<Cells> rows = taken(
      builder, {{"", ""}, {"a", "b", "", ""}, {"1", "2", "", "", ""}, {"", "", ""}, {"", "4"}});
  builder.finish();
  CHECK(builder.header().line == 2);
  CHECK(builder.header().cells == Cells{"a", "b"});
  CHECK(rows == std::vector<Cells>{{"1", "2"}, {"", "4"}});
  CHECK_FALSE(problems.any());
}

TEST_CASE("A row of another width is a problem, and not handed over") {
  Problems problems;
  TableBuilder builder(text, "animal", problems);
  const std::vector<Cells> rows =
      taken(builder, {{"a", "b", "c"}, {"1", "2"}, {"1", "2", "3"}, {"1", "2", "3", "4"}});
  builder.finish();
  CHECK(rows == std::vector<Cells>{{"1", "2", "3"}});
  CHECK(support::input_error([&] { problems.throw_if_any(); }) ==
        "t.csv:2: found 2 cells; expected 3, as in the header\n"
        "t.csv:4: found 4 cells; expected 3, as in the header (a decimal comma needs semicolons "
        "between cells, or quotes)");
}

TEST_CASE("A sheet stores no empty cells, so that a short row is none too short") {
  Problems problems;
  TableBuilder builder(sheet, "animal", problems);
  CHECK(taken(builder, {{"a", "b", "c"}, {"1"}}) == std::vector<Cells>{{"1", "", ""}});
  CHECK_FALSE(problems.any());
  // Each cell beyond the header is told by its own place.
  CHECK(refused(sheet, "animal", {{"a", "b"}, {"1", "2", "x", "", "y"}}) ==
        "t.xlsx, sheet \"Counts\", C2: found \"x\"; expected an empty cell, as no column has its "
        "name above it\n"
        "t.xlsx, sheet \"Counts\", E2: found \"y\"; expected an empty cell, as no column has its "
        "name above it");
}

TEST_CASE("A table without rows is refused, in the words of what a row is") {
  CHECK(refused(text, "animal", {{"a", "b"}}) ==
        "t.csv: found only a header line; expected one line an animal below it");
  CHECK(refused(sheet, "group", {{"a", "b"}}) ==
        "t.xlsx, sheet \"Counts\": found only a header row; expected one row a group below it");
  CHECK(refused(sheet, "group", {}) ==
        "t.xlsx, sheet \"Counts\": found nothing; expected a header row and one row a group");
}

TEST_CASE("A header has two names at least, and a thousand at most") {
  CHECK(refused(text, "animal", {{"Our trial"}, {"x"}}) ==
        "t.csv:1: found a header with one column, \"Our trial\"; expected the names of the "
        "columns, separated by commas, semicolons or tabs, in the first line");
  CHECK(refused(sheet, "animal", {{"", "Our trial"}, {"x"}}) ==
        "t.xlsx, sheet \"Counts\", row 1: found a single name, \"Our trial\"; expected the names "
        "of the columns, each in a cell of its own, in the first row that is not empty");

  Cells widest(1'000, "x");
  Problems problems;
  TableBuilder builder(text, "animal", problems);
  CHECK(taken(builder, {widest, widest}).size() == 1);
  widest.emplace_back("x");
  CHECK(refused(text, "animal", {widest, widest}) ==
        "t.csv:1: found 1001 columns; expected at most 1000");
}
