#include "eggfall/report/analysis_page.hpp"

#include "formats/drawing/html_page.hpp"
#include "report/evidence_part.hpp"
#include "report/farmer_part.hpp"
#include "report/method_part.hpp"

#include <string_view>

namespace eggfall {
namespace {

constexpr std::string_view analysis_page_style = R"css(
figure { max-width: 30rem; padding: 0.2rem; }
svg { min-width: 0; display: block; }
.sign { width: 1.7rem; height: 1.7rem; flex: none; background: #ffffff; border-radius: 0.3rem; }
.drench { border: 2px solid var(--ink); padding: 0.2rem 0.9rem 0.6rem; margin: 0.9rem 0; }
.standing { display: flex; align-items: center; flex-wrap: wrap; gap: 0.2rem 0.5rem;
  border: none; margin: 0.5rem 0 0; }
.standing span { unicode-bidi: isolate; min-width: 0; overflow-wrap: anywhere; }
.drench p { margin: 0.4rem 0; }
h1, h2, h3, p, li, tbody th { overflow-wrap: anywhere; }
figcaption { font-style: italic; font-size: 0.95rem; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 0.3rem; border-bottom: 1px solid var(--ink); }
h4 { font-size: 1rem; margin: 0.8rem 0 0.2rem; }
.group tbody th, .evidence tbody th { min-width: 4rem; }
.words td { min-width: 7rem; }
dt { font-weight: bold; margin-top: 0.4rem; } dd { margin-left: 1.2rem; }
@media print {
  .evidence, .farmer + .farmer, .evidence + .farmer { break-before: page; }
  .drench { break-inside: avoid; padding: 0 3mm 1mm; margin: 1.5mm 0; }
  .farmer { font-size: 10pt; line-height: 1.3; } .farmer figure { max-width: 85mm; margin: 0; }
  .farmer p { margin: 1mm 0; } .farmer .note { font-size: 9pt; }
  .farmer h1 { font-size: 15pt; } .farmer h2 { font-size: 12pt; }
  figure { break-inside: avoid; max-width: 120mm; } h3, h4, caption { break-after: avoid; }
}
)css";

} // namespace

std::string analysis_report(const std::vector<TrialAnalysis>& trials,
                            const AnalysisSettings& settings) {
  HtmlPage page(trials.size() == 1 ? "Drench test: " + trials.front().trial
                                   : std::string("Drench tests"),
                analysis_page_style);
  pugi::xml_node body = add_element(page.body(), "main");
  for (std::size_t i = 0; i < trials.size(); ++i) {
    add_farmer_part(body, trials[i]);
    add_evidence_part(body, trials[i], i + 1);
  }
  add_method_part(body, trials, settings);
  return page.text();
}

} // namespace eggfall
