#include "teach/students/student_answers.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "teach/students/formula.hpp"
#include "teach/students/student_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view student_answers_style = R"css(
@media (min-width: 60rem) { body { max-width: none; } .words-first { max-width: 50rem; }
  .key { font-size: 0.78rem; } .key th, .key td { padding: 0.15rem 0.25rem; } }
@page { size: A4 landscape; margin: 12mm 12mm 14mm; }
.key { width: 100%; } .key td, .key tbody th { white-space: nowrap; }
.worked { columns: 22rem; padding-left: 1.5rem; } .worked li { margin: 0.5rem 0;
  break-inside: avoid; }
@media print { .key { font-size: 7pt; } .key th, .key td { padding: 0.3mm 0.8mm; }
  .worked li { margin: 0.8mm 0; } h1 { font-size: 1.3rem; } p { margin: 0.5rem 0; } }
)css";

/// What comes of one group's counts.
constexpr std::array<std::string_view, 6> sums_heads{"sum of x", "sum of squares", "mean",
                                                     "EPG",      "variance",       "share"};

std::vector<std::string> sums_written(const HandSums& sums) {
  return {fmt::format("{}", sums.eggs), fmt::format("{}", sums.squares),
          written(sums.mean),           written(sums.mean_epg),
          written(sums.variance),       sums.share_of_y ? written(*sums.share_of_y) : "none"};
}

double ratio_of(const HandCalculation& hand) {
  return hand.treated.mean / hand.control.mean;
}

double reach_of(const HandCalculation& hand) {
  return std::exp(hand.t * std::sqrt(*hand.y2));
}

/// From the ratio to the limits.
std::vector<std::string> limits_steps(const HandCalculation& hand) {
  if (!hand.reduction)
    return std::vector<std::string>(6, "none");
  std::vector<std::string> cells{written(ratio_of(hand)), percent_written(*hand.reduction)};
  if (hand.y2)
    cells.insert(cells.end(), {written(*hand.y2), written(reach_of(hand)),
                               percent_written(*hand.lower), percent_written(*hand.upper)});
  else
    cells.resize(6, "none");
  return cells;
}

std::string held_word(const Interval& interval, double truth) {
  return !interval.usable() ? "no limits" : holds(interval, truth) ? "holds" : "misses";
}

/// Every step of every worksheet, a worksheet a line.
void add_key(pugi::xml_node body, const StudentPack& pack) {
  HtmlTable table{"Every step; T: treated, U: untreated. The last columns say what interval holds "
                  "the truth.",
                  {"Worksheet"},
                  {}};
  for (const char* group : {"T", "U"})
    for (const std::string_view head : sums_heads)
      table.heads.push_back(fmt::format("{} {}", group, head));
  table.heads.insert(table.heads.end(),
                     {"Ratio", "Fall", "Y", "Reach", "Lower limit", "Upper limit", "Class of 1992",
                      "By hand", "Posterior limits", "Posterior"});
  for (std::size_t i = 0; i < pack.worksheets.size(); ++i) {
    const Worksheet& sheet = pack.worksheets[i];
    const auto& intervals = sheet.analysis.evidence.intervals;
    const Interval& posterior = interval_by(intervals, Method::guarded_posterior);
    std::vector<std::string>& row = table.rows.emplace_back();
    row.push_back(fmt::format("Sheet {}", i + 1));
    for (const std::vector<std::string>& cells :
         {sums_written(sheet.hand.treated), sums_written(sheet.hand.control),
          limits_steps(sheet.hand),
          std::vector<std::string>{
              verdict_written(sheet.analysis.judgement.first_verdict()),
              held_word(interval_by(intervals, Method::log_ratio_1992), pack.truth),
              limits_written(posterior), held_word(posterior, pack.truth)}})
      row.insert(row.end(), cells.begin(), cells.end());
  }
  mark_misses(add_wide_table(body, table, "key"));
}

