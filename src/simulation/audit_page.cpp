#include "simulation/audit_page.hpp"

#include "base/user_text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "simulation/audit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <string_view>

namespace eggfall {
namespace {

/// Words that Markdown is to show as they are: its marks, and those of HTML, set aside.
std::string markdown_words(std::string_view text) {
  constexpr std::string_view marks = R"(\`*_{}[]()<>#&!|~)";
  std::string out;
  for (const char c : without_controls(text)) {
    if (marks.find(c) != std::string_view::npos)
      out += '\\';
    out += c;
  }
  return out;
}

/// The name of a file beside the page, as a link takes it.
std::string link_target(std::string_view file) {
  constexpr std::string_view plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                     "0123456789-._~";
  std::string out;
  for (const char c : file)
    out += plain.find(c) != std::string_view::npos
               ? std::string(1, c)
               : fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
  return out;
}

/// Text as it stands on a screen, between fences longer than any run of their mark in it, so that
/// no title in it can end it.
std::string fenced(std::string_view text) {
  std::string fence = "```";
  while (text.find(fence) != std::string_view::npos)
    fence += '`';
  return fmt::format("{0}\n{1}{0}\n", fence, for_screen(text));
}

std::string markdown_row(const std::vector<std::string>& cells) {
  return fmt::format("| {} |\n", fmt::join(cells, " | "));
}

std::string in_bold_below_target(double covered, double level) {
  return fmt::format("{0}{1:.1f}{0}", covered < coverage_target(level) ? "**" : "", 100 * covered);
}

/// "93.2 / 12.1": coverage in percent, bold below the target, and mean width in points.
std::string coverage_cell(const CellTally& tally, const MethodTally& method, double level) {
  const auto width = mean_width(method);
  return in_bold_below_target(coverage(tally, method).value, level) + " / " +
         (width ? fmt::format("{:.1f}", *width) : "-");
}

/// The lowest coverage of each method, by what is unusual about the cells.
std::string kind_table(const AuditResult& result, Design design) {
  struct Kind {
    std::string name;
    std::size_t cells = 0;
    std::vector<std::optional<double>> worst; ///< Empty: not audited in these cells.
  };
  std::vector<Kind> kinds; // in order of appearance
  const std::vector<Method> methods = audited_methods(result.settings, design);
  for (const AuditedCell& audited : result.cells) {
    if (audited.cell.design != design || estimable(audited.tally) == 0)
      continue;
    const std::string name = unusual(audited.cell);
    auto kind = std::ranges::find(kinds, name, &Kind::name);
    if (kind == kinds.end())
      kind =
          kinds.insert(kinds.end(), {name, 0, std::vector<std::optional<double>>(methods.size())});
    ++kind->cells;
    for (std::size_t m = 0; m < methods.size(); ++m)
      if (const MethodTally* tally = tally_of(audited.tally, methods[m]))
        kind->worst[m] =
            std::min(kind->worst[m].value_or(1), coverage(audited.tally, *tally).value);
  }
  std::vector<std::string> header{"truth", "cells"};
  for (const Method method : methods)
    header.emplace_back(title(method));
  std::string out =
      markdown_row(header) + markdown_row(std::vector<std::string>(header.size(), "---"));
  for (const Kind& kind : kinds) {
    std::vector<std::string> row{kind.name.empty() ? "nothing unusual" : kind.name,
                                 fmt::format("{}", kind.cells)};
    for (const std::optional<double>& worst : kind.worst)
      row.push_back(worst ? in_bold_below_target(*worst, result.settings.level) : "-");
    out += markdown_row(row);
  }
  return out;
}

/// On which side each method misses, and where most.
std::string miss_table_of(const std::vector<MethodSummary>& summaries, Design design) {
  std::string out =
      markdown_row({"interval", "above: mean", "worst", "in", "below: mean", "worst", "in"}) +
      markdown_row(std::vector<std::string>(7, "---"));
  const auto shown = [](const MissSummary& missed) {
    return std::vector<std::string>{fmt::format("{:.1f}", 100 * missed.mean),
                                    fmt::format("{:.1f}", 100 * missed.worst.value),
                                    cell_words(missed.worst_cell->cell)};
  };
  for (const MethodSummary& summary : summaries) {
    if (summary.design != design)
      continue;
    std::vector<std::string> row{std::string(title(summary.method))};
    for (const MissSummary* missed : {&summary.above, &summary.below})
      std::ranges::copy(shown(*missed), std::back_inserter(row));
    out += markdown_row(row);
  }
  return out;
}

std::string cell_table(const AuditResult& result, Design design) {
  std::vector<std::string> header{"n", "eggs", "k", "within", "efficacy", "besides"};
  const std::vector<Method> methods = audited_methods(result.settings, design);
  for (const Method method : methods)
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
    for (const Method method : methods) {
      const MethodTally* tally = tally_of(audited.tally, method);
      row.push_back(tally != nullptr ? coverage_cell(audited.tally, *tally, result.settings.level)
                                     : "-");
    }
    out += markdown_row(row);
  }
  return out;
}

} // namespace

std::string audit_page(const AuditResult& result, const AuditPage& page) {
  const AuditSettings& settings = result.settings;
  const std::string title = markdown_words(page.title);
  std::string out = fmt::format(
      "# {}\n\nMade by `eggfall audit --page`, version {}: {} settings, {} trials of each, seed "
      "{}. Do not edit; docs/audit.md says how to read it.\n\n",
      title, result.version, result.cells.size(), settings.trials, settings.seed);
  for (const std::string& figure : page.figures)
    out += fmt::format("![{}]({})\n\n", title, link_target(figure));
  out += fenced(audit_text(result, Verbosity::full));
  for (const Design design : audited_designs(result))
    out +=
        fmt::format("\n## The worst cells of the design {}, by kind of truth\n\nLowest percent of "
                    "the {:g}% intervals that held the truth (bold below {:g}).\n\n",
                    to_string(design), 100 * result.settings.level,
                    100 * coverage_target(result.settings.level)) +
        kind_table(result, design);
  const std::vector<MethodSummary> summaries = method_summaries(result);
  for (const Design design : audited_designs(result))
    out +=
        fmt::format("\n## On which side they miss, design {}\n\nPercent of the {:g}% intervals "
                    "that lie above the truth, so that they flatter the drench, and below it: the "
                    "mean over cells, and the cell with the most.\n\n",
                    to_string(design), 100 * settings.level) +
        miss_table_of(summaries, design);
  for (const Design design : audited_designs(result))
    out +=
        fmt::format("\n## Each cell of the design {}\n\nPercent of the {:g}% intervals that held "
                    "the truth (bold below {:g}) / mean width in points; n treated animals.\n\n",
                    to_string(design), 100 * result.settings.level,
                    100 * coverage_target(result.settings.level)) +
        cell_table(result, design);
  return out;
}

} // namespace eggfall
