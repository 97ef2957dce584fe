#include "formats/ods_rows.hpp"

#include "formats/spreadsheet.hpp"
#include "formats/table.hpp"
#include "support/made_ods.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string>

using namespace eggfall;

namespace {

/// "2 a|b", a line a row, and behind it "!column found" of each cell without a value.
std::string rows_of_ods(const std::string& rows) {
  const std::string bytes = ods_of(rows);
  std::string shown;
  Spreadsheet(bytes, "t.ods").read_sheet({"t.ods", "Counts"}, [&](TableRow& row) {
    shown += fmt::format("{} {}", row.line, fmt::join(row.cells, "|"));
    for (const UnreadableCell& cell : row.unreadable)
      shown += fmt::format(" !{} {}", cell.column, cell.found);
    shown += '\n';
  });
  return shown;
}

std::string row_of_ods(const std::string& cells) {
  return rows_of_ods("<table:table-row>" + cells + "</table:table-row>");
}

/// A cell with these attributes, that shows this text.
std::string showing(const std::string& attributes, const std::string& text) {
  return "<table:table-cell " + attributes + "><text:p>" + text + "</text:p></table:table-cell>";
}

std::string refused_ods_row(const std::string& cells) {
  return support::input_error([&] { row_of_ods(cells); });
}

} // namespace

TEST_CASE("Cells of an .ods sheet are their values, not what they show") {
  CHECK(row_of_ods(
            showing("office:value-type=\"float\" office:value=\"12\"", "12.00") +
            showing("office:value-type=\"float\" office:value=\"0.30000000000000004\"", "0.3") +
            showing("office:value-type=\"percentage\" office:value=\"0.955\"", "96%") +
            showing("office:value-type=\"currency\" office:currency=\"EUR\" "
                    "office:value=\"2.5\"",
                    "2,50 EUR") +
            showing("office:value-type=\"float\" office:value=\"982000123456789\"", "9.82E14")) ==
        "1 12|0.3|0.955|2.5|982000123456789\n");
  CHECK(row_of_ods(
            showing("office:value-type=\"date\" office:date-value=\"2031-03-03\"", "3 Mar") +
            showing("office:value-type=\"date\" office:date-value=\"2031-03-03T14:30:00\"",
                    "03/03/31") +
            showing("office:value-type=\"time\" office:time-value=\"PT07H05M00S\"", "7:05 AM") +
            showing("office:value-type=\"time\" office:time-value=\"PT30H5M0.5S\"", "30:05") +
            showing("office:value-type=\"boolean\" office:boolean-value=\"true\"", "WAHR") +
            showing("office:value-type=\"boolean\" office:boolean-value=\"false\"", "FALSCH")) ==
        "1 2031-03-03|2031-03-03|07:05:00|PT30H5M0.5S|TRUE|FALSE\n");
}

TEST_CASE("A formula of an .ods sheet is its stored value, and one without is told") {
  CHECK(row_of_ods(showing("table:formula=\"of:=[.A1]+1\" office:value-type=\"float\" "
                           "office:value=\"13\"",
                           "13") +
                   showing("table:formula=\"of:=&quot;&quot;\" office:value-type=\"string\" "
                           "office:string-value=\"\"",
                           "") +
                   "<table:table-cell table:formula=\"of:=[.A1]+1\"/>"
                   "<table:table-cell table:formula=\"of:=1\" office:value-type=\"float\"/>") ==
        "1 13||formula|formula !2 a formula without a result !3 a formula without a result\n");
  CHECK(row_of_ods(showing("office:value-type=\"float\"", "7")) ==
        "1 7 !0 a \"float\" without its value\n");
}

TEST_CASE("An error of an .ods sheet is never taken for a value") {
  // The first as newer, the second and third as older programs write it: a 0 that is no count.
  CHECK(row_of_ods(showing("table:formula=\"of:=NA()\" office:value-type=\"string\" "
                           "office:string-value=\"\" calcext:value-type=\"error\"",
                           "#NV") +
                   showing("table:formula=\"of:=1/0\" office:value-type=\"float\" "
                           "office:value=\"0\"",
                           "#DIV/0!") +
                   showing("table:formula=\"of:=foo\" office:value-type=\"float\" "
                           "office:value=\"0\"",
                           "Fehler:502") +
                   showing("office:value-type=\"float\" office:value=\"0\"", "Err:502") +
                   showing("office:value-type=\"string\"", "#N/A")) ==
        "1 #NV|#DIV/0!|Fehler:502|Err:502|#N/A !0 the error #NV !1 the error #DIV/0! !2 the error "
        "Fehler:502 !3 the error Err:502 !4 the error #N/A\n");
  // A number may be shown behind a sign or a word.
  CHECK(row_of_ods(showing("office:value-type=\"float\" office:value=\"7\"", "#7") +
                   showing("table:formula=\"of:=500+2\" office:value-type=\"float\" "
                           "office:value=\"502\"",
                           "Lot:502") +
                   showing("office:value-type=\"string\"", "Err: lost in the post")) ==
        "1 7|502|Err: lost in the post\n");
}

