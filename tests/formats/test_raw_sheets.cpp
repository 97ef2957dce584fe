#include "formats/raw_sheets.hpp"

#include "support/made_ods.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

using namespace std::string_literals;

/// "[sheet]" and "2 a|b", a line a row, of each sheet.
std::string raw_shown(const RawBook& book) {
  std::string shown;
  for (const RawSheet& sheet : book.sheets) {
    if (sheet.source.is_sheet())
      shown += "[" + sheet.source.sheet + "]\n";
    for (const TableRow& row : sheet.rows)
      shown += fmt::format("{} {}\n", row.line, fmt::join(row.cells, "|"));
  }
  return shown;
}

std::string raw_text_shown(std::string_view text) {
  return raw_shown(read_raw(text, "t.csv"));
}

std::string refused_raw(std::string_view bytes, const Source& source = "t.csv") {
  return support::input_error([&] { read_raw(bytes, source); });
}

std::string workbook_bytes_of(const std::string& name) {
  std::ifstream file(EGGFALL_SOURCE_DIR "/tests/workbooks/" + name, std::ios::binary);
  REQUIRE(file.is_open());
  return {std::istreambuf_iterator<char>(file), {}};
}

} // namespace

TEST_CASE("A text is read as it stands, titles and all") {
  CHECK(
      raw_text_shown("Our laboratory; Anytown\n\n  \nReceived;3 May\n;;\near ;eggs  before;\n401;12"
                     "\n402;\"7,5\"; lame ;\n") ==
      "1 Our laboratory|Anytown\n4 Received|3 May\n6 ear|eggs before\n7 401|12\n8 402|7,5|lame\n");
  const RawBook book = read_raw("ear,eggs\r\n401,12", "t.csv");
  CHECK(book.encoding == "UTF-8");
  REQUIRE(book.sheets.size() == 1);
  CHECK(book.sheets[0].source == Source("t.csv"));
}

TEST_CASE("A row of a text has the line on which it starts") {
  CHECK(raw_text_shown("a,b\r\n\"two\r\nlines\",1\r\n\r\nc,d\r\n") ==
        "1 a|b\n2 two lines|1\n5 c|d\n");
  CHECK(raw_text_shown("a,b\rc,d\r\re,f") == "1 a|b\n2 c|d\n4 e|f\n");
  CHECK(raw_text_shown("a,b\n\"x\n\n\",1\nc,d") == "1 a|b\n2 x|1\n5 c|d\n");
}

TEST_CASE("A quote in the middle of a cell is a character, one left open or closed early is none") {
  CHECK(raw_text_shown("a,b\n5\" worm,the \"old\" one\n \"x,\"\"y\"\"\" ,z\n") ==
        "1 a|b\n2 5\" worm|the \"old\" one\n3 x,\"y\"|z\n");
  CHECK(refused_raw("a,b\n1,2\n3,\"4\n5,6\n") ==
        "t.csv:3: column 2: found a double quote that is never closed; expected a closing quote");
  CHECK(refused_raw("a,b\n\"x\"\"\n,1\n2,3\n") ==
        "t.csv:2: column 1: found a double quote that is never closed; expected a closing quote");
  // libcsv alone would read on to the next quote, and make one cell of both rows.
  CHECK(refused_raw("a,b\n\"Bella\" ewe,1\n\"Nora\",2\n") ==
        "t.csv:2: column 1: found text behind a closing double quote; expected quotes around the "
        "whole cell, and doubled inside it");
}

TEST_CASE("A first line that names the separator is passed over, and decides") {
  CHECK(raw_text_shown("sep=;\r\na,b;c\r\n") == "2 a,b|c\n");
  CHECK(raw_text_shown("sep=|\n\"a|b\"|c\n") == "2 a|b|c\n");
  CHECK(raw_text_shown("\xEF\xBB\xBFsep=,\na;b,c\n") == "2 a;b|c\n");
}

TEST_CASE("A text is read in whatever encoding it comes") {
  const std::string rows = "1 ear|B\xC3\xB6\x63k\n2 401|12\n";
  const RawBook western = read_raw("ear;B\xF6\x63k\n401;12\n", "t.csv");
  CHECK(western.encoding == "Windows-1252");
  CHECK(raw_shown(western) == rows);
  const RawBook wide = read_raw("\xFF\xFE"
                                "e\0a\0r\0\t\0B\0\xF6\0c\0k\0\n\0"
                                "4\0"
                                "0\0"
                                "1\0\t\0"
                                "1\0"
                                "2\0"s,
                                "t.txt");
  CHECK(wide.encoding == "UTF-16");
  CHECK(raw_shown(wide) == rows);
  CHECK(raw_text_shown("\xEF\xBB\xBF"
                       "ear,B\xC3\xB6\x63k\n401,12\n") == rows);
}

TEST_CASE("All sheets of a workbook are read in their order, or the one wanted") {
  const std::string cells = "<table:table-row>" + ods_text("Title") +
                            "</table:table-row><table:table-row/><table:table-row>" +
                            ods_text("ear") + "<table:table-cell/>" + ods_text("eggs") +
                            "<table:table-cell table:number-columns-repeated=\"99\"/>"
                            "</table:table-row>";
  const std::string bytes =
      zip_of(parts_of_ods("<table:table table:name=\"Lab\">" + cells +
                          "</table:table><table:table table:name=\"Empty\"/><table:table "
                          "table:name=\"Notes\"><table:table-row>" +
                          ods_text("x") + "</table:table-row></table:table>"));
  const RawBook book = read_raw(bytes, "t.ods");
  CHECK(raw_shown(book) == "[Lab]\n1 Title\n3 ear||eggs\n[Empty]\n[Notes]\n1 x\n");
  CHECK(book.encoding.empty());
  CHECK(raw_shown(read_raw(bytes, {"t.ods", "notes"})) == "[Notes]\n1 x\n");
  CHECK(refused_raw(bytes, {"t.ods", "Mob"}) ==
        "t.ods: found no sheet \"Mob\"; expected one of its sheets \"Lab\", \"Empty\", \"Notes\"");
  CHECK(refused_raw(bytes, {"t.ods", "empty"}) ==
        "t.ods, sheet \"Empty\": found nothing; expected a table");
}

