#include "teach/students/student_worksheets.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/students/invented_students.hpp"

#include <pugixml.hpp>

#include <string>

using namespace eggfall;
using namespace invented_students;

namespace {

pugi::xml_document parsed(const std::string& text) {
  pugi::xml_document page;
  REQUIRE(page.load_string(text.c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

} // namespace

TEST_CASE("class worksheets: a page a student with the counts, and no answer") {
  const StudentPack pack = three_students();
  const std::string sheets = worksheets_page(pack);
  const pugi::xml_document page = parsed(sheets);
  CHECK(times(sheets, "<h2>Worksheet ") == 3);
  CHECK(page.select_nodes("//section[@class='sheet']").size() == 3);
  CHECK(page.select_nodes("//section[@class='sheet wall']").size() ==
        1); // the line-up's is the last
  CHECK(sheets.find("93.0%") == std::string::npos);
  CHECK(page.select_nodes("//*[@class='truth']").empty());
  for (const Worksheet& sheet : pack.worksheets)
    for (const Animal& animal : sheet.simulated.trial.groups.front().animals)
      CHECK(sheets.find("<th scope=\"row\">" + animal.tag + "</th><td>" +
                        std::to_string(animal.after->eggs.value()) + "</td>") != std::string::npos);
}

TEST_CASE("class worksheets: the steps have t, the factor and the cut-offs of 1992") {
  const std::string words = support::words_of(parsed(worksheets_page(three_students())));
  // R 4.2.2: qt(0.975, 18) is 2.100922; ten animals each leave 18 degrees of freedom.
  CHECK_THAT(words, Catch::Contains("t = 2.101 (18 degrees of freedom, 95% interval)"));
  CHECK_THAT(words, Catch::Contains("mean times 50."));
  std::string formulas;
  const pugi::xml_document page = parsed(worksheets_page(three_students()));
  for (const auto& math : page.select_nodes("//section[1]//math"))
    formulas += std::string(math.node().attribute("aria-label").value()) + "; ";
  // Those of hand_calculation.hpp, in words.
  CHECK(formulas ==
        "sum of x / animals; mean treated / mean untreated; 100 \u00d7 (1 \u2212 ratio); "
        "(sum of squares \u2212 (sum of x) squared / animals) / (animals \u2212 1); "
        "variance / (animals \u00d7 mean squared); exp (t \u00d7 root of Y); "
        "100 \u00d7 (1 \u2212 ratio \u00d7 reach); 100 \u00d7 (1 \u2212 ratio / reach); ");
  // Coles et al. 1992: 95% and 90%.
  CHECK_THAT(words, Catch::Contains("Fall below 95% and lower limit below 90%: resistant."));
  CHECK_THAT(words, Catch::Contains("10 sheep got the white drench (BZ), 10 stayed untreated. 9 "
                                    "days later"));
  CHECK_THAT(words, Catch::Contains("The farm, Hollow Ash, is invented."));
}

TEST_CASE("class worksheets: a farm without a name and an unknown host are no trouble") {
  StudentPack pack = three_students();
  pack.scenario.farm.clear();
  pack.scenario.host.clear();
  const std::string words = support::words_of(parsed(worksheets_page(pack)));
  CHECK_THAT(words, !Catch::Contains("The farm,"));
  CHECK_THAT(words, Catch::Contains("10 animals got the white drench"));
}
