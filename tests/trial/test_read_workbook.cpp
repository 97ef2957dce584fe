#include "eggfall/trial/read_cultures.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial_stream.hpp"
#include "formats/table.hpp"
#include "trial/read_animals.hpp"

#include "support/made_ods.hpp"
#include "support/made_workbook.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <fstream>
#include <iterator>

using namespace eggfall;

namespace {

std::string bytes_of(const std::string& name) {
  std::ifstream file(EGGFALL_SOURCE_DIR "/tests/workbooks/" + name, std::ios::binary);
  REQUIRE(file.is_open());
  return {std::istreambuf_iterator<char>(file), {}};
}

/// "3 a|b|c", a line a row.
std::string shown(const Table& table) {
  std::string text = fmt::format("{} {}\n", table.header.line, fmt::join(table.header.cells, "|"));
  for (const TableRow& row : table.rows)
    text += fmt::format("{} {}\n", row.line, fmt::join(row.cells, "|"));
  return text;
}

std::string read(const std::string& bytes, const std::string& sheet = {}) {
  return shown(read_table(bytes, {"t.xlsx", sheet}, "animal"));
}

std::string refused(const std::string& bytes, const std::string& sheet = {}) {
  return support::input_error([&] { read(bytes, sheet); });
}

/// What the table reads as whose header is "a" to "f", and whose second row is this XML.
std::string second_row(const std::string& cells, ZipParts (*more)(ZipParts) = nullptr) {
  ZipParts parts = parts_of_workbook(
      "<row r=\"1\"><c t=\"str\"><v>a</v></c><c t=\"str\"><v>b</v></c><c "
      "t=\"str\"><v>c</v></c><c t=\"str\"><v>d</v></c><c t=\"str\"><v>e</v></c><c "
      "t=\"str\"><v>f</v></c></row><row r=\"2\">" +
      cells + "</row>");
  const Table table = read_table(zip_of(more ? more(parts) : parts), "t.xlsx", "animal");
  REQUIRE(table.rows.size() == 1);
  return fmt::format("{}", fmt::join(table.rows[0].cells, "|"));
}

ReadOptions factor_50() {
  ReadOptions options;
  options.factor_before = MultiplicationFactor(50);
  options.factor_after = MultiplicationFactor(50);
  return options;
}

} // namespace

TEST_CASE("A sheet is read as the table that a person sees in it") {
  // The table starts at B3, between blank rows and columns, some of them coloured; the number of
  // eggs of 0402, the factor 16.5, the third group and the last dose are formulas.
  CHECK(read(bytes_of("fields.xlsx")) ==
        "3 |group|animal|eggs before|eggs_after|factor|dose_ml|date_treated|date_after|notes\n"
        "4 |white drench|401|12|1|50|6.5|2031-03-03|2031-03-17|\n"
        "5 |white drench|0402|12||16.5||2031-03-03||limping\n"
        "8 |white drench|ewe, the old one|30|0|50|0.3|2031-03-03|2031-03-17|\n");
}

TEST_CASE("A sheet is found by its name, in whatever case, hidden or not") {
  CHECK(read(bytes_of("fields.xlsx"), "larvae").starts_with("1 group|time|worm|larvae\n2 white"));
  CHECK(refused(bytes_of("fields.xlsx"), "Sheet1") ==
        "t.xlsx: found no sheet \"Sheet1\"; expected one of its sheets \"Counts\", \"Larvae\", "
        "\"Mob\", \"Faults\", \"Beyond\", \"Empty\", \"Header only\", \"Title\"");
  CHECK(support::input_error([] {
          read_table("a,b\n1,2\n", {"t.csv", "Counts"}, "animal");
        }) == "t.csv: found a text table; expected a workbook with a sheet \"Counts\"");
}

TEST_CASE("Counts, larvae and animals come out of sheets as out of texts") {
  const std::string bytes = bytes_of("fields.xlsx");
  TrialTable counts = read_trials(bytes, "t.xlsx", factor_50());
  REQUIRE(counts.trials.size() == 1);
  REQUIRE(counts.trials[0].groups.size() == 1);
  const Group& group = counts.trials[0].groups[0];
  REQUIRE(group.animals.size() == 3);
  CHECK(group.name == "white drench");
  CHECK(group.animals[1].tag == "0402");
  CHECK(group.animals[1].line == 5);
  CHECK(group.animals[1].before->eggs.value() == 12);
  CHECK(group.animals[1].before->factor.value() == 16.5);
  CHECK_FALSE(group.animals[1].after);
  CHECK(counts.notes == std::vector<std::string>{"t.xlsx, sheet \"Counts\": not used: columns \"A, "
                                                 "without a header\", \"notes\""});

  const TrialTable cultured = read_cultures(bytes, {"t.xlsx", "Larvae"}, std::move(counts.trials));
  REQUIRE(cultured.trials[0].groups[0].culture_after.worms.size() == 2);
  CHECK(cultured.trials[0].groups[0].culture_after.worms[0].larvae == 9);

  const AnimalList mob = read_animals(bytes, {"t.xlsx", "Mob"});
  REQUIRE(mob.animals.size() == 8);
  CHECK(mob.animals[0] == ListedAnimal{"701", 30.5, 50});
}

