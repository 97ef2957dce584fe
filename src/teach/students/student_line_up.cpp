#include "teach/students/student_line_up.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "judgement/provenance_words.hpp"
#include "teach/students/line_up_pair.hpp"
#include "teach/students/student_words.hpp"

#include <fmt/format.h>

#include <map>
#include <string_view>

namespace eggfall {
namespace {

/// Laid across, so that all tests stand on one sheet beside that on the wall.
constexpr std::string_view line_up_page_style = R"css(
@page { size: A4 landscape; margin: 12mm 15mm; }
@media print { .pair svg { max-height: 116mm; } .pair figcaption { font-size: 8.5pt; }
  h1 { font-size: 1.3rem; margin: 0; } h2 { margin-top: 0; } p { margin: 0.4rem 0; }
  .told { break-before: page; } }
)css";

/// What the class would have told the farmer, by each criterion.
void add_verdicts(pugi::xml_node body, const StudentPack& pack) {
  HtmlTable table{"Of so many tests of one drench on one farm, the verdicts", {"Criteria"}, {}};
  for (const VerdictClass each : all_verdict_classes)
    table.heads.emplace_back(each == VerdictClass::not_applicable ? "none" : to_string(each));
  std::vector<std::string> memory;
  const std::vector<Verdict>& criteria = pack.worksheets.front().analysis.judgement.verdicts;
  for (std::size_t c = 0; c < criteria.size(); ++c) {
    std::map<VerdictClass, std::size_t> counts;
    for (const Worksheet& sheet : pack.worksheets)
      ++counts[sheet.analysis.judgement.verdicts[c].verdict_class];
    if (counts[VerdictClass::not_applicable] == pack.worksheets.size())
      continue;
    std::vector<std::string> row{criteria[c].criteria_title};
    for (const VerdictClass each : all_verdict_classes)
      row.push_back(fmt::format("{}", counts[each]));
    table.rows.push_back(std::move(row));
    if (criteria[c].citation.provenance == Provenance::memory)
      memory.push_back(criteria[c].criteria_title);
  }
  add_wide_table(body, table);
  if (!memory.empty())
    add_element(body, "p",
                fmt::format("Cut-offs {}: {}.", note_from_memory, fmt::join(memory, "; ")), "note");
}

/// What the 1992 criterion and the truth make of each other.
std::string truth_words(const StudentPack& pack) {
  const Verdict& verdict = pack.worksheets.front().analysis.judgement.first_verdict();
  const bool works = pack.truth >= *verdict.expected;
  return fmt::format("The {} truly removes {} here: {} the {:g}% that a drench that works is "
                     "expected to remove.",
                     drench_words(treated_group(pack.scenario)), percent_written(pack.truth),
                     works ? "at or above" : "below", 100 * *verdict.expected);
}

} // namespace

std::string line_up_page(const StudentPack& pack) {
  const std::string title = "The line-up: every test of the class against the truth";
  HtmlPage page(title, std::string(line_up_pair_style) + std::string(line_up_page_style) +
                           paper_foot(fmt::format("The line-up, class of seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p", truth_words(pack));
  add_element(
      body, "p",
      fmt::format("Every line is one student's test: other {}, other eggs, the same farm and "
                  "drench. A {:g}% interval should miss the truth in {:g} of 100 tests: in {:.1f} "
                  "of {}, on average.",
                  host_words(pack.scenario), 100 * StudentPack::level,
                  100 * (1 - StudentPack::level),
                  (1 - StudentPack::level) * static_cast<double>(pack.worksheets.size()),
                  pack.worksheets.size()));
  add_element(body, "h2", "Which intervals hold the truth?");
  add_line_up_pair(body, students_line_up(pack));
  pugi::xml_node told = add_element(body, "section", "", "told");
  add_element(told, "p",
              "Where no egg is seen after treatment the formula has no limits, and a fall of 100% "
              "looks like proof. The posterior has limits there too; they are wide, because few "
              "eggs tell little. An interval that is short is not therefore right.");
  add_element(told, "h2", "What the farmer would have been told");
  add_verdicts(told, pack);
  add_element(told, "p",
              "Ask the class: had you done only your own test, what would you have told the "
              "farmer? How many of you would have been right? What would have made the answer "
              "surer: more animals, or more eggs counted of each?");
  add_element(told, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
