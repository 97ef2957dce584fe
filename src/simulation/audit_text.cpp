#include "simulation/audit_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "formats/csv_row.hpp"
#include "formats/terminal_text.hpp"
#include "report/cut_offs_text.hpp"
#include "simulation/audit_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <string_view>

namespace eggfall {
namespace {

constexpr std::size_t name_width = 25;

/// "93.2 (0.6)": a share in percent and its Monte Carlo error.
std::string shown(const Share& share) {
  return fmt::format("{:.1f} ({:.1f})", 100 * share.value, 100 * share.error);
}

std::string of_100(double share) {
  return fmt::format("{:.0f} of 100", 100 * share);
}

std::string shown(const std::optional<double>& points) {
  return points ? fmt::format("{:.1f}", *points) : "-";
}

std::string animals_text(const AuditFarm& farm) {
  const CountModel& m = farm.model;
  const std::string counted_each =
      m.animals_in_pool > 1 ? fmt::format("pools of {} animals", m.animals_in_pool) : "animals";
  if (farm.design == Design::paired)
    return fmt::format("{} {}", m.animals, counted_each);
  return fmt::format("{} treated and {} control {}", m.animals, m.control_animals, counted_each);
}

std::string with_comma(const std::string& text) {
  return text.empty() ? text : ", " + text;
}

std::string coverage_table(const AuditSettings& settings, const FarmTally& tally) {
  std::string out = heading(fmt::format(
      "Does a {:g}% interval hold the truth? Of 100 trials (Monte Carlo error in brackets):",
      100 * settings.level));
  const TerminalTable table{2, 23, {{12}, {12}, {12}, {7}, {12}}};
  out += table.row("interval", {"holds it", "too low", "too high", "none", "mean width"});
  const std::uint64_t trials = estimable(tally);
  for (const MethodTally& method : tally.methods)
    out +=
        table.row(title(method.method),
                  {shown(coverage(tally, method)), shown(share(method.truth_above, trials)),
                   shown(share(method.truth_below, trials)),
                   shown(100 * share(method.unusable, trials).value), shown(mean_width(method))});
  return out + paragraph("Too low: the whole interval lies below the truth, and the drench looks "
                         "worse than it is. Too high: it looks better. Width in points of percent, "
                         "limits below -100% taken as -100%.");
}

/// An empty table of how many of 100 trials are given each class, with a column for each
/// VerdictClass.
TerminalTable verdicts_table() {
  return {2, name_width, {{7}, {10}, {9}, {10}, {10}, {7}}};
}

std::string verdicts_head(std::string_view first) {
  return verdicts_table().row(first,
                              {"susc.", "low res.", "resist.", "suspect.", "inconcl.", "none"});
}

std::string verdicts_row(std::string_view first, const VerdictShares& shares) {
  std::vector<std::string> cells;
  for (const double share : shares)
    cells.push_back(shown(100 * share));
  return verdicts_table().row(shortened(first, name_width), cells);
}

/// The tally of the interval by which a criterion judges.
const MethodTally* judging(const AuditCriterion& criterion, const FarmTally& tally) {
  return tally_of(tally, judging_method(criterion));
}

std::string thresholds(const CutOff& cut_off) {
  return fmt::format("expected {:g}%", 100 * cut_off.expected) +
         (cut_off.lower ? fmt::format(", lower {:g}%", 100 * *cut_off.lower) : "");
}

std::string verdict_table(const AuditSettings& settings, const FarmTally& tally) {
  std::string out =
      heading("What such trials are called, of 100, each criterion with its own interval:") +
      verdicts_head("criteria");
  bool judged = false;
  double largest_error = 0;
  for (std::size_t c = 0; c < settings.criteria.size(); ++c)
    if (const MethodTally* method = judging(settings.criteria[c], tally)) {
      judged = true;
      out += verdicts_row(settings.criteria[c].title, verdict_shares(tally, method->verdicts[c]));
      for (const std::uint64_t count : method->verdicts[c])
        largest_error = std::max(largest_error, share(count, tally.trials).error);
    }
  if (!judged) // --method left out every interval that a criterion judges by
    return {};
  return out + fmt::format("  Monte Carlo error: at most {:.1f}.\n", 100 * largest_error);
}

/// A sentence about faults that no number of counts would show; empty if there are none.
std::string what_no_count_shows(const AuditFarm& farm) {
  std::string text;
  if (farm.model.undosed > 0 || farm.model.underdosed > 0)
    text += fmt::format(
        " The drench itself removes {} where its full dose was given: the rest is the dosing's "
        "fault, which no count can tell from the drench's. Watch the dosing.",
        percent(farm.model.efficacy));
  const bool blind = farm.design == Design::paired || farm.design == Design::baseline;
  if (farm.model.season_change != 1 && blind)
    text += " Counts change here without any drench, and this design takes that for the drench's "
            "doing: only untreated animals show it (--design controlled or two-group).";
  return text;
}

/// What the first criterion's verdicts are worth on a farm like this.
std::string what_verdicts_are_worth(const AuditFarm& farm, const FarmTally& tally,
                                    const AuditSettings& settings) {
  if (settings.criteria.empty() || judging(settings.criteria.front(), tally) == nullptr)
    return {};
  const AuditCriterion& criterion = settings.criteria.front();
  const VerdictTally& verdicts = judging(criterion, tally)->verdicts.front();
  const double truth = true_efficacy(farm.model);
  const double resistance = claim_share(tally, verdicts, Claim::resistance).value;
  const double good = claim_share(tally, verdicts, Claim::good_efficacy).value;
  const double unsure = verdict_share(tally, verdicts, VerdictClass::inconclusive).value;
  const std::string allowed =
      criterion.rule == Rule::two_one_sided
          ? fmt::format(" (the rule means to allow {:g})", 100 * (1 - criterion.level) / 2)
          : std::string();
  std::string text = fmt::format("By {} ({}) ", criterion.title, thresholds(criterion.cut_off));
  if (is_false(Claim::resistance, truth, criterion.cut_off))
    text += fmt::format(
        "this counts as a drench that works. {} such trials claim resistance, wrongly{}; {} show "
        "that it works.",
        of_100(resistance), allowed, of_100(good));
  else if (is_false(Claim::good_efficacy, truth, criterion.cut_off))
    text +=
        fmt::format("this counts as a failure. {} such trials claim that it works, wrongly{}; {} "
                    "show the failure.",
                    of_100(good), allowed, of_100(resistance));
  else
    text += fmt::format("this lies between the thresholds, where neither claim is wrong. {} "
                        "such trials show resistance, {} show good efficacy.",
                        of_100(resistance), of_100(good));
  if (unsure > 0)
    text += fmt::format(" {} cannot tell.", of_100(unsure));
  constexpr double often = 0.5;
  const bool decidable = is_false(Claim::resistance, truth, criterion.cut_off) ||
                         is_false(Claim::good_efficacy, truth, criterion.cut_off);
  if (unsure > often && decidable)
    text += " More than half of such trials end without an answer: count more animals, or more "
            "of each sample, and try that here first.";
  return text + what_no_count_shows(farm);
}

std::string verdict_reading(const AuditFarm& farm, const FarmTally& tally,
                            const AuditSettings& settings) {
  const std::string words = what_verdicts_are_worth(farm, tally, settings);
  return words.empty() ? words : heading(words);
}

std::string every_verdicts_table(const AuditSettings& settings, const FarmTally& tally) {
  std::string out;
  for (std::size_t c = 0; c < settings.criteria.size(); ++c) {
    out += heading(fmt::format("{} ({}), by each interval:", settings.criteria[c].title,
                               thresholds(settings.criteria[c].cut_off))) +
           verdicts_head("interval");
    for (const MethodTally& method : tally.methods)
      out += verdicts_row(title(method.method), verdict_shares(tally, method.verdicts[c]));
  }
  return out;
}

std::string grouped(std::uint64_t number) {
  std::string digits = fmt::format("{}", number);
  for (std::size_t position = digits.size(); position > 3; position -= 3)
    digits.insert(position - 3, ",");
  return digits;
}

std::string seen_text(const FarmTally& tally) {
  return fmt::format(
      "no egg after treatment in {} trials; mean fall {}",
      of_100(share(tally.none_after, estimable(tally)).value),
      percent(static_cast<double>(tally.reduction) / 1e8 / static_cast<double>(estimable(tally))));
}

std::string left_out_text(const AuditedFarm& audited) {
  return fmt::format("{} trials had no egg{} to compare with",
                     grouped(audited.tally.without_estimate),
                     is_of_one_worm(audited.farm.model) ? ", or no larva of the worm," : "");
}

std::string one_farm_text(const AuditResult& result, Verbosity verbosity) {
  const AuditedFarm& audited = result.farms.front();
  const CountModel& m = audited.farm.model;
  const FarmTally& tally = audited.tally;
  std::string out = fmt::format("{} simulated trials in which treatment truly removes {}{}\n",
                                grouped(tally.trials), percent(true_efficacy(m)),
                                is_of_one_worm(m) ? " of one worm" : "") +
                    dashed_line();
  out += entry("Design", fmt::format("{}: {}, {:g} eggs seen a {} before treatment",
                                     to_string(audited.farm.design), animals_text(audited.farm),
                                     m.mean_eggs, m.animals_in_pool > 1 ? "pool" : "head"));
  out += entry("Worms", fmt::format("k {:g} between animals, variation {:g} within an animal{}",
                                    m.k, m.within_cv, with_comma(unusual(audited.farm))));
  if (estimable(tally) > 0)
    out += entry("Seen", seen_text(tally));
  if (tally.without_estimate > 0)
    out += entry("Left out", left_out_text(audited));
  out += coverage_table(result.settings, tally);
  if (!result.settings.criteria.empty())
    out += verdict_table(result.settings, tally);
  if (verbosity == Verbosity::full)
    out += every_verdicts_table(result.settings, tally);
  return out + verdict_reading(audited.farm, tally, result.settings);
}

/// The summaries of one design, with the method shown first in front.
std::vector<MethodSummary> of_design(const std::vector<MethodSummary>& summaries, Design design) {
  std::vector<MethodSummary> result;
  std::ranges::copy_if(summaries, std::back_inserter(result),
                       [&](const MethodSummary& summary) { return summary.design == design; });
  return result;
}

std::string coverage_summary(const AuditResult& result, Design design,
                             const std::vector<MethodSummary>& summaries) {
  if (summaries.empty())
    return {};
  const MethodSummary& first = summaries.front();
  std::string out =
      heading(fmt::format("Design {}, {} cells. Of 100 trials, how many {:g}% "
                          "intervals held the truth:",
                          to_string(design), first.farms, 100 * result.settings.level));
  const TerminalTable table{2, name_width, {{8}, {14}, {16}, {7}, {8}}};
  out += table.row("interval",
                   {"mean", "worst cell",
                    fmt::format("cells below {:g}", 100 * coverage_target(result.settings.level)),
                    "none", "width"});
  for (const MethodSummary& summary : summaries)
    out += table.row(title(summary.method),
                     {shown(100 * summary.mean_coverage), shown(summary.worst),
                      fmt::format("{}", summary.below_target), shown(100 * summary.unusable),
                      shown(summary.mean_width)});
  return out + paragraph(fmt::format("Worst cell of the {}: {}.", title(first.method),
                                     farm_words(first.worst_farm->farm)));
}

/// On which side the intervals miss: a drench that is flattered goes on being used.
std::string miss_table(const AuditResult& result, Design design,
                       const std::vector<MethodSummary>& summaries) {
  if (summaries.empty())
    return {};
  const MethodSummary& first = summaries.front();
  std::string out = heading(fmt::format("Design {}: of 100 trials, {:g}% intervals that lie above "
                                        "the truth (they flatter the drench) and below it:",
                                        to_string(design), 100 * result.settings.level));
  const TerminalTable table{2, name_width, {{8}, {14}, {12}, {14}}};
  out += table.row("interval", {"above", "worst cell", "below", "worst cell"});
  for (const MethodSummary& summary : summaries)
    out += table.row(title(summary.method),
                     {shown(100 * summary.above.mean), shown(summary.above.worst),
                      shown(100 * summary.below.mean), shown(summary.below.worst)});
  return out +
         paragraph(fmt::format("The {} flatters most with {}. It lies below most often with {}.",
                               title(first.method), farm_words(first.above.worst_farm->farm),
                               farm_words(first.below.worst_farm->farm)));
}

std::string width_table(const AuditResult& result, Design design) {
  const TerminalTable table{2, name_width, {{8}, {14}}};
  std::string rows;
  for (const WidthComparison& comparison : width_comparisons(result))
    if (comparison.design == design)
      rows += table.row(title(comparison.method), {fmt::format("{}", comparison.farms),
                                                   fmt::format("{:.2f}", comparison.ratio)});
  if (rows.empty())
    return rows;
  return heading(fmt::format("Design {}: width of the {} over another interval's, where that holds "
                             "the truth {:g} times in 100 or more:",
                             to_string(design), title(Method::guarded_posterior),
                             100 * coverage_target(result.settings.level))) +
         table.row("interval", {"cells", "mean ratio"}) + rows;
}

std::string claim_table(const AuditResult& result, Design design, Verbosity verbosity,
                        const std::vector<ClaimSummary>& summaries) {
  const TerminalTable table{2, name_width + 2, {{18, Side::left}, {7}, {8}, {15}}};
  std::string out;
  for (std::size_t c = 0; c < result.settings.criteria.size(); ++c) {
    const AuditCriterion& criterion = result.settings.criteria[c];
    std::string rows;
    for (const ClaimSummary& summary : summaries) {
      const bool own = summary.method == judging_method(criterion);
      if (summary.design != design || summary.criterion != c ||
          (verbosity == Verbosity::brief && !own))
        continue;
      const std::string what =
          summary.claim == Claim::resistance
              ? fmt::format("resistant at {:g}+", 100 * criterion.cut_off.expected)
              : fmt::format("good below {:g}",
                            100 * criterion.cut_off.lower.value_or(criterion.cut_off.expected));
      rows += table.row(verbosity == Verbosity::brief ? shortened(criterion.title, name_width)
                                                      : std::string(title(summary.method)),
                        {what, fmt::format("{}", summary.farms), shown(100 * summary.mean),
                         shown(summary.worst)});
    }
    if (verbosity == Verbosity::full && !rows.empty())
      out += paragraph(criterion.title + ":");
    out += rows;
  }
  if (out.empty())
    return out;
  return heading(fmt::format("Design {}: false claims, of 100 trials (the 2023 criteria mean to "
                             "allow 5):",
                             to_string(design))) +
         table.row(verbosity == Verbosity::brief ? "criteria" : "interval",
                   {"claim", "cells", "mean", "worst cell"}) +
         out;
}

/// True efficacy against the class given, by the first criterion: the mean over farms.
std::string verdicts_by_efficacy(const std::vector<EfficacySummary>& summaries, Design design,
                                 const AuditCriterion& criterion) {
  std::string rows;
  for (const EfficacySummary& summary : summaries)
    if (summary.design == design)
      rows += verdicts_row(fmt::format("{} ({} cells)", percent(summary.efficacy), summary.farms),
                           summary.verdicts);
  if (rows.empty())
    return {};
  return heading(fmt::format("Design {}: true efficacy against class, of 100 trials, by "
                             "{} ({}):",
                             to_string(design), criterion.title, thresholds(criterion.cut_off))) +
         verdicts_head("true efficacy") + rows;
}

std::string grid_text(const AuditResult& result, Verbosity verbosity) {
  std::string out = fmt::format("{} settings, {} simulated trials of each (Monte Carlo error in "
                                "brackets)\n",
                                result.farms.size(), grouped(result.settings.trials)) +
                    dashed_line();
  const auto methods = method_summaries(result);
  const auto claims = claim_summaries(result);
  const std::vector<AuditCriterion>& criteria = result.settings.criteria;
  const auto efficacies =
      criteria.empty() ? std::vector<EfficacySummary>() : efficacy_summaries(result, 0);
  for (const Design design : audited_designs(result)) {
    const std::vector<MethodSummary> its = of_design(methods, design);
    out += coverage_summary(result, design, its) + miss_table(result, design, its) +
           width_table(result, design) + claim_table(result, design, verbosity, claims);
    if (!criteria.empty())
      out += verdicts_by_efficacy(efficacies, design, criteria.front());
  }
  return out;
}

std::string memory_note(const AuditSettings& settings) {
  std::vector<std::string> titles;
  for (const AuditCriterion& criterion : settings.criteria)
    if (criterion.cut_off.citation.provenance == Provenance::memory)
      titles.push_back(criterion.title);
  return titles.empty() ? std::string() : check_note(titles);
}

std::string part_note(const Shard& shard) {
  return fmt::format("This is part {} of {}: join all parts by eggfall audit --merge.", shard.index,
                     shard.count);
}

} // namespace

std::string unusual(const AuditFarm& farm) {
  const CountModel& m = farm.model;
  std::string text;
  const auto say = [&text](const std::string& what) { text += (text.empty() ? "" : ", ") + what; };
  if (m.shape != LevelShape::gamma)
    say(fmt::format("{} levels", to_string(m.shape)));
  if (m.k_after)
    say(fmt::format("k {:g} after treatment", *m.k_after));
  if (m.efficacy_cv > 0)
    say(fmt::format("what is left varies by {:g}", m.efficacy_cv));
  if (m.undosed > 0)
    say(fmt::format("{:g}% not dosed", 100 * m.undosed));
  if (m.underdosed > 0)
    say(fmt::format("{:g}% given too little", 100 * m.underdosed));
  if (m.weighing_cv > 0)
    say(fmt::format("faeces weighed with a variation of {:g}", m.weighing_cv));
  if (m.without_worms > 0)
    say(fmt::format("{:g}% without worms", 100 * m.without_worms));
  if (m.missing_after > 0)
    say(fmt::format("{:g}% not found again", 100 * m.missing_after));
  if (m.animals_in_pool > 1)
    say(fmt::format("pools of {}", m.animals_in_pool));
  if (is_of_one_worm(m))
    say(fmt::format("the worm lays {:g}% of the eggs, the others fall by {:g}%, {} larvae told "
                    "apart",
                    100 * m.worm_share, 100 * m.other_efficacy, m.larvae));
  if (m.season_change != 1)
    say(fmt::format("counts times {:g} by the season", m.season_change));
  if (m.counts_a_sample > 1)
    say(fmt::format("{} counts a sample", m.counts_a_sample));
  if (m.factor_after != m.factor_before)
    say(fmt::format("factor {:g} before and {:g} after", m.factor_before.value(),
                    m.factor_after.value()));
  return text;
}

std::string farm_words(const AuditFarm& farm) {
  const CountModel& m = farm.model;
  return fmt::format("{}, {:g} eggs, k {:g}, within {:g}, efficacy {}", animals_text(farm),
                     m.mean_eggs, m.k, m.within_cv, percent(true_efficacy(m))) +
         with_comma(unusual(farm));
}

std::string audit_text(const AuditResult& result, Verbosity verbosity) {
  const std::string text =
      result.farms.size() == 1 ? one_farm_text(result, verbosity) : grid_text(result, verbosity);
  if (result.shard.count != 1)
    return text + heading(part_note(result.shard));
  const std::string memory = memory_note(result.settings);
  return memory.empty() ? text : text + '\n' + memory;
}

std::string how_simulated(const AuditResult& result) {
  return fmt::format("{} settings, {} trials of each, seed {}.", result.farms.size(),
                     result.settings.trials, result.settings.seed);
}

std::vector<std::string> audit_notes(const AuditResult& result) {
  std::vector<std::string> notes;
  if (result.farms.size() == 1) {
    const AuditedFarm& only = result.farms.front();
    notes.push_back(farm_words(only.farm) + ".");
    if (estimable(only.tally) > 0)
      notes.push_back("Seen: " + seen_text(only.tally) + ".");
    if (only.tally.without_estimate > 0)
      notes.push_back("Left out: " + left_out_text(only) + ".");
    notes.push_back(what_verdicts_are_worth(only.farm, only.tally, result.settings));
  }
  notes.push_back(result.shard.count == 1 ? flowing(memory_note(result.settings))
                                          : part_note(result.shard));
  std::erase(notes, "");
  return notes;
}

std::string audit_csv(const AuditResult& result) {
  std::vector<std::string> header{"design", "shape"};
  for (const FarmField& field : farm_fields())
    header.emplace_back(field.key);
  for (const char* name : {"true_efficacy_percent", "trials", "without_estimate", "none_after",
                           "method", "held", "truth_above", "truth_below", "unusable",
                           "coverage_percent", "coverage_error_percent", "mean_width_points"})
    header.emplace_back(name);
  for (const AuditCriterion& criterion : result.settings.criteria)
    for (std::size_t v = 0; v < verdict_classes; ++v)
      header.push_back(
          csv_cell(fmt::format("{}: {}", criterion.name, to_string(static_cast<VerdictClass>(v)))));
  std::string out = csv_row(header) + "\r\n";
  for (const AuditedFarm& audited : result.farms)
    for (const MethodTally& method : audited.tally.methods) {
      std::vector<std::string> row{std::string(to_string(audited.farm.design)),
                                   std::string(to_string(audited.farm.model.shape))};
      for (const FarmField& field : farm_fields())
        row.push_back(csv_cell(field.get(audited.farm)));
      const Share held = coverage(audited.tally, method);
      row.push_back(percent_csv_cell(true_efficacy(audited.farm.model)));
      for (const std::uint64_t count :
           {audited.tally.trials, audited.tally.without_estimate, audited.tally.none_after})
        row.push_back(fmt::format("{}", count));
      row.emplace_back(to_string(method.method));
      for (const std::uint64_t count :
           {method.held, method.truth_above, method.truth_below, method.unusable})
        row.push_back(fmt::format("{}", count));
      row.push_back(percent_csv_cell(held.value));
      row.push_back(percent_csv_cell(held.error));
      const auto points = mean_width(method);
      row.push_back(points ? fmt::format("{:.6f}", *points) : std::string());
      for (const VerdictTally& verdicts : method.verdicts)
        for (const std::uint64_t count : verdicts)
          row.push_back(fmt::format("{}", count));
      out += csv_row(row) + "\r\n";
    }
  return out;
}

} // namespace eggfall