TEST_CASE("Counts, larvae and animals come out of .ods sheets too") {
  const auto row = [](const std::string& cells) {
    return "<table:table-row>" + cells + "</table:table-row>";
  };
  const auto table = [](const std::string& name, const std::string& rows) {
    return "<table:table table:name=\"" + name + "\">" + rows + "</table:table>";
  };
  const std::string bytes = zip_of(parts_of_ods(
      table("Counts",
            row(ods_text("group") + ods_text("animal") + ods_text("eggs_before") +
                ods_text("eggs_after")) +
                row(ods_text("white") + ods_number("401") + ods_number("12") + ods_number("1")) +
                row(ods_text("white") + ods_number("402") + ods_number("7"))) +
      table("Larvae",
            row(ods_text("group") + ods_text("time") + ods_text("worm") + ods_text("larvae")) +
                row(ods_text("white") + ods_text("after") + ods_text("haemonchus") +
                    ods_number("9"))) +
      table("Mob", row(ods_text("animal") + ods_text("weight_kg")) +
                       row(ods_number("701") + ods_number("30.5")))));
  TrialTable counts = read_trials(bytes, "t.ods", factor_50());
  REQUIRE(counts.trials.size() == 1);
  REQUIRE(counts.trials[0].groups[0].animals.size() == 2);
  CHECK(counts.trials[0].groups[0].animals[0].tag == "401");
  CHECK(counts.trials[0].groups[0].animals[0].before->eggs.value() == 12);
  CHECK_FALSE(counts.trials[0].groups[0].animals[1].after);
  const TrialTable cultured = read_cultures(bytes, {"t.ods", "Larvae"}, std::move(counts.trials));
  CHECK(cultured.trials[0].groups[0].culture_after.worms[0].larvae == 9);
  const AnimalList mob = read_animals(bytes, {"t.ods", "Mob"});
  REQUIRE(mob.animals.size() == 1);
  CHECK(mob.animals[0].tag == "701");
  // An error that an older program stored as 0 is no count of no eggs.
  CHECK(support::input_error([&] {
          read_trials(ods_of(row(ods_text("group") + ods_text("animal") + ods_text("eggs_before") +
                                 ods_text("eggs_after")) +
                             row(ods_text("white") + ods_number("401") + ods_number("12") +
                                 "<table:table-cell table:formula=\"of:=[.Z9]/0\" "
                                 "office:value-type=\"float\" office:value=\"0\"><text:p>#DIV/0!"
                                 "</text:p></table:table-cell>")),
                      "t.ods", factor_50());
        }) ==
        "t.ods, sheet \"Counts\", D2 (eggs_after): found the error #DIV/0!; expected a value, "
        "or an empty cell");
}

TEST_CASE("A workbook that comes in pieces gives the same trials") {
  const std::string bytes = bytes_of("brackenhill.xlsx");
  const TrialTable whole = read_trials(bytes, "t.xlsx", {});
  TrialStream stream("t.xlsx", {});
  for (std::size_t position = 0; position < bytes.size(); position += 3)
    CHECK(stream.feed(std::string_view(bytes).substr(position, 3)).empty());
  const std::vector<Trial> trials = stream.finish();
  REQUIRE(trials.size() == 1);
  REQUIRE(trials[0].groups.size() == whole.trials[0].groups.size());
  for (std::size_t i = 0; i < trials[0].groups.size(); ++i) {
    const Group& group = trials[0].groups[i];
    CHECK(group.name == whole.trials[0].groups[i].name);
    CHECK(group.animals.size() == whole.trials[0].groups[i].animals.size());
    CHECK(group.animals.back().date_after == whole.trials[0].groups[i].animals.back().date_after);
  }
}

