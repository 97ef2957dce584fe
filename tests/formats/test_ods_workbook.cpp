#include "formats/ods_workbook.hpp"

#include "formats/table.hpp"
#include "support/made_ods.hpp"
#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

OdsWorkbook ods_workbook(const ZipParts& parts) {
  const std::string bytes = zip_of(parts);
  return OdsWorkbook(ZipArchive(bytes, "t.ods"));
}

std::string refused_ods(const ZipParts& parts) {
  return support::input_error([&] { ods_workbook(parts); });
}

} // namespace

TEST_CASE("The tables of an .ods workbook come in their order, hidden or not") {
  const OdsWorkbook workbook = ods_workbook(
      parts_of_ods("<table:calculation-settings/><table:table table:name=\"Counts\"/>"
                   "<table:table table:name=\"Larvae\" table:display=\"false\"/>"
                   "<table:table table:name=\"'file:///flock.ods'#Ewes\"><table:table-source "
                   "table:mode=\"copy-results-only\"/></table:table><table:named-expressions/>"));
  CHECK(workbook.sheet_names() == std::vector<std::string>{"Counts", "Larvae"});
  CHECK(std::string(workbook.sheet("Larvae").attribute("table:display").value()) == "false");
}

TEST_CASE("A sheet without a name is called by its number, in workbooks of either kind") {
  CHECK(ods_workbook(parts_of_ods("<table:table table:name=\"Counts\"/><table:table/>"))
            .sheet_names() == std::vector<std::string>{"Counts", "Sheet2"});
  const std::string xlsx =
      zip_of(with_part(parts_of_workbook("<row><c><v>1</v></c></row>"), "xl/workbook.xml",
                       "<workbook><sheets><sheet sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"));
  CHECK(support::input_error([&] {
          read_table(xlsx, {"t.xlsx", "sheet1"}, "animal");
        }).starts_with("t.xlsx, sheet \"Sheet1\": found only a header row"));
}

TEST_CASE("A password of an .ods workbook is told, and how to take it off") {
  const std::string expected =
      "t.ods: found a workbook with a password; expected one without; open "
      "it in a spreadsheet and save it again without the password";
  // OpenDocument 1.2, part 3, 4.4: the manifest tells of each part how it was encrypted.
  CHECK(refused_ods({{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
                     {"content.xml", "noise"},
                     {"META-INF/manifest.xml",
                      "<manifest:manifest xmlns:manifest=\"u\"><manifest:file-entry "
                      "manifest:full-path=\"/\"/><manifest:file-entry "
                      "manifest:full-path=\"content.xml\"><manifest:encryption-data "
                      "manifest:checksum-type=\"SHA1/1K\"/></manifest:file-entry>"
                      "</manifest:manifest>"}}) == expected);
  // One part for all, as newer programs write it.
  CHECK(support::input_error([] {
          read_table(zip_of({{"encrypted-package", "noise"},
                             {"META-INF/manifest.xml",
                              "<manifest><file-entry><encryption-data/></file-entry></manifest>"}}),
                     "t.ods", "animal");
        }) == expected);
}

TEST_CASE("An OpenDocument without a sheet to read is refused with one message") {
  const std::string none =
      "; expected an .xlsx or .ods workbook with a worksheet, or a text table; "
      "save the sheet as \"CSV UTF-8\"";
  const std::string damaged = "; expected a whole .xlsx or .ods workbook; save or copy it again";
  CHECK(refused_ods(parts_of_ods("")) == "t.ods: found a workbook without a worksheet" + none);
  CHECK(refused_ods(with_part(parts_of_ods(""), "content.xml",
                              "<office:document-content><office:body><office:text/></office:body>"
                              "</office:document-content>")) ==
        "t.ods: found a zip file that is no .xlsx or .ods workbook" + none);
  CHECK(refused_ods(with_part(parts_of_ods(""), "content.xml", "<office:document-content>")) ==
        "t.ods: found a workbook that is damaged (in its part \"content.xml\")" + damaged);
  CHECK(refused_ods({{"META-INF/manifest.xml", "<manifest/>"}}) ==
        "t.ods: found a workbook that is damaged (in its part \"content.xml\")" + damaged);
}

TEST_CASE("A part of more tags or attributes than any table needs is refused before it is held") {
  CHECK_THAT(refused_ods(with_part(parts_of_ods(""), "content.xml",
                                   "<a " + std::string(16'000'001, '=') + "/>")),
             Catch::Contains("more than 16000000 attributes in its part \"content.xml\"; expected "
                             "a smaller workbook"));
  CHECK_THAT(refused_ods(with_part(parts_of_ods(""), "content.xml", std::string(16'000'001, '<'))),
             Catch::Contains("more than 16000000 tags in its part \"content.xml\"; expected a "
                             "smaller workbook"));
}

TEST_CASE("An archive is an OpenDocument by its parts, whatever its name") {
  const std::string ods = zip_of(parts_of_ods(""));
  const std::string xlsx = zip_of(with_part(parts_of_workbook(""), "content.xml", "<x/>"));
  CHECK(OdsWorkbook::is_in(ZipArchive(ods, "t.xlsx")));
  CHECK_FALSE(OdsWorkbook::is_in(ZipArchive(xlsx, "t.ods")));
}
