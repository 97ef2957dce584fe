#include "simulation/audit_tables.hpp"

#include "eggfall/base/percent.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "simulation/audit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

AuditValue in_100(double share) {
  return {fmt::format("{:.1f}", 100 * share)};
}

/// "93.2 (0.6)": in percent, and the Monte Carlo error.
AuditValue with_error(const Share& share) {
  AuditValue value = in_100(share.value);
  value.after = fmt::format(" ({:.1f})", 100 * share.error);
  return value;
}

AuditValue covered_value(double covered, double level) {
  AuditValue value = in_100(covered);
  value.below_target = covered < coverage_target(level);
  return value;
}

std::string points(const std::optional<double>& width) {
  return width ? fmt::format("{:.1f}", *width) : "-";
}

/// A row that starts with a name, to be filled.
std::vector<AuditValue> row_of(std::string_view name) {
  return std::vector<AuditValue>{AuditValue{std::string(name)}};
}

AuditTable interval_table(const AuditResult& result, Design design,
                          const std::vector<MethodSummary>& summaries) {
  const double level = result.settings.level;
  const double target = 100 * coverage_target(level);
  AuditTable table{
      fmt::format("What each interval is worth, design {}", to_string(design)),
      fmt::format("Of 100 trials, how many {:g}% intervals held the truth (Monte Carlo error in "
                  "brackets; bold below {:g}): the mean over cells, and the worst cell. Width in "
                  "points of percent. Relative width: that of the {} over this one's, in the cells "
                  "(so many) where this one holds the truth {:g} times or more.",
                  100 * level, target, title(Method::guarded_posterior), target),
      {"interval", "mean", "worst", "in", fmt::format("cells below {:g}", target), "no interval",
       "width", "relative width"},
      {}};
  const std::vector<WidthComparison> widths = width_comparisons(result);
  for (const MethodSummary& summary : summaries) {
    if (summary.design != design)
      continue;
    std::vector<AuditValue> row = row_of(title(summary.method));
    row.push_back(covered_value(summary.mean_coverage, level));
    row.push_back(with_error(summary.worst));
    row.back().below_target = summary.worst.value < coverage_target(level);
    row.push_back({farm_words(summary.worst_farm->farm)});
    row.push_back({fmt::format("{} of {}", summary.below_target, summary.farms)});
    row.push_back(in_100(summary.unusable));
    row.push_back({points(summary.mean_width)});
    const auto width = std::ranges::find_if(widths, [&](const WidthComparison& each) {
      return each.design == design && each.method == summary.method;
    });
    row.push_back(width == widths.end() ? AuditValue{"-"}
                                        : AuditValue{fmt::format("{:.2f}", width->ratio),
                                                     fmt::format(" ({})", width->farms)});
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// The lowest coverage of each method, by what is unusual about the farms.
AuditTable kind_table(const AuditResult& result, Design design) {
  struct Kind {
    std::string name;
    std::size_t farms = 0;
    std::vector<std::optional<double>> worst; ///< Empty: not audited on these farms.
  };
  std::vector<Kind> kinds; // in order of appearance
  const std::vector<Method> methods = audited_methods(result.settings, design);
  for (const AuditedFarm& audited : result.farms) {
    if (audited.farm.design != design || estimable(audited.tally) == 0)
      continue;
    const std::string name = unusual(audited.farm);
    auto kind = std::ranges::find(kinds, name, &Kind::name);
    if (kind == kinds.end())
      kind =
          kinds.insert(kinds.end(), {name, 0, std::vector<std::optional<double>>(methods.size())});
    ++kind->farms;
    for (std::size_t m = 0; m < methods.size(); ++m)
      if (const MethodTally* tally = tally_of(audited.tally, methods[m]))
        kind->worst[m] =
            std::min(kind->worst[m].value_or(1), coverage(audited.tally, *tally).value);
  }
  AuditTable table{
      fmt::format("The worst cells of the design {}, by kind of truth", to_string(design)),
      fmt::format("Lowest percent of the {:g}% intervals that held the truth (bold below {:g}).",
                  100 * result.settings.level, 100 * coverage_target(result.settings.level)),
      {"truth", "cells"},
      {}};
  for (const Method method : methods)
    table.heads.emplace_back(title(method));
  if (kinds.size() < 2) // the worst of all farms, which stand in another table
    return table;
  for (const Kind& kind : kinds) {
    std::vector<AuditValue> row = row_of(kind.name.empty() ? "nothing unusual" : kind.name);
    row.push_back({fmt::format("{}", kind.farms)});
    for (const std::optional<double>& worst : kind.worst)
      row.push_back(worst ? covered_value(*worst, result.settings.level) : AuditValue{"-"});
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// On which side each method misses, and where most: a drench that is flattered goes on being used.
AuditTable sides_table(const AuditResult& result, Design design,
                       const std::vector<MethodSummary>& summaries) {
  AuditTable table{
      fmt::format("On which side they miss, design {}", to_string(design)),
      fmt::format("Percent of the {:g}% intervals that lie above the truth, so that they flatter "
                  "the drench, and below it: the mean over cells, and the cell with the most.",
                  100 * result.settings.level),
      {"interval", "above: mean", "worst", "in", "below: mean", "worst", "in"},
      {}};
  for (const MethodSummary& summary : summaries) {
    if (summary.design != design)
      continue;
    std::vector<AuditValue> row = row_of(title(summary.method));
    for (const MissSummary* missed : {&summary.above, &summary.below}) {
      row.push_back(in_100(missed->mean));
      row.push_back(in_100(missed->worst.value));
      row.push_back({farm_words(missed->worst_farm->farm)});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// Both false claims of a criterion with each interval.
AuditTable false_claims_table(const AuditResult& result, Design design, std::size_t criterion,
                              const std::vector<ClaimSummary>& summaries) {
  const AuditCriterion& judged_by = result.settings.criteria[criterion];
  const double expected = 100 * judged_by.cut_off.expected;
  const double lower = 100 * judged_by.cut_off.lower.value_or(judged_by.cut_off.expected);
  AuditTable table{
      fmt::format("False claims by {}, design {}", judged_by.title, to_string(design)),
      fmt::format(
          "Of 100 trials: how many claim resistance of a drench that removes {:g}% or "
          "more, and how many that one works which removes less than {:g}% (Monte Carlo "
          "error in brackets).{}",
          expected, lower,
          judged_by.rule == Rule::two_one_sided
              ? fmt::format(" The rule means to allow {:g}.", 100 * (1 - judged_by.level) / 2)
              : std::string()),
      {"interval", fmt::format("resistant at {:g}+: cells", expected), "mean", "worst",
       fmt::format("works below {:g}: cells", lower), "mean", "worst"},
      {}};
  for (const Method method : audited_methods(result.settings, design)) {
    std::vector<AuditValue> row = row_of(title(method));
    bool any = false;
    for (const Claim claim : {Claim::resistance, Claim::good_efficacy}) {
      const auto found = std::ranges::find_if(summaries, [&](const ClaimSummary& each) {
        return each.design == design && each.criterion == criterion && each.claim == claim &&
               each.method == method;
      });
      if (found == summaries.end()) {
        row.insert(row.end(), 3, AuditValue{"-"});
        continue;
      }
      any = true;
      row.push_back({fmt::format("{}", found->farms)});
      row.push_back(in_100(found->mean));
      row.push_back(with_error(found->worst));
    }
    if (any)
      table.rows.push_back(std::move(row));
  }
  return table;
}

/// True efficacy against the class that a criterion gives with its own interval.
AuditTable given_classes_table(Design design, const AuditCriterion& criterion,
                               const std::vector<EfficacySummary>& summaries) {
  AuditTable table{fmt::format("True efficacy against class by {}, design {}", criterion.title,
                               to_string(design)),
                   "Of 100 trials, by the criterion with its own interval: the mean over cells.",
                   {"true efficacy", "cells"},
                   {}};
  for (std::size_t v = 0; v < verdict_classes; ++v)
    table.heads.emplace_back(to_string(static_cast<VerdictClass>(v)));
  for (const EfficacySummary& summary : summaries) {
    if (summary.design != design)
      continue;
    std::vector<AuditValue> row = row_of(percent(summary.efficacy));
    row.push_back({fmt::format("{}", summary.farms)});
    for (const double share : summary.verdicts)
      row.push_back(in_100(share));
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// "93.2 / 12.1": coverage in percent and mean width in points.
AuditValue coverage_and_width(const FarmTally& tally, const MethodTally& method, double level) {
  AuditValue value = covered_value(coverage(tally, method).value, level);
  value.after = " / " + points(mean_width(method));
  return value;
}

AuditTable farm_table(const AuditResult& result, Design design) {
  AuditTable table{
      fmt::format("Each cell of the design {}", to_string(design)),
      fmt::format("Percent of the {:g}% intervals that held the truth (bold below {:g}) / mean "
                  "width in points; n treated animals.",
                  100 * result.settings.level, 100 * coverage_target(result.settings.level)),
      {"n", "eggs", "k", "within", "efficacy", "besides"},
      {}};
  const std::vector<Method> methods = audited_methods(result.settings, design);
  for (const Method method : methods)
    table.heads.emplace_back(title(method));
  for (const AuditedFarm& audited : result.farms) {
    if (audited.farm.design != design)
      continue;
    const CountModel& m = audited.farm.model;
    std::vector<AuditValue> row{{fmt::format("{}", m.animals)}, {fmt::format("{:g}", m.mean_eggs)},
                                {fmt::format("{:g}", m.k)},     {fmt::format("{:g}", m.within_cv)},
                                {percent(true_efficacy(m))},    {unusual(audited.farm)}};
    for (const Method method : methods) {
      const MethodTally* tally = tally_of(audited.tally, method);
      row.push_back(tally != nullptr
                        ? coverage_and_width(audited.tally, *tally, result.settings.level)
                        : AuditValue{"-"});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

} // namespace

std::vector<AuditTable> summary_tables(const AuditResult& result) {
  std::vector<AuditTable> tables;
  const auto add = [&](AuditTable table) {
    if (!table.rows.empty())
      tables.push_back(std::move(table));
  };
  const std::vector<Design> designs = audited_designs(result);
  const std::vector<MethodSummary> summaries = method_summaries(result);
  const std::vector<ClaimSummary> claims = claim_summaries(result);
  for (const Design design : designs)
    add(interval_table(result, design, summaries));
  for (const Design design : designs)
    add(kind_table(result, design));
  for (const Design design : designs)
    add(sides_table(result, design, summaries));
  for (std::size_t c = 0; c < result.settings.criteria.size(); ++c)
    for (const Design design : designs)
      add(false_claims_table(result, design, c, claims));
  for (std::size_t c = 0; c < result.settings.criteria.size(); ++c) {
    const std::vector<EfficacySummary> efficacies = efficacy_summaries(result, c);
    for (const Design design : designs)
      add(given_classes_table(design, result.settings.criteria[c], efficacies));
  }
  return tables;
}

std::vector<AuditTable> farm_tables(const AuditResult& result) {
  std::vector<AuditTable> tables;
  for (const Design design : audited_designs(result))
    tables.push_back(farm_table(result, design));
  return tables;
}

} // namespace eggfall