TEST_CASE("What is wrong in a sheet is told by its cell") {
  CHECK(support::input_error([] {
          read_trials(bytes_of("fields.xlsx"), {"t.xlsx", "Faults"}, factor_50());
        }) ==
        "t.xlsx, sheet \"Faults\", C2 (eggs_before): found \"12.5\"; expected a whole number of "
        "eggs seen, 0 or more (leave it empty if not sampled)\n"
        "t.xlsx, sheet \"Faults\", C3 (eggs_before): found \"twelve\"; expected a whole number of "
        "eggs seen, 0 or more (leave it empty if not sampled)\n"
        "t.xlsx, sheet \"Faults\", D3 (eggs_after): found \"TRUE\"; expected a whole number of "
        "eggs seen, 0 or more (leave it empty if not sampled)\n"
        "t.xlsx, sheet \"Faults\", C4 (eggs_before): found the error #N/A; expected a value, or an "
        "empty cell\n"
        "t.xlsx, sheet \"Faults\", D4 (eggs_after): found \"-1\"; expected a whole number of eggs "
        "seen, 0 or more (leave it empty if not sampled)\n"
        "t.xlsx, sheet \"Faults\", E4 (date_treated): found \"47915\"; expected a date written "
        "YYYY-MM-DD, such as 2031-04-27\n"
        "t.xlsx, sheet \"Faults\", A5 (group): found the error #N/A; expected a value, or an empty "
        "cell\n"
        "t.xlsx, sheet \"Faults\", B6 (animal): found \"1\" again; expected each animal once in "
        "group \"white\" (it is on row 2 already)\n"
        "t.xlsx, sheet \"Faults\", A7 (group): found nothing; expected a name");
  const std::string bytes = bytes_of("fields.xlsx");
  CHECK(refused(bytes, "Beyond") ==
        "t.xlsx, sheet \"Beyond\", F2: found \"far out\"; expected an empty cell, as no column has "
        "its name above it");
  CHECK(refused(bytes, "Empty") ==
        "t.xlsx, sheet \"Empty\": found nothing; expected a header row and one row an animal");
  CHECK(refused(bytes, "Header only") ==
        "t.xlsx, sheet \"Header only\": found only a header row; expected one row an animal below "
        "it");
  CHECK(refused(bytes, "Title") ==
        "t.xlsx, sheet \"Title\", row 1: found a single name, \"Our trial of May\"; expected the "
        "names of the columns, each in a cell of its own, in the first row that is not empty");
  CHECK(support::input_error([&] {
          read_trials(bytes, {"t.xlsx", "Larvae"}, {});
        })
            .starts_with("t.xlsx, sheet \"Larvae\", row 1: found the columns \"group\", \"time\", "
                         "\"worm\", \"larvae\"; expected a column animal\n"));
}

TEST_CASE("A formula that was never worked out is told, not taken for an animal not sampled") {
  const std::string header = "<row><c t=\"str\"><v>group</v></c><c t=\"str\"><v>animal</v></c><c "
                             "t=\"str\"><v>eggs_before</v></c><c "
                             "t=\"str\"><v>eggs_after</v></c></row>";
  CHECK(support::input_error([&] {
          read_trials(workbook_of(header + "<row><c t=\"str\"><v>w</v></c><c><v>1</v></c>"
                                           "<c><f>5+7</f></c><c><f>1+1</f><v></v></c></row>"),
                      "t.xlsx", factor_50());
        }) == "t.xlsx, sheet \"Counts\", C2 (eggs_before): found a formula without a result; "
              "expected its result (open the workbook in a spreadsheet and save it again)\n"
              "t.xlsx, sheet \"Counts\", D2 (eggs_after): found a formula without a result; "
              "expected its result (open the workbook in a spreadsheet and save it again)");
  // One that gives an empty text has a result.
  CHECK(second_row("<c t=\"str\"><f>\"\"</f><v></v></c><c><v>1</v></c>") == "|1||||");
}

TEST_CASE("Numbers are read as they would be typed") {
  CHECK(second_row("<c><v>12</v></c><c><v>12.0</v></c><c><v>1.2E1</v></c><c t=\"n\"><v> 12 "
                   "</v></c><c><v>-0</v></c><c><v>11.999999999999998</v></c>") ==
        "12|12|12|12|0|12");
  CHECK(second_row("<c><v>12.5</v></c><c><v>0.30000000000000004</v></c><c><v>982000123456789</v></"
                   "c><c><v>1E-3</v></c><c><v>1e999</v></c><c><v>1,5</v></c>") ==
        "12.5|0.3|982000123456789|0.001|1e999|1,5");
}

