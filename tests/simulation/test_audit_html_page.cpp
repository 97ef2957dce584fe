#include "simulation/audit_html_page.hpp"

#include "simulation/audit_figures.hpp"
#include "simulation/audit_tables.hpp"
#include "simulation/invented_audit.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_audit;

namespace {

AuditResult to_show() {
  AuditResult result = two_cells();
  result.version = "9.8.7";
  result.settings.criteria[0].title = "By <hand>";
  result.settings.criteria[0].method = resampled;
  return result;
}

pugi::xml_document parsed(const std::string& page) {
  pugi::xml_document document;
  REQUIRE(document.load_string(page.c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return document;
}

std::size_t panels_of(const PanelFigure& figure) {
  std::size_t panels = 0;
  for (const PanelSection& section : figure.sections)
    panels += section.panels.size();
  return panels;
}

} // namespace

TEST_CASE("An audit's HTML page has every panel by itself, and each legend once") {
  const AuditResult result = to_show();
  const std::string page = audit_html_page(result, "Audit: <x>");
  const pugi::xml_document document = parsed(page);
  CHECK(document.select_nodes("//figure").size() ==
        panels_of(coverage_panels(result)) + panels_of(verdict_panels(result, Design::paired)));
  CHECK(document.select_nodes("//div[@class='legend']/svg").size() == 2);
  CHECK_THAT(page,
             Catch::Contains("<h1>Audit: &lt;x&gt;</h1>") && Catch::Contains("By &lt;hand&gt;"));
  CHECK_THAT(page,
             !Catch::Contains("<script") && !Catch::Contains("src=") && !Catch::Contains("href="));
  // In inks alone, so that a dark screen has its own: no colour but white stands in a drawing.
  for (const auto& match : document.select_nodes("//figure//@fill | //figure//@stroke")) {
    CAPTURE(match.attribute().value());
    CHECK(std::string(match.attribute().value()).find('#') == std::string::npos);
  }
}

TEST_CASE("An audit's HTML page has every table once, and says once what those of a kind say") {
  const AuditResult result = to_show();
  const std::string page = audit_html_page(result, "Audit");
  const pugi::xml_document document = parsed(page);
  std::vector<std::string> captions;
  for (const auto& match : document.select_nodes("//caption"))
    captions.emplace_back(match.node().child_value());
  std::vector<std::string> expected;
  for (const auto& tables : {summary_tables(result), farm_tables(result)})
    for (const AuditTable& table : tables)
      expected.push_back(table.heading);
  CHECK(captions == expected);
  // Paragraphs that are alike would be one block said twice.
  std::vector<std::string> paragraphs;
  for (const auto& match : document.select_nodes("//main//p[not(ancestor::figure)]"))
    paragraphs.emplace_back(match.node().child_value());
  std::ranges::sort(paragraphs);
  CHECK(std::ranges::adjacent_find(paragraphs) == paragraphs.end());
}

TEST_CASE("A coverage below the target is marked, and cells that are many are closed") {
  AuditResult result = to_show();
  const pugi::xml_document few = parsed(audit_html_page(result, "Audit"));
  CHECK(few.select_nodes("//td[@class='missed']").size() >= 4);
  CHECK(few.select_nodes("//details[@open]").size() == 2);
  for (int i = 0; i < 20; ++i)
    result.farms.push_back(result.farms[0]);
  const pugi::xml_document many = parsed(audit_html_page(result, "Audit"));
  CHECK(many.select_nodes("//details[@open]").size() == 1);
  CHECK(many.select_nodes("//details").size() == 2);
  CHECK_THAT(std::string(many.select_node("//summary").node().child_value()),
             Catch::Contains("22 rows"));
}

TEST_CASE("An audit without a trial to show has a page without figures") {
  AuditResult result = to_show();
  result.farms.erase(result.farms.begin(), result.farms.begin() + 2);
  const pugi::xml_document page = parsed(audit_html_page(result, "Audit"));
  CHECK(page.select_nodes("//svg").empty());
  CHECK(page.select_nodes("//details").size() == 1);
}
