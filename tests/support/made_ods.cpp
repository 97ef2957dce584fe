#include "support/made_ods.hpp"

ZipParts parts_of_ods(const std::string& tables) {
  return {
      {"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
      {"META-INF/manifest.xml",
       "<manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\">"
       "<manifest:file-entry manifest:full-path=\"content.xml\" "
       "manifest:media-type=\"text/xml\"/></manifest:manifest>"},
      {"content.xml", "<office:document-content "
                      "xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" "
                      "xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" "
                      "xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body>"
                      "<office:spreadsheet>" +
                          tables + "</office:spreadsheet></office:body></office:document-content>"},
  };
}

std::string ods_of(const std::string& rows) {
  return zip_of(parts_of_ods("<table:table table:name=\"Counts\">" + rows + "</table:table>"));
}

std::string ods_text(const std::string& text) {
  return "<table:table-cell office:value-type=\"string\"><text:p>" + text +
         "</text:p></table:table-cell>";
}

std::string ods_number(const std::string& value) {
  return "<table:table-cell office:value-type=\"float\" office:value=\"" + value + "\"><text:p>" +
         value + ".00</text:p></table:table-cell>";
}