TEST_CASE("Texts lose their runs, phonetic guides, escapes and controls") {
  const auto strings = [](ZipParts parts) {
    return with_part(std::move(parts), "xl/sharedStrings.xml",
                     "<sst><si><r><t>Wei</t></r><r><t xml:space=\"preserve\"> ss</t></r>"
                     "<rPh sb=\"0\" eb=\"1\"><t>read so</t></rPh><phoneticPr/></si>"
                     "<si><t>a_x000D_b_x005F_x0041_\n</t></si><si/></sst>");
  };
  CHECK(second_row("<c t=\"s\"><v>0</v></c><c t=\"s\"><v>1</v></c><c t=\"s\"><v>2</v></c>"
                   "<c t=\"inlineStr\"><is><r><t>x</t></r><r><t>y</t></r><rPh><t>z</t></rPh></is>"
                   "</c><c t=\"b\"><v>0</v></c><c t=\"str\"><v><![CDATA[1<2]]> &amp; so</v></c>",
                   strings) == "Wei ss|a b_x0041_||xy|FALSE|1<2 & so");
}

TEST_CASE("Cells may lack their references, leave gaps, and have any prefix") {
  CHECK(second_row("<c r=\"B2\"><v>2</v></c><c><v>3</v></c><c r=\"F2\"><v>6</v></c>") ==
        "|2|3|||6");
  ZipParts parts = parts_of_workbook("");
  parts = with_part(std::move(parts), "xl/worksheets/sheet1.xml",
                    "<x:worksheet xmlns:x=\"u\"><x:sheetData><x:row><x:c t=\"inlineStr\"><x:is>"
                    "<x:t>a</x:t></x:is></x:c><x:c t=\"str\"><x:v>b</x:v></x:c></x:row><x:row "
                    "r=\"7\"><x:c><x:v>1</x:v></x:c></x:row></x:sheetData></x:worksheet>");
  CHECK(read(zip_of(parts)) == "1 a|b\n7 1|\n");
}

TEST_CASE("Numbers shown as dates are dates, in both date systems") {
  const auto styles = [](ZipParts parts) {
    return with_part(std::move(parts), "xl/styles.xml",
                     "<styleSheet><numFmts><numFmt numFmtId=\"164\" formatCode=\"0.0&quot; a "
                     "day&quot;\"/><numFmt numFmtId=\"165\" formatCode=\"[$-809]dd mmm yy\"/>"
                     "</numFmts><cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/><xf "
                     "numFmtId=\"164\"/><xf numFmtId=\"165\"/></cellXfs></styleSheet>");
  };
  CHECK(second_row("<c s=\"1\"><v>47910</v></c><c s=\"3\"><v>47910.6</v></c><c "
                   "s=\"2\"><v>47910</v></c><c s=\"0\"><v>47910</v></c><c s=\"9\"><v>1</v></c><c "
                   "t=\"d\"><v>2031-03-03T00:00:00</v></c>",
                   styles) == "2031-03-03|2031-03-03|47910|47910|1|2031-03-03");
  CHECK(read(bytes_of("days-from-1904.xlsx")) ==
        "1 group|animal|eggs_before|eggs_after|date_treated\n"
        "2 white|1|12|1|2031-03-03\n3 white|2|8|1|1904-01-02\n");
}

TEST_CASE("Sheets come in the order of the workbook, found by their relations") {
  ZipParts parts = parts_of_workbook("<row><c t=\"str\"><v>a</v></c><c t=\"str\"><v>b</v></c></row>"
                                     "<row><c><v>1</v></c></row>");
  parts =
      with_part(std::move(parts), "xl/workbook.xml",
                "<workbook xmlns:q=\"u\"><sheets><sheet name=\"Chart\" q:id=\"r9\"/><sheet "
                "name=\"Two\" q:id=\"r8\"/><sheet name=\"One\" q:id=\"r1\"/></sheets></workbook>");
  parts = with_part(std::move(parts), "xl/_rels/workbook.xml.rels",
                    "<Relationships><Relationship Id=\"r1\" Type=\"x/worksheet\" "
                    "Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"r8\" "
                    "Type=\"x/worksheet\" Target=\"../other/Second.xml\"/><Relationship "
                    "Id=\"r9\" Type=\"x/chartsheet\" Target=\"c.xml\"/></Relationships>");
  parts = with_part(std::move(parts), "other/second.xml",
                    "<worksheet><sheetData><row><c t=\"str\"><v>c</v></c><c t=\"str\"><v>d</v></c>"
                    "</row><row><c><v>2</v></c></row></sheetData></worksheet>");
  CHECK(read(zip_of(parts)) == "1 c|d\n2 2|\n");
  CHECK(read(zip_of(parts), "One") == "1 a|b\n2 1|\n");
}

