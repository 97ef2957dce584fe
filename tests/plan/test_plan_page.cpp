#include "plan/plan_page.hpp"

#include "plan/invented_plan.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <cstddef>
#include <string>

using namespace eggfall;
using namespace invented_plan;

TEST_CASE("A plan's page holds its advice, figure and shaded table, and frames what will do") {
  PlanQuestion of = question();
  Plan plan = plan_with({with_power(of, 6, 50, 1, 90, 62), with_power(of, 12, 50, 1, 90, 95),
                         with_power(of, 6, 15, 2, 100, 97), with_power(of, 12, 15, 2, 100, 99)});
  plan.question.flock.host = "<b>sheep</b>";
  const std::string page = plan_report(plan);
  for (const std::string& sentence : plan_advice(plan))
    CHECK_THAT(page, Catch::Contains("<p>" + sentence + "</p>"));
  CHECK_THAT(page, Catch::Contains("&lt;b&gt;sheep&lt;/b&gt;") && !Catch::Contains("<b>"));
  CHECK_THAT(page, Catch::Contains("<td class=\"s3\">62</td><td class=\"s4 enough\">97</td>"));
  CHECK_THAT(page, Catch::Contains("<td class=\"s4 enough\">90</td>"));
  CHECK_THAT(page, Catch::Contains("Wear gloves and wash hands"));
  CHECK_THAT(page, !Catch::Contains("http-equiv") && !Catch::Contains("<script") &&
                       !Catch::Contains("src="));
  // Two rows of three panels, and a mark for each size and efficacy in them and in the legend.
  const std::string figure = plan_figure(plan, 0);
  const auto count = [&](const std::string& what) {
    std::size_t found = 0;
    for (std::size_t at = figure.find(what); at != std::string::npos;
         at = figure.find(what, at + 1))
      ++found;
    return found;
  };
  CHECK(count("<circle") == 2 * 3 * 2 * 3 + 2);
  CHECK(count(">called resistant<") == 2);
  CHECK_THAT(figure, Catch::Contains(">12 animals<") && Catch::Contains("<desc>"));
}
