#include "formats/spreadsheet.hpp"

#include "formats/table.hpp"
#include "support/made_ods.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string>
#include <vector>

using namespace eggfall;

namespace {

const std::string xlsx_rows = "<row><c t=\"str\"><v>a</v></c><c t=\"str\"><v>b</v></c></row>"
                              "<row r=\"3\"><c><v>12.50</v></c><c t=\"b\"><v>1</v></c></row>";

std::string ods_rows_alike() {
  return "<table:table-row>" + ods_text("a") + ods_text("b") +
         "</table:table-row><table:table-row/><table:table-row>" + ods_number("12.50") +
         "<table:table-cell office:value-type=\"boolean\" office:boolean-value=\"true\"/>"
         "</table:table-row>";
}

std::string rows_of_sheet(const std::string& bytes) {
  std::string shown;
  Spreadsheet(bytes, "t").read_sheet({"t", "Counts"}, [&](TableRow& row) {
    shown += fmt::format("{} {}\n", row.line, fmt::join(row.cells, "|"));
  });
  return shown;
}

} // namespace

TEST_CASE("Workbooks of either kind with the same cells are read alike") {
  CHECK(rows_of_sheet(workbook_of(xlsx_rows)) == "1 a|b\n3 12.5|TRUE\n");
  CHECK(rows_of_sheet(ods_of(ods_rows_alike())) == "1 a|b\n3 12.5|TRUE\n");
  const Table table = read_table(ods_of(ods_rows_alike()), "t.ods", "animal");
  CHECK(table.source == Source("t.ods", "Counts"));
  CHECK(table.header.cells == std::vector<std::string>{"a", "b"});
  REQUIRE(table.rows.size() == 1);
  CHECK(table.rows[0].line == 3);
}

TEST_CASE("Sheets of either kind are found by their names, in whatever case") {
  const std::string bytes = zip_of(parts_of_ods(
      "<table:table table:name=\"Counts\"/><table:table table:name=\"Larvae of May\"/>"));
  const Spreadsheet workbook(bytes, "t.ods");
  CHECK(workbook.sheet_names() == std::vector<std::string>{"Counts", "Larvae of May"});
  CHECK(workbook.sheet_name("") == "Counts");
  CHECK(workbook.sheet_name("larvae OF may") == "Larvae of May");
  CHECK(support::input_error([&] { workbook.sheet_name("Mob"); }) ==
        "t.ods: found no sheet \"Mob\"; expected one of its sheets \"Counts\", \"Larvae of May\"");
  const std::string xlsx = workbook_of(xlsx_rows);
  CHECK(Spreadsheet(xlsx, "t.xlsx").sheet_name("counts") == "Counts");
}

TEST_CASE("A workbook is known by its first bytes, and the old kind is told what to do") {
  CHECK(is_spreadsheet("PK\x03\x04", "t"));
  CHECK(is_spreadsheet("PK\x05\x06", {"t", "Counts"}));
  CHECK_FALSE(is_spreadsheet("ear,", "t"));
  CHECK_FALSE(is_spreadsheet("", "t"));
  CHECK(support::input_error([] {
          is_spreadsheet("ear,", {"t.csv", "Counts"});
        }) == "t.csv: found a text table; expected a workbook with a sheet \"Counts\"");
  CHECK(support::input_error([] { is_spreadsheet("\xD0\xCF\x11\xE0", "t.xls"); }) ==
        "t.xls: found a spreadsheet workbook of the old kind (.xls), or one with a password; "
        "expected an .xlsx or .ods workbook without a password, or a text table; open it in a "
        "spreadsheet and save it as .xlsx, .ods or \"CSV UTF-8\" (without the password, if it has "
        "one)");
}