TEST_CASE("What is no workbook, or a damaged one, is refused with one message") {
  const std::string none =
      "; expected an .xlsx or .ods workbook with a worksheet, or a text table; "
      "save the sheet as \"CSV UTF-8\"";
  const std::string damaged = "; expected a whole .xlsx or .ods workbook; save or copy it again";
  const std::string whole = bytes_of("brackenhill.xlsx");
  for (const std::size_t size :
       {std::size_t{4}, std::size_t{100}, whole.size() / 2, whole.size() - 1})
    CHECK(refused(whole.substr(0, size)) ==
          "t.xlsx: found a workbook that is damaged or cut short" + damaged);
  CHECK(refused(zip_of({{"mimetype", "text"}})) ==
        "t.xlsx: found a zip file that is no .xlsx or .ods workbook" + none);
  CHECK(refused(zip_of(with_part(parts_of_workbook(""), "xl/workbook.xml",
                                 "<workbook><sheets/></workbook>"))) ==
        "t.xlsx: found a workbook without a worksheet" + none);
  CHECK(refused(zip_of(with_part(parts_of_workbook(""), "xl/worksheets/sheet1.xml",
                                 "<worksheet><sheetData><row></sheetData>"))) ==
        "t.xlsx: found a workbook that is damaged (in its part \"xl/worksheets/sheet1.xml\")" +
            damaged);
  CHECK(refused(locked_zip_of(parts_of_workbook(""))) ==
        "t.xlsx: found a workbook with a password; expected one without; open it in a spreadsheet "
        "and save it again without the password");
  CHECK(refused(bytes_of("days-from-1904.xls")) ==
        "t.xlsx: found a spreadsheet workbook of the old kind (.xls), or one with a password; "
        "expected an .xlsx or .ods workbook without a password, or a text table; open it in a "
        "spreadsheet and save it as .xlsx, .ods or \"CSV UTF-8\" (without the password, if it has "
        "one)");
}

TEST_CASE("A damaged byte of a workbook never goes unnoticed in its cells") {
  const std::string whole = bytes_of("days-from-1904.xlsx");
  const std::string right = read(whole);
  for (std::size_t position = 0; position < whole.size(); position += 7) {
    std::string bytes = whole;
    bytes[position] = static_cast<char>(bytes[position] ^ 0x55);
    std::string seen = right;
    try {
      seen = read(bytes);
    } catch (const InputError&) {
      continue;
    }
    // Bytes outside the parts that are read, and their dates, may be anything.
    CHECK(seen == right);
  }
}

TEST_CASE("Cells that cannot be are refused by their reference") {
  const auto refused_cell = [](const std::string& cell) {
    return support::input_error([&] { second_row(cell); });
  };
  const std::string b2 = "t.xlsx, sheet \"Counts\", B2: found ";
  CHECK(refused_cell("<c r=\"B2\" t=\"str\"><v>" + std::string(1001, 'x') + "</v></c>") ==
        b2 + "a cell of more than 1000 bytes; expected a shorter one");
  CHECK(refused_cell("<c r=\"B2\" t=\"s\"><v>0</v></c>") ==
        b2 + "a text that the workbook does not hold; expected a workbook that is not damaged");
  CHECK(refused_cell("<c r=\"B2\" t=\"str\"><v>\xFF</v></c>") ==
        b2 + "a text that is not UTF-8; expected a workbook that is not damaged");
  CHECK(refused_cell("<c r=\"XFD2\"><v>1</v></c><c><v>2</v></c>") ==
        "t.xlsx, sheet \"Counts\", XFE2: found a column 16385; expected columns from 1 to 16384");
  CHECK(refused(workbook_of("<row r=\"1048577\"/>")) ==
        "t.xlsx, sheet \"Counts\", row 1048577: found a row 1048577; expected rows from 1 to "
        "1048576");
}

