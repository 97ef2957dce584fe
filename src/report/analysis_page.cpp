#include "eggfall/report/analysis_page.hpp"

#include "base/date.hpp"
#include "formats/drawing/html_page.hpp"
#include "report/evidence_part.hpp"
#include "report/farmer_part.hpp"
#include "report/method_part.hpp"

#include <fmt/format.h>

#include <chrono>
#include <optional>
#include <string_view>

namespace eggfall {
namespace {

constexpr std::string_view analysis_page_style = R"css(
figure { max-width: 26rem; }
.sign { width: 1.7rem; height: 1.7rem; flex: none; min-width: 0; }
.drench { border: 2px solid var(--ink); padding: 0.2rem 0.9rem 0.6rem; margin: 0.9rem 0; }
.standing { display: flex; align-items: center; flex-wrap: wrap; gap: 0.2rem 0.5rem;
  border: none; margin: 0.5rem 0 0; }
.standing span { unicode-bidi: isolate; min-width: 0; }
.strip { list-style: none; margin: 0.6rem 0; padding: 0; }
.strip li { border-top: 1px solid var(--rule); padding: 0.25rem 0; }
.strip .standing { margin: 0; line-height: 1.3; } .strip .name { font-weight: bold; }
.strip .reason { color: var(--quiet); font-size: 0.9rem; }
.strip .strip { margin: 0 0 0 2.2rem; } .strip .strip li { border: none; padding: 0.1rem 0; }
.strip .strip .sign { width: 1.2rem; height: 1.2rem; }
.drench p { margin: 0.4rem 0; } .drench figure { margin: 0.4rem 0; }
.worms { display: grid; gap: 0.2rem 1rem; grid-template-columns: repeat(auto-fit,
  minmax(min(100%, 16rem), 1fr)); }
.worm figure { max-width: 24rem; } .worm .sign { width: 1.3rem; height: 1.3rem; }
.worm h3 { font-size: 1rem; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 0.3rem; border-bottom: 1px solid var(--ink); }
h4 { font-size: 1rem; margin: 0.8rem 0 0.2rem; }
.panels { display: grid; gap: 0 1.2rem;
  grid-template-columns: repeat(auto-fit, minmax(14rem, 1fr)); }
.panels figure { max-width: 20rem; margin: 0; display: grid; grid-row: span 2;
  grid-template-rows: subgrid; grid-template-columns: minmax(0, 1fr); }
.panels .finding { align-self: end; }
.entries { display: grid; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr));
  gap: 0 1.5rem; }
.entries p { margin: 0.2rem 0; display: flex; gap: 0.5rem; }
.entries .blank { flex: 1; border-bottom: 1px solid var(--ink); min-height: 1.9rem; }
.group tbody th, .evidence tbody th { min-width: 4rem; }
.words td { min-width: 7rem; }
dt { font-weight: bold; margin-top: 0.4rem; } dd { margin-left: 1.2rem; }
@media print, (min-width: 45rem) {
  .drench { display: grid; grid-template-columns: minmax(0, 1fr) 24rem; column-gap: 1.2rem;
    align-items: start; }
  .drench p, .drench .tray { grid-column: 1; } .drench .standing, .drench .worms, .drench .next,
  .drench .note { grid-column: 1 / -1; }
  .drench .tray { grid-column: 2; grid-row: 3 / span 8; }
}
@media (max-width: 37rem) {
  .drench { padding: 0.1rem 0.35rem 0.5rem; }
}
@media print {
  .evidence, .appendix + .farmer { break-before: page; }
  .drench { break-inside: avoid; padding: 0 3mm 1mm; margin: 1.5mm 0;
    grid-template-columns: minmax(0, 1fr) 66mm; column-gap: 4mm; }
  .farmer { font-size: 10pt; line-height: 1.3; } .strip { margin: 1mm 0; }
  .farmer p, .drench figure { margin: 0.8mm 0; } .farmer .note { font-size: 9pt; }
  .farmer h1 { font-size: 15pt; } .farmer h2 { font-size: 12pt; }
  .worms { grid-template-columns: repeat(3, 1fr); }
  .evidence, .appendix, .method { font-size: 9pt; line-height: 1.3; }
  .evidence p, .evidence ul, .appendix p, .method p, .method ul { margin: 1mm 0; }
  .evidence h3, .appendix h3, .method h3 { margin: 3mm 0 1mm; font-size: 11pt; }
  .evidence h4 { margin: 1.5mm 0 0; font-size: 9.5pt; }
  .evidence table, .appendix table { margin: 1.5mm 0; font-size: 8pt; }
  .evidence th, .evidence td, .appendix th, .appendix td { padding: 0.2mm 1.2mm; }
  .evidence tbody th { min-width: 0; } .words td { min-width: 0; }
  .panels { grid-template-columns: repeat(auto-fit, minmax(42mm, 1fr)); gap: 0 5mm; }
  .panels figure { max-width: 58mm; }
  .evidence .falls { max-width: 104mm; }
  .two-abreast { columns: 2; column-gap: 5mm; } .two-abreast table { font-size: 7.5pt; }
  .two-abreast table { margin-top: 0; }
  .two-abreast .wide { break-inside: avoid; }
  .method dl { columns: 2; } dt { margin-top: 1mm; break-after: avoid; } dd { margin: 0 0 0 4mm; }
  h3, h4, caption, .finding, thead { break-after: avoid; } .note.key { break-before: avoid; }
}
)css";

/// What stands at the foot of each sheet of paper.
std::string foot_of(const std::vector<TrialAnalysis>& trials) {
  if (trials.size() != 1)
    return fmt::format("Drench tests, {} trials", trials.size());
  std::optional<std::chrono::year_month_day> last;
  for (const GroupAnalysis& group : trials.front().groups)
    if (const auto& dates = group.field.days.second_samples;
        dates && (!last || *last < dates->last))
      last = dates->last;
  return "Drench test: " + trials.front().trial +
         (last ? fmt::format(", second sample {}", date_in_words(*last)) : "");
}

} // namespace

std::string analysis_report(const std::vector<TrialAnalysis>& trials,
                            const AnalysisSettings& settings, const ReportHeading& heading) {
  HtmlPage page(trials.size() == 1 ? "Drench test: " + trials.front().trial
                                   : std::string("Drench tests"),
                std::string(analysis_page_style) + paper_foot(foot_of(trials)));
  pugi::xml_node body = add_element(page.body(), "main");
  for (std::size_t i = 0; i < trials.size(); ++i) {
    add_farmer_part(body, trials[i]);
    add_evidence_part(body, trials[i], heading, i + 1);
  }
  add_method_part(body, trials, settings);
  return page.text();
}

} // namespace eggfall