TEST_CASE("Texts of an .ods sheet are whole, and without what stands beside them") {
  CHECK(
      row_of_ods(ods_text("Wei<text:span>ss</text:span> <text:span>clover</text:span>") +
                 ods_text("a<text:s text:c=\"3\"/>b<text:tab/>c<text:line-break/>d") +
                 ods_text("\n  <text:a>far\n  away</text:a>\n") +
                 "<table:table-cell office:value-type=\"string\"><text:p>two</text:p><text:p>lines"
                 "</text:p></table:table-cell>" +
                 ods_text("<text:ruby><text:ruby-base>read</text:ruby-base><text:ruby-text>aloud"
                          "</text:ruby-text></text:ruby>")) ==
      "1 Weiss clover|a b c d|far away|two lines|read\n");
  CHECK(row_of_ods("<table:table-cell><office:annotation><text:p>ask the vet</text:p>"
                   "</office:annotation></table:table-cell>"
                   "<table:table-cell office:value-type=\"string\"><office:annotation><text:p>no"
                   "</text:p></office:annotation><text:p>limping<office:annotation><text:p>no"
                   "</text:p></office:annotation></text:p></table:table-cell>") == "1 |limping\n");
  // A writer may keep the value apart from what is shown.
  CHECK(row_of_ods(showing("office:value-type=\"string\" office:string-value=\"0402\"", "402")) ==
        "1 0402\n");
}

TEST_CASE("Rows and cells of an .ods sheet that stand for many are put as many times") {
  CHECK(rows_of_ods(
            "<table:table-row table:number-rows-repeated=\"2\"/>"
            "<table:table-row><table:table-cell table:number-columns-repeated=\"2\"/>" +
            ods_text("a") + "<table:covered-table-cell table:number-columns-repeated=\"2\"/>" +
            ods_text("b") +
            "<table:table-cell table:number-columns-repeated=\"16378\"/></table:table-row>"
            "<table:table-row table:number-rows-repeated=\"2\"><table:table-cell "
            "table:number-columns-repeated=\"3\" office:value-type=\"float\" office:value=\"1\"/>"
            "</table:table-row>"
            "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell "
            "table:number-columns-repeated=\"16384\"/></table:table-row>"
            "<table:table-row>" +
            ods_text("last") + "</table:table-row>") ==
        "3 ||a|||b\n4 1|1|1\n5 1|1|1\n1048006 last\n");
  CHECK(
      row_of_ods("<table:table-cell office:value-type=\"string\" calcext:value-type=\"error\" "
                 "table:number-columns-repeated=\"2\"><text:p>#N/A</text:p></table:table-cell>") ==
      "1 #N/A|#N/A !0 the error #N/A !1 the error #N/A\n");
}

TEST_CASE("Rows of an .ods sheet are found in their groups, hidden ones too") {
  CHECK(rows_of_ods("<table:table-column-group><table:table-header-columns><table:table-column/>"
                    "</table:table-header-columns></table:table-column-group>"
                    "<table:table-header-rows><table:table-row>" +
                    ods_text("ear") +
                    "</table:table-row></table:table-header-rows><table:table-row-group>"
                    "<table:table-row-group><table:table-row table:visibility=\"filter\">" +
                    ods_text("401") +
                    "</table:table-row></table:table-row-group><table:table-rows>"
                    "<table:table-row table:visibility=\"collapse\">" +
                    ods_text("402") +
                    "</table:table-row></table:table-rows>"
                    "</table:table-row-group><table:table-row>" +
                    ods_text("403") + "</table:table-row>") == "1 ear\n2 401\n3 402\n4 403\n");
}

TEST_CASE("Cells of an .ods sheet that cannot be are refused by their reference") {
  const std::string place = "t.ods, sheet \"Counts\", ";
  CHECK(refused_ods_row(ods_text("a") + ods_text(std::string(1'001, 'x'))) ==
        place + "B1: found a cell of more than 1000 bytes; expected a shorter one");
  CHECK(refused_ods_row("<table:table-cell office:value-type=\"float\" office:value=\"1\" "
                        "table:number-columns-repeated=\"1001\"/>") ==
        place + "A1: found a cell repeated 1001 times; expected at most 1000 columns");
  CHECK(refused_ods_row("<table:table-cell table:number-columns-repeated=\"999999999999999999\"/>" +
                        ods_text("far")) ==
        place + "XFE1: found a column 16385; expected columns from 1 to 16384");
  CHECK(support::input_error([&] {
          rows_of_ods("<table:table-row table:number-rows-repeated=\"999999999999999999\"/>"
                      "<table:table-row>" +
                      ods_text("low") + "</table:table-row>");
        }) == place + "row 1048577: found a row 1048577; expected rows from 1 to 1048576");
  CHECK_THAT(support::input_error([&] {
               rows_of_ods("<table:table-row table:number-rows-repeated=\"1000000\">" +
                           ods_text(std::string(900, 'x')) + "</table:table-row>");
             }),
             Catch::Contains("found more than 64 MiB of text in the cells so far; expected a "
                             "smaller sheet"));
}

TEST_CASE("Elements of an .ods sheet nested without end are read without falling") {
  std::string deep;
  for (int i = 0; i < 200'000; ++i)
    deep += "<text:span>";
  deep += "x";
  for (int i = 0; i < 200'000; ++i)
    deep += "</text:span>";
  CHECK(row_of_ods(ods_text(deep)) == "1 x\n");
}
