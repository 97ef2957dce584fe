#include "eggfall/write_audit_page.hpp"

#include "eggfall/audit_summary.hpp"
#include "eggfall/percent.hpp"
#include "eggfall/version.hpp"
#include "eggfall/write_audit.hpp"

#include <fmt/format.h>

#include <set>

namespace eggfall {
namespace {

std::string markdown_row(const std::vector<std::string>& cells) {
  return fmt::format("| {} |\n", fmt::join(cells, " | "));
}

/// "93.2 / 12.1": coverage in percent, bold below the target, and mean width in points.
std::string coverage_cell(const CellTally& tally, const MethodTally& method) {
  const double held = coverage(tally, method).value;
  const auto width = mean_width(method);
  return fmt::format("{0}{1:.1f}{0} / {2}", held < coverage_target ? "**" : "", 100 * held,
                     width ? fmt::format("{:.1f}", *width) : "-");
}

std::string cell_table(const AuditResult& result, Design design) {
  std::vector<std::string> header{"n", "eggs", "k", "within", "efficacy", "besides"};
  for (const Method method : audited_methods(result.settings, design))
    header.emplace_back(title(method));
  std::string out =
      markdown_row(header) + markdown_row(std::vector<std::string>(header.size(), "---"));
  for (const AuditedCell& audited : result.cells) {
    if (audited.cell.design != design)
      continue;
    const CountModel& m = audited.cell.model;
    std::vector<std::string> row{fmt::format("{}", m.animals), fmt::format("{:g}", m.mean_eggs),
                                 fmt::format("{:g}", m.k),     fmt::format("{:g}", m.within_cv),
                                 percent(true_efficacy(m)),    unusual(audited.cell)};
    for (const MethodTally& method : audited.tally.methods)
      row.push_back(coverage_cell(audited.tally, method));
    out += markdown_row(row);
  }
  return out;
}

} // namespace

std::string audit_page(const AuditResult& result, const AuditPage& page) {
  const AuditSettings& settings = result.settings;
  std::string out = fmt::format(
      "# {}\n\nMade by `eggfall audit --page`, version {}: {} settings, {} trials of each, seed "
      "{}, "
      "{} bootstrap resamples a trial. Do not edit. [docs/audit.md](../audit.md) says how to read "
      "it.\n\n",
      page.title, version(), result.cells.size(), settings.trials, settings.seed,
      settings.resamples);
  for (const std::string& figure : page.figures)
    out += fmt::format("![{}]({})\n\n", page.title, figure);
  out += "```\n" + audit_text(result, Detail::full) + "```\n";
  for (const Design design : audited_designs(result))
    out +=
        fmt::format("\n## Each cell of the design {}\n\nPercent of the {:g}% intervals that held "
                    "the truth (bold below {:g}) / mean width in points; n animals a group.\n\n",
                    to_string(design), 100 * result.settings.level, 100 * coverage_target) +
        cell_table(result, design);
  return out;
}

} // namespace eggfall
