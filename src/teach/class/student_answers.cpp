#include "teach/class/student_answers.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "teach/class/student_words.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view student_answers_style = R"css(
.answer { break-inside: avoid; } .answer ul { margin: 0.3rem 0; }
@media print { h2 { margin-top: 0.8rem; } }
)css";

void add_sums(pugi::xml_node parent, const HandCalculation& hand) {
  HtmlTable table{
      "",
      {"Group", "Animals", "Sum of x", "Sum of squares", "Mean", "EPG", "Variance", "Share"},
      {},
      "Steps 1 to 3, 6 and 7"};
  for (const auto& [name, sums] :
       {std::pair{"Treated", &hand.treated}, std::pair{"Untreated", &hand.control}})
    table.rows.push_back({name, fmt::format("{}", sums->animals), fmt::format("{}", sums->eggs),
                          fmt::format("{}", sums->squares), written(sums->mean),
                          written(sums->mean_epg), written(sums->variance),
                          sums->share_of_y ? written(*sums->share_of_y) : "none"});
  add_wide_table(parent, table);
}

/// What comes after the sums, a line a step.
std::vector<std::string> steps_of(const HandCalculation& hand) {
  if (!hand.reduction)
    return {fmt::format("No fall and no limits: {}.", hand.why_no_limits)};
  const double ratio = hand.treated.mean / hand.control.mean;
  std::vector<std::string> steps{fmt::format("Ratio = {} / {} = {}", written(hand.treated.mean),
                                             written(hand.control.mean), written(ratio)),
                                 fmt::format("Fall = 100 times (1 - {}) = {}", written(ratio),
                                             percent_written(*hand.reduction))};
  if (!hand.y2) {
    steps.push_back(fmt::format("No limits: {}.", hand.why_no_limits));
    return steps;
  }
  const double root = std::sqrt(*hand.y2);
  const double reach = std::exp(hand.t * root);
  steps.push_back(fmt::format("Y = {} + {} = {}", written(*hand.treated.share_of_y),
                              written(*hand.control.share_of_y), written(*hand.y2)));
  steps.push_back(
      fmt::format("Reach = exp({:.3f} times {}) = {}", hand.t, written(root), written(reach)));
  steps.push_back(fmt::format("Lower limit = 100 times (1 - {} times {}) = {}; upper limit = 100 "
                              "times (1 - {} / {}) = {}",
                              written(ratio), written(reach), percent_written(*hand.lower),
                              written(ratio), written(reach), percent_written(*hand.upper)));
  return steps;
}

std::string held_words(const Interval& interval, double truth) {
  return !interval.usable()       ? "there is no interval"
         : holds(interval, truth) ? "it holds the truth"
                                  : "it misses the truth";
}

void add_answer(pugi::xml_node body, const StudentPack& pack, std::size_t i) {
  const Worksheet& sheet = pack.sheets[i];
  const Verdict& verdict = sheet.analysis.judgement.first_verdict();
  const Interval& posterior =
      interval_by(sheet.analysis.evidence.intervals, Method::guarded_posterior);
  pugi::xml_node section = add_element(body, "section", "", "answer");
  add_element(section, "h2", fmt::format("Worksheet {}", i + 1));
  add_sums(section, sheet.hand);
  pugi::xml_node list = add_element(section, "ul");
  for (const std::string& step : steps_of(sheet.hand))
    add_element(list, "li", step);
  add_element(
      list, "li",
      fmt::format("Class of 1992: {}. By hand, {}.", class_written(verdict),
                  held_words(interval_by(sheet.analysis.evidence.intervals, Method::log_ratio_1992),
                             pack.truth)));
  add_element(list, "li",
              fmt::format("The program's posterior from the same counts, at {:g}% too: {}; {}.",
                          100 * StudentPack::level, limits_written(posterior),
                          held_words(posterior, pack.truth)));
}

} // namespace

std::string answers_page(const StudentPack& pack) {
  const std::string title = "Answers to the worksheets";
  HtmlPage page(title, student_answers_style);
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  const ScenarioGroup& treated = treated_group(pack.scenario);
  add_element(body, "p",
              fmt::format("Whoever teaches keeps this page. The truth of all worksheets is the "
                          "same: the {} removes {} here.",
                          drench_words(treated), percent_written(pack.truth)));
  add_element(
      body, "p",
      fmt::format("Worked out in full and rounded for print only, so a last digit worked out "
                  "by hand may differ. To see the same numbers: eggfall analyse "
                  "tables/worksheet-01.csv --design two-group --criteria waavp-1992 "
                  "--level {:g} --seed {} --verbose, with the worksheet's number.",
                  100 * StudentPack::level, pack.seed));
  for (std::size_t i = 0; i < pack.sheets.size(); ++i)
    add_answer(body, pack, i);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