/// Why some have no limits, with the numbers of their worksheets.
void add_why_not(pugi::xml_node body, const StudentPack& pack) {
  std::map<std::string, std::vector<std::string>> sheets;
  for (std::size_t i = 0; i < pack.worksheets.size(); ++i)
    if (const std::string& why = pack.worksheets[i].hand.why_no_limits; !why.empty())
      sheets[why].push_back(fmt::format("{}", i + 1));
  for (const auto& [why, numbers] : sheets)
    add_element(body, "p",
                fmt::format("No limits by hand on sheet {}: {}.", fmt::join(numbers, ", "), why));
}

Formula number_of(double value) {
  return Formula(written(value));
}

/// The formulas, with the numbers of one worksheet put in.
void add_worked(pugi::xml_node body, const HandCalculation& hand, std::size_t number) {
  add_element(body, "h2", fmt::format("Worksheet {}, step by step", number));
  pugi::xml_node list = add_element(body, "ul", "", "worked");
  const auto add = [list](std::string_view name, const Formula& formula) {
    add_formula(add_element(list, "li", fmt::format("{} = ", name)), formula);
  };
  for (const auto& [name, sums] :
       {std::pair{"treated", &hand.treated}, std::pair{"untreated", &hand.control}}) {
    const Formula animals(fmt::format("{}", sums->animals));
    const Formula eggs(fmt::format("{}", sums->eggs));
    add(fmt::format("Mean, {}", name),
        Formula::fraction(eggs, animals) + "=" + number_of(sums->mean));
    add(fmt::format("Variance, {}", name),
        Formula::fraction(Formula(fmt::format("{} \u2212", sums->squares)) +
                              Formula::fraction(Formula::square(eggs), animals),
                          animals + "\u2212 1") +
            "=" + number_of(sums->variance));
    add(fmt::format("Share, {}", name),
        Formula::fraction(number_of(sums->variance),
                          animals + "\u00d7" + Formula::square(number_of(sums->mean))) +
            "=" + number_of(*sums->share_of_y));
  }
  const Formula ratio = number_of(ratio_of(hand));
  const Formula reach = number_of(reach_of(hand));
  add("Ratio",
      Formula::fraction(number_of(hand.treated.mean), number_of(hand.control.mean)) + "=" + ratio);
  add("Fall",
      Formula("100 \u00d7 ( 1 \u2212") + ratio + ") =" + percent_written(*hand.reduction).c_str());
  add("Y", number_of(*hand.treated.share_of_y) + "+" + number_of(*hand.control.share_of_y) + "=" +
               number_of(*hand.y2));
  add("Reach", Formula("exp (") + fmt::format("{:.3f}", hand.t).c_str() + "\u00d7" +
                   Formula::root(number_of(*hand.y2)) + ") =" + reach);
  add("Lower limit", Formula("100 \u00d7 ( 1 \u2212") + ratio + "\u00d7" + reach +
                         ") =" + percent_written(*hand.lower).c_str());
  add("Upper limit", Formula("100 \u00d7 ( 1 \u2212") + Formula::fraction(ratio, reach) +
                         ") =" + percent_written(*hand.upper).c_str());
}

} // namespace

std::string answers_page(const StudentPack& pack) {
  const std::string title = "Answers to the worksheets";
  HtmlPage page(title, std::string(student_answers_style) + std::string(miss_style) +
                           paper_foot(fmt::format("Answers, class of seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  const ScenarioGroup& treated = treated_group(pack.scenario);
  add_element(body, "p",
              fmt::format("Whoever teaches keeps this page. The truth of all worksheets is the "
                          "same: the {} removes {} here.",
                          drench_words(treated), percent_written(pack.truth)),
              "words-first");
  add_element(
      body, "p",
      fmt::format("Worked out in full and rounded for print only, so a last digit worked out "
                  "by hand may differ. To see the same numbers: eggfall analyse "
                  "tables/worksheet-01.csv --design two-group --criteria waavp-1992 "
                  "--level {:g} --seed {} --verbose, with the worksheet's number.",
                  100 * StudentPack::level, pack.seed),
      "words-first");
  add_key(body, pack);
  add_why_not(body, pack);
  const auto first = std::ranges::find_if(
      pack.worksheets, [](const Worksheet& sheet) { return sheet.hand.y2.has_value(); });
  if (first != pack.worksheets.end())
    add_worked(body, first->hand, static_cast<std::size_t>(first - pack.worksheets.begin()) + 1);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
