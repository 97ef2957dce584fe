#include "simulation/audit_html_page.hpp"

#include "formats/drawing/captioned_figure.hpp"
#include "formats/drawing/html_page.hpp"
#include "simulation/audit_figures.hpp"
#include "simulation/audit_tables.hpp"
#include "simulation/audit_text.hpp"

#include <fmt/format.h>

#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

/// As many panels stand side by side as leave their text its size: two on a phone, five on a wide
/// screen.
constexpr std::string_view audit_page_style = R"css(
body { max-width: 56rem; }
h3 { font-size: 1.05rem; margin: 1.2rem 0 0.3rem; } h4 { font-size: 1rem; margin: 0.9rem 0 0.2rem; }
.panels { display: grid; gap: 0.6rem 0.5rem;
  grid-template-columns: repeat(auto-fill, minmax(9.75rem, 1fr)); }
.panels figure { margin: 0; display: flex; flex-direction: column; justify-content: flex-end; }
.panels .finding { font-size: 0.8125rem; order: -2; }
.panels figcaption { font-size: 0.8125rem; line-height: 1.25; margin-bottom: auto; order: -1; }
.legend svg { max-width: 26rem; }
td[data-head="in"] { text-align: left; }
.missed { font-weight: bold; color: var(--miss); }
summary { padding: 0.7rem 0; font-style: italic; cursor: pointer; }
@media print {
  h3, h4, .note, .legend { break-after: avoid; } p, .summary table { break-inside: avoid; }
  summary { padding: 0.2rem 0; } table { font-size: 8pt; }
}
)css";

void add_panels(pugi::xml_node parent, const PanelFigure& figure, const PanelSection& section) {
  const pugi::xml_node panels = add_element(parent, "div", "", "panels");
  for (const Panel& panel : section.panels)
    add_figure(panels,
               {panel.title, drawn_alone(figure, panel, section.heading + ": " + panel.title),
                fmt::format("{}", fmt::join(panel.notes, "; "))});
}

/// How to read panels, and their legend, once for all of them.
void add_reading(pugi::xml_node body, const PanelFigure& figure) {
  add_element(
      body, "p",
      fmt::format("{} Across: {}. Upward: {}.", figure.how_to_read, figure.x_title, figure.y_title),
      "note");
  add_inked_svg(add_element(body, "div", "", "legend"), drawn_legend(figure));
}

void add_coverage(pugi::xml_node body, const AuditResult& result) {
  const PanelFigure figure = coverage_panels(result);
  add_element(body, "h2", "Do the intervals hold the truth?");
  add_element(body, "p", figure.title, "finding");
  add_reading(body, figure);
  for (const PanelSection& section : figure.sections) {
    add_element(body, "h3", section.heading);
    add_panels(body, figure, section);
  }
}

void add_verdicts(pugi::xml_node body, const AuditResult& result,
                  const std::vector<Design>& designs) {
  add_element(body, "h2", "Which class does each criterion give?");
  bool told = false;
  for (const Design design : designs) {
    const PanelFigure figure = verdict_panels(result, design);
    if (!told)
      add_reading(body, figure);
    told = true;
    add_element(body, "h3", figure.title);
    for (const PanelSection& section : figure.sections) {
      add_element(body, "h4", section.heading);
      add_element(body, "p", section.note, "note");
      add_panels(body, figure, section);
    }
  }
}

/// A table whose coverages below the target are marked by weight as well as by colour.
void add_audit_table(pugi::xml_node parent, const AuditTable& table) {
  HtmlTable html{table.heading, table.heads, {}};
  for (const std::vector<AuditValue>& row : table.rows) {
    std::vector<std::string> cells;
    for (const AuditValue& value : row)
      cells.push_back(value.text + value.after);
    html.rows.push_back(std::move(cells));
  }
  const pugi::xml_node node = add_wide_table(parent, html);
  auto row = table.rows.begin();
  for (const pugi::xml_node tr : node.child("tbody").children()) {
    auto value = (row++)->begin();
    for (pugi::xml_node cell : tr.children())
      if ((value++)->below_target)
        cell.append_attribute("class").set_value("missed");
  }
}

void add_numbers(pugi::xml_node body, const AuditResult& result) {
  add_element(body, "h2", "In numbers");
  const pugi::xml_node numbers = add_element(body, "div", "", "summary");
  std::string_view said;
  const std::vector<AuditTable> tables = summary_tables(result);
  for (const AuditTable& table : tables) {
    if (table.note != said)
      add_element(numbers, "p", table.note, "note");
    said = table.note;
    add_audit_table(numbers, table);
  }
}

/// The table of all farms, which nobody reads from first to last: it stands open only if it is
/// short.
void add_cells(pugi::xml_node body, const AuditResult& result) {
  constexpr std::size_t few = 12;
  add_element(body, "h2", "Cell by cell");
  const std::vector<AuditTable> tables = farm_tables(result);
  if (!tables.empty())
    add_element(body, "p", tables.front().note + " What is closed is not printed.", "note");
  for (const AuditTable& table : tables) {
    pugi::xml_node details = add_element(body, "details");
    if (table.rows.size() <= few)
      details.append_attribute("open").set_value("open");
    add_element(details, "summary",
                fmt::format("{} ({} row{})", table.heading, table.rows.size(),
                            table.rows.size() == 1 ? "" : "s"));
    add_audit_table(details, table);
  }
}

} // namespace

std::string audit_html_page(const AuditResult& result, std::string_view title) {
  const std::string made_by =
      fmt::format("Made by eggfall {}: {}", result.version, how_simulated(result));
  HtmlPage page(title,
                std::string(audit_page_style) + paper_foot(fmt::format("{}. {}", title, made_by)));
  const pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p", made_by, "note");
  for (const std::string& note : audit_notes(result))
    add_element(body, "p", note);
  const std::vector<Design> designs = designs_to_draw(result);
  if (!designs.empty())
    add_coverage(body, result);
  if (!designs.empty() && !result.settings.criteria.empty())
    add_verdicts(body, result, designs);
  add_numbers(body, result);
  add_cells(body, result);
  return page.text();
}

} // namespace eggfall
