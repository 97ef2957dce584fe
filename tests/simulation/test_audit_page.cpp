#include "simulation/audit_page.hpp"

#include "simulation/audit_tables.hpp"
#include "simulation/invented_audit.hpp"
#include "support/support.hpp"

#include <cstddef>
#include <string>

using namespace eggfall;
using namespace invented_audit;

namespace {

AuditResult result_to_show() {
  AuditResult result = two_cells();
  result.version = "9.8.7";
  result.settings.trials = 200;
  result.settings.seed = 4;
  return result;
}

} // namespace

TEST_CASE("An audit's page starts with how it was made, its figures and its notes") {
  AuditResult result = result_to_show();
  result.shard = {2, 5};
  const std::string page = audit_page(result, {"An audit", {"a.svg", "b.svg"}});
  CHECK_THAT(page, Catch::StartsWith("# An audit\n") &&
                       Catch::Contains("version 9.8.7: 3 settings, 200 trials of each, seed 4."));
  CHECK_THAT(page, Catch::Contains("\n![An audit](a.svg)\n\n![An audit](b.svg)\n"));
  CHECK_THAT(page, Catch::Contains("\n\nThis is part 2 of 5: join all parts by eggfall audit "
                                   "--merge.\n\n## "));
  CHECK_THAT(audit_page(result, {"An audit", {}}), !Catch::Contains("!["));
}

TEST_CASE("An audit's page says once what several tables have to say") {
  AuditResult result = result_to_show();
  result.farms[2].tally.without_estimate = 0; // so that the second design has tables, too
  const std::string page = audit_page(result, {"An audit", {}});
  for (const AuditTable& table : summary_tables(result)) {
    CAPTURE(table.heading);
    CHECK(page.find("\n## " + table.heading + "\n") != std::string::npos);
    const std::size_t said = page.find(table.note);
    REQUIRE(said != std::string::npos);
    CHECK(page.find(table.note, said + 1) == std::string::npos);
  }
}

TEST_CASE("An audit's page shows a title as it stands, whatever marks it holds") {
  AuditResult result = result_to_show();
  result.settings.criteria[0].title = "```` <script>| [a](b) ```";
  const std::string page = audit_page(result, {"An audit", {}});
  CHECK_THAT(page, !Catch::Contains("<script>") && !Catch::Contains("```") &&
                       !Catch::Contains("[a]") && Catch::Contains("\\<script\\>\\| \\[a\\](b) "));
}

TEST_CASE("An audit's page has a row a cell with coverage and width, bold below the target") {
  const std::string page = audit_page(result_to_show(), {"An audit", {}});
  // 90 of 100 and 80 of 100 against 88; 960 points over 96 intervals and 500 over 100.
  CHECK_THAT(page, Catch::Contains(
                       "\n| 15 | 10 | 0.7 | 0.5 | 98.0% |  | 90.0 / 10.0 | **80.0** / 5.0 |\n"));
  // 150 of 200, 3,600 points over 180; none of the other method's could be used.
  CHECK_THAT(page, Catch::Contains(
                       "\n| 15 | 10 | 0.7 | 0.5 | 80.0% |  | **75.0** / 20.0 | **0.0** / - |\n"));
  CHECK_THAT(page, Catch::Contains("\n## Each cell of the design paired\n") &&
                       Catch::Contains("\n## Each cell of the design two-group\n"));
}

TEST_CASE("An audit's page tells on which side each method misses, and in which cell most") {
  // As in test_audit_summary: of intervals above the truth 2 of 100 and 10 of 200, below it 4 and
  // 20; of the other method's 8 of 100 and none of 200, 12 and none.
  CHECK_THAT(
      audit_page(result_to_show(), {"An audit", {}}),
      Catch::Contains("\n| bootstrap, BCa | 3.5 | 5.0 | 15 animals, 10 eggs, k 0.7, within "
                      "0.5, efficacy 80.0% | 7.0 | 10.0 | 15 animals, 10 eggs, k 0.7, within "
                      "0.5, efficacy 80.0% |\n"
                      "| pooled count, exact | 4.0 | 8.0 | 15 animals, 10 eggs, k 0.7, within "
                      "0.5, efficacy 98.0% | 6.0 | 12.0 | 15 animals, 10 eggs, k 0.7, within "
                      "0.5, efficacy 98.0% |\n"));
}

TEST_CASE("An audit's page has the worst coverage of each kind of truth, if there are several") {
  AuditResult result = result_to_show();
  // Of one kind alone the worst is the worst of all, which stands in the table of intervals.
  const std::string one_kind = audit_page(result, {"An audit", {}});
  CHECK_THAT(one_kind, !Catch::Contains("by kind of truth") &&
                           Catch::Contains("| bootstrap, BCa | **82.5** | **75.0** (3.1) |"));
  // A cell with something unusual is of a kind of its own.
  result.farms[1].farm.model.undosed = 0.04;
  const std::string page = audit_page(result, {"An audit", {}});
  CHECK_THAT(page, Catch::Contains("\n| nothing unusual | 1 | 90.0 | **80.0** |\n"
                                   "| 4% not dosed | 1 | **75.0** | **0.0** |\n"));
}
