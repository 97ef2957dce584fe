#include "eggfall/class_pages.hpp"

#include "class_words.hpp"
#include "eggfall/version.hpp"
#include "html_page.hpp"
#include "provenance_words.hpp"

#include <fmt/format.h>

#include <map>

namespace eggfall {
namespace {

constexpr std::string_view style = R"css(
.pair { display: flex; flex-wrap: wrap; gap: 1rem; } .half { flex: 1 1 20rem; min-width: 0; }
.pair h2 { border-bottom: 0; } .pair svg { min-width: 0; }
@media print { .pair { gap: 5mm; flex-wrap: nowrap; } .half { flex: 1 1 0; } }
)css";

std::string plural(std::size_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string tally_words(const ClassPack& pack, Method method) {
  const IntervalTally counted = tally(pack, method);
  std::string text = fmt::format("{} of {} hold the truth", counted.held, pack.sheets.size());
  text += "; " + plural(counted.missed, "misses it", "miss it");
  if (counted.none > 0)
    text += "; " + plural(counted.none, "does not exist", "do not exist");
  return text + ".";
}

void add_line_up(pugi::xml_node parent, const ClassPack& pack, Method method,
                 const std::string& heading) {
  pugi::xml_node part = add_element(parent, "div", "", "half");
  add_element(part, "h2", heading);
  add_element(part, "p", tally_words(pack, method));
  add_svg(add_element(part, "figure"), line_up_figure(pack, method));
}

/// What the class would have told the farmer, by each criterion.
void add_verdicts(pugi::xml_node body, const ClassPack& pack) {
  constexpr VerdictClass shown[] = {VerdictClass::susceptible,  VerdictClass::low_resistant,
                                    VerdictClass::resistant,    VerdictClass::suspected,
                                    VerdictClass::inconclusive, VerdictClass::not_applicable};
  HtmlTable table{"Of so many tests of one drench on one farm, the verdicts", {"Criteria"}, {}};
  for (const VerdictClass each : shown)
    table.heads.emplace_back(each == VerdictClass::not_applicable ? "none" : to_string(each));
  std::vector<std::string> memory;
  const std::vector<Verdict>& criteria = pack.sheets.front().analysis.verdicts;
  for (std::size_t c = 0; c < criteria.size(); ++c) {
    std::map<VerdictClass, std::size_t> counts;
    for (const ClassSheet& sheet : pack.sheets)
      ++counts[sheet.analysis.verdicts[c].verdict_class];
    std::vector<std::string> row{criteria[c].criteria_title};
    for (const VerdictClass each : shown)
      row.push_back(fmt::format("{}", counts[each]));
    table.rows.push_back(std::move(row));
    if (criteria[c].citation.provenance == Provenance::memory)
      memory.push_back(criteria[c].criteria_title);
  }
  add_wide_table(body, table);
  if (!memory.empty())
    add_element(body, "p", fmt::format("Cut-offs {}: {}.", from_memory, fmt::join(memory, "; ")),
                "note");
}

/// What the 1992 criterion and the truth make of each other.
std::string truth_words(const ClassPack& pack) {
  const Verdict& verdict = pack.sheets.front().analysis.verdicts.front();
  const bool works = pack.truth >= *verdict.expected;
  return fmt::format("The {} truly removes {} here: {} the {:g}% that a drench that works is "
                     "expected to remove.",
                     drench_words(treated_group(pack.scenario)), percent_written(pack.truth),
                     works ? "at or above" : "below", 100 * *verdict.expected);
}

} // namespace

std::string line_up_page(const ClassPack& pack) {
  const std::string title = "The line-up: every test of the class against the truth";
  HtmlPage page(title, style);
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p", truth_words(pack));
  add_element(
      body, "p",
      fmt::format("Every line is one student's test: other {}, other eggs, the same farm and "
                  "drench. A {:g}% interval should miss the truth in {:g} of 100 tests: in {:.1f} "
                  "of {}, on average.",
                  host_words(pack.scenario), 100 * ClassPack::level, 100 * (1 - ClassPack::level),
                  (1 - ClassPack::level) * static_cast<double>(pack.sheets.size()),
                  pack.sheets.size()));
  pugi::xml_node both = add_element(body, "div", "", "pair");
  add_line_up(both, pack, Method::log_ratio_1992, "By hand, formula of 1992");
  add_line_up(both, pack, Method::guarded_posterior, "Posterior, guarded, same counts");
  add_element(body, "p",
              "Where no egg is left after treatment the formula has no limits, and a fall of 100% "
              "looks like proof. The posterior has limits there too; they are wide, because few "
              "eggs tell little. An interval that is short is not therefore right.");
  add_verdicts(body, pack);
  add_element(body, "p",
              "Ask the class: had you done only your own test, what would you have told the "
              "farmer? How many of you would have been right? What would have made the answer "
              "surer: more animals, or more eggs counted of each?");
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