TEST_CASE("A cell or a row that comes twice is told, not chosen from") {
  const auto refused_row = [](const std::string& cells) {
    return support::input_error([&] { second_row(cells); });
  };
  const std::string again = "found a cell again, or out of its order; expected each cell once, in "
                            "their order";
  CHECK(refused_row("<c r=\"D2\"><v>1</v></c><c r=\"D2\"><v>9</v></c>") ==
        "t.xlsx, sheet \"Counts\", D2: " + again);
  CHECK(refused_row("<c r=\"D2\"/><c r=\"D2\"><v>9</v></c>") ==
        "t.xlsx, sheet \"Counts\", D2: " + again);
  CHECK(refused_row("<c r=\"D2\"><v>1</v></c><c r=\"B2\"><v>9</v></c>") ==
        "t.xlsx, sheet \"Counts\", B2: " + again);
  CHECK(
      refused(workbook_of("<row r=\"3\"/><row r=\"3\"/>")) ==
      "t.xlsx, sheet \"Counts\", row 3: found a row 3 after the row 3; expected each row once, in "
      "their order");
}

TEST_CASE("A small workbook cannot fill a large table with one long text") {
  // 162 kB took twelve seconds and two gigabytes before this was mended.
  std::string rows;
  for (int row = 0; row < 80; ++row) {
    rows += "<row>";
    for (int column = 0; column < 994; ++column)
      rows += "<c t=\"s\"><v>0</v></c>";
    rows += "</row>";
  }
  ZipParts parts = parts_of_workbook(rows);
  const auto relations =
      std::ranges::find(parts, "xl/_rels/workbook.xml.rels", &ZipParts::value_type::first);
  relations->second.insert(relations->second.find("</Relationships>"),
                           "<Relationship Id=\"r9\" Type=\"x/sharedStrings\" "
                           "Target=\"sharedStrings.xml\"/>");
  parts = with_part(parts, "xl/sharedStrings.xml",
                    "<sst><si><t>" + std::string(1'000, 'x') + "</t></si></sst>");
  CHECK_THAT(
      refused(zip_of(parts)),
      Catch::Contains("found more than 64 MiB of text in the cells so far; expected a smaller "
                      "sheet"));
}

TEST_CASE("A small workbook cannot ask for a large table of empty cells, or for one part often") {
  // Each took some seconds and gigabytes before it was mended.
  std::string header = "<row>";
  for (int i = 0; i < 1'000; ++i)
    header += fmt::format("<c t=\"str\"><v>x{}</v></c>", i);
  std::string rows;
  for (int i = 0; i < 20'001; ++i)
    rows += "<row><c><v>1</v></c></row>";
  CHECK(refused(workbook_of(header + "</row>" + rows)) ==
        "t.xlsx, sheet \"Counts\": found more than 20000000 cells, the empty ones included; "
        "expected fewer rows, or fewer columns");

  ZipParts parts = parts_of_workbook("<row><c t=\"s\"><v>0</v></c><c t=\"s\"><v>1</v></c></row>"
                                     "<row><c t=\"s\"><v>2</v></c></row>");
  const auto relations =
      std::ranges::find(parts, "xl/_rels/workbook.xml.rels", &ZipParts::value_type::first);
  const std::string strings = "<Relationship Id=\"r9\" Type=\"x/sharedStrings\" "
                              "Target=\"sharedStrings.xml\"/>";
  relations->second.insert(relations->second.find("</Relationships>"), strings + strings);
  parts = with_part(parts, "xl/sharedStrings.xml", "<sst><si><t>a</t></si><si><t>b</t></si></sst>");
  CHECK_THAT(refused(zip_of(parts)),
             Catch::Contains("found a text that the workbook does not hold"));
}

TEST_CASE("A workbook that unpacks to far more than a table is refused") {
  const std::string bomb = zip_of(with_part(parts_of_workbook(""), "xl/sharedStrings.xml",
                                            std::string((256U << 20U) + 1, ' ')));
  CHECK(bomb.size() < 1U << 20U);
  CHECK(refused(bomb) == "t.xlsx: found a part \"xl/sharedStrings.xml\" of more than 256 MiB; "
                         "expected a smaller workbook");
  const std::string tags(30'000'001, '<');
  CHECK(refused(zip_of(with_part(parts_of_workbook(""), "xl/sharedStrings.xml", tags))) ==
        "t.xlsx: found more than 16000000 tags in its part \"xl/sharedStrings.xml\"; expected a "
        "smaller workbook");
  std::string rows = "<row><c t=\"str\"><v>a</v></c><c t=\"str\"><v>b</v></c></row>";
  for (int i = 0; i < 1'000'001; ++i)
    rows += "<row><c><v>1</v></c></row>";
  CHECK(refused(workbook_of(rows)) ==
        "t.xlsx, sheet \"Counts\": found more than 1000000 rows; expected fewer");
}
