#include "teach/students/student_line_up.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/students/invented_students.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_students;

namespace {

pugi::xml_document parsed(const StudentPack& pack) {
  pugi::xml_document page;
  REQUIRE(page.load_string(line_up_page(pack).c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

std::vector<std::vector<std::string>> verdict_rows(const StudentPack& pack) {
  std::vector<std::vector<std::string>> rows;
  const pugi::xml_document page = parsed(pack);
  for (const auto& row : page.select_nodes("//table[thead/tr/th='Criteria']/tbody/tr")) {
    rows.emplace_back();
    for (const pugi::xml_node cell : row.node().children())
      rows.back().emplace_back(cell.text().get());
  }
  return rows;
}

} // namespace

TEST_CASE("class line-up: both kinds of interval are counted against the truth") {
  StudentPack pack = three_students();
  set_limits(pack.worksheets[0], Method::log_ratio_1992, 0.94, 0.99); // the truth is 93%
  set_limits(pack.worksheets[1], Method::log_ratio_1992, 0.90, 0.96);
  set_limits(pack.worksheets[2], Method::log_ratio_1992, {}, {});
  for (Worksheet& sheet : pack.worksheets)
    set_limits(sheet, Method::guarded_posterior, 0.80, 0.97);
  const std::string words = support::words_of(parsed(pack));
  CHECK_THAT(words, Catch::Contains("1 of 3 holds the truth; 1 misses it; 1 does not exist.") &&
                        Catch::Contains("3 of 3 hold the truth."));
  CHECK(parsed(pack).select_nodes("//svg").size() == 2);
}

TEST_CASE("class line-up: the truth is set against what a drench that works removes") {
  StudentPack pack = three_students();
  CHECK_THAT(support::words_of(parsed(pack)),
             Catch::Contains("truly removes 93.0% here: below the 95% that a drench that works"));
  pack.truth = 0.95;
  CHECK_THAT(support::words_of(parsed(pack)),
             Catch::Contains("truly removes 95.0% here: at or above the 95%"));
  pack.worksheets.resize(2); // a 95% interval misses in 5 of 100: in 0.1 of 2
  CHECK_THAT(support::words_of(parsed(pack)), Catch::Contains("in 0.1 of 2, on average"));
}

TEST_CASE("class line-up: verdicts are counted by class, and criteria that give none left out") {
  StudentPack pack = three_students();
  for (Worksheet& sheet : pack.worksheets)
    for (Verdict& verdict : sheet.analysis.judgement.verdicts)
      verdict.verdict_class = VerdictClass::not_applicable;
  CHECK(verdict_rows(pack).empty());
  const auto judged = [&](std::size_t sheet, VerdictClass verdict_class) {
    pack.worksheets[sheet].analysis.judgement.verdicts.front().verdict_class = verdict_class;
  };
  judged(0, VerdictClass::resistant);
  judged(1, VerdictClass::suspected);
  judged(2, VerdictClass::resistant);
  // Susceptible, low resistant, resistant, suspected, inconclusive, none.
  CHECK(verdict_rows(pack) ==
        std::vector<std::vector<std::string>>{{"WAAVP 1992", "0", "0", "2", "1", "0", "0"}});
  judged(1, VerdictClass::not_applicable);
  CHECK(verdict_rows(pack) ==
        std::vector<std::vector<std::string>>{{"WAAVP 1992", "0", "0", "2", "0", "0", "1"}});
}