TEST_CASE("Workbooks that spreadsheets wrote are read as raw rows, errors and all") {
  const RawBook book = read_raw(workbook_bytes_of("fields.xlsx"), "t.xlsx");
  REQUIRE(book.sheets.size() == 8);
  CHECK(book.sheets[7].source == Source("t.xlsx", "Title"));
  CHECK(book.sheets[7].rows[0].cells == std::vector<std::string>{"Our trial of May"});
  const RawSheet faults =
      read_raw(workbook_bytes_of("fields.xlsx"), {"t.xlsx", "Faults"}).sheets[0];
  REQUIRE(faults.rows.size() == 7);
  REQUIRE(faults.rows[3].unreadable.size() == 1);
  CHECK(faults.rows[3].unreadable[0].column == 2);
  CHECK(faults.rows[3].unreadable[0].found == "the error #N/A");
}

TEST_CASE("An .ods workbook made by the standard alone is read cell by cell") {
  // tests/workbooks/by_the_standard.py says which section each cell is of.
  CHECK(raw_shown(read_raw(workbook_bytes_of("by-the-standard.ods"), "t.ods")) ==
        "[Counts]\n"
        "1 Faecal egg counts of May\n"
        "3 group|animal|eggs before|eggs after|weight kg|date\n"
        "4 white drench|401|12|0|45.5|2031-03-03\n"
        "5 white drench|402|7|#DIV/0!|45.5|2031-03-03\n"
        "6 white drench|403|7|1|0.5|2031-03-17\n"
        "7 white drench|403|7|1|0.5|2031-03-17\n"
        "1000 checked by hand|TRUE|12:30:00\n"
        "[Hidden]\n"
        "1 worm|larvae\n");
}

TEST_CASE("What is no table is refused, with the way out") {
  const std::string html = "t.csv: found HTML or XML (some programs save a page under the name of "
                           "a spreadsheet); expected a table; open it in a spreadsheet and save it "
                           "as .xlsx, .ods or \"CSV UTF-8\"";
  CHECK(refused_raw("<html><table><tr><td>ear</td></tr></table></html>") == html);
  CHECK(refused_raw("\xEF\xBB\xBF\n <?xml version=\"1.0\"?><Workbook/>") == html);
  CHECK(refused_raw("\xFF\xFE<\0h\0t\0m\0l\0>\0"s) == html);
  CHECK_THAT(refused_raw("\xD0\xCF\x11\xE0rest"),
             Catch::Contains("of the old kind (.xls)") &&
                 Catch::Contains("open it in a spreadsheet and save it as .xlsx, .ods or"));
  CHECK(refused_raw("PK\x03\x04rest") ==
        "t.csv: found a workbook that is damaged or cut short; expected a whole .xlsx or .ods "
        "workbook; save or copy it again");
  CHECK(refused_raw("ear,eggs\n", {"t.csv", "Counts"}) ==
        "t.csv: found a text table; expected a workbook with a sheet \"Counts\"");
  const std::string nothing = "t.csv: found nothing; expected a table";
  for (const char* const text :
       {"", "\n\r\n", " \n\t\n", "\xEF\xBB\xBF", ",,,\n;;\n", "\"\"\n", "sep=;\n"})
    CHECK(refused_raw(text) == nothing);
  CHECK(refused_raw(zip_of(parts_of_ods("<table:table table:name=\"A\"/><table:table "
                                        "table:name=\"B\"/>"))) == nothing);
  CHECK(refused_raw("ear,\0\n"s) == "t.csv:1: found a NUL character; expected text");
}

TEST_CASE("Raw rows have the limits of a table") {
  CHECK(refused_raw("a,b\n1," + std::string(1'001, 'x') + "\n") ==
        "t.csv:2: column 2: found a cell of more than 1000 bytes; expected a shorter one (is a "
        "quote left open?)");
  CHECK(refused_raw("a\n" + std::string(1'000, ',') + "x\n") ==
        "t.csv:2: found 1001 columns; expected at most 1000");
  CHECK(raw_text_shown("a\nx" + std::string(2'000, ',') + "\n") == "1 a\n2 x\n");
  CHECK(refused_raw("a\n" + std::string(1'100'000, ',') + "\n") ==
        "t.csv:2: found a line of more than 1048000 bytes (is a quote left open?); expected lines "
        "of a table");
  CHECK(refused_raw(std::string((64U << 20U) + 1, 'x')) ==
        "t.csv: found 67108865 bytes; expected a table of at most 67108864 bytes");
  std::string rows;
  for (int i = 0; i < 1'000'001; ++i)
    rows += "1\n";
  CHECK(refused_raw(rows) == "t.csv: found more than 1000000 rows; expected fewer");
  std::string cells;
  for (int i = 0; i < 20'001; ++i)
    cells += std::string(999, ',') + "x\n";
  CHECK(refused_raw(cells) == "t.csv: found more than 20000000 cells, the empty ones included; "
                              "expected fewer rows, or fewer columns");
}
