#include "eggfall/write_ranking.hpp"

#include "caveat_words.hpp"
#include "eggfall/percent.hpp"
#include "eggfall/text.hpp"
#include "eggfall/worms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr std::size_t width = 80;
constexpr std::size_t name_width = 24;

using Names = std::vector<std::string>;

std::string paragraph(std::string_view text) {
  return eggfall::paragraph(text, width, "  ");
}

/// A chance as a whole number of 100, never 0 or 100.
std::string of_100(const Quadrature& chance) {
  const double count = 100 * chance.value;
  if (count < 1)
    return "under 1";
  return count > 99 ? "over 99" : fmt::format("about {:.0f}", count);
}

const GroupAnalysis& analysis_of(const TrialAnalysis& trial, const std::string& group) {
  return *std::ranges::find(trial.groups, group,
                            [](const GroupAnalysis& of) { return of.group.name; });
}

VerdictClass verdict_of(const TrialAnalysis& trial, const std::string& group) {
  return analysis_of(trial, group).verdicts.front().verdict_class;
}

/// A name, wrapped, with `rest` after its first line.
std::string row(const std::string& name, std::size_t columns, const std::string& rest) {
  std::string out;
  for (const std::string& line : wrapped(name, columns))
    out += out.empty() ? fmt::format("  {}{}{}\n", line,
                                     std::string(columns - character_count(line), ' '), rest)
                       : fmt::format("    {}\n", line);
  return out;
}

std::string table(const TrialAnalysis& trial) {
  std::string out = fmt::format("{:<51}{:>29}\n", "Which drench?", "chance, of 100, that it is");
  out += fmt::format("{:<26}{:>9}  {:<14}{:>9}{:>20}\n", "", "fall", "verdict", "the best",
                     "or within 2 points");
  for (const RankedGroup& group : trial.ranking->groups)
    out += row(group.group, name_width,
               fmt::format("{:>9}  {:<14}{:>9}{:>20}",
                           percent_or_missing(analysis_of(trial, group.group).reduction),
                           to_string(verdict_of(trial, group.group)), of_100(group.best),
                           of_100(group.close_to_best)));
  return out;
}

/// What the counts can tell apart: the groups that no other is shown to beat, and the rest.
std::string separation_text(const Ranking& ranking) {
  Names beaten;
  for (const RankedPair& pair : ranking.pairs)
    if (pair.separated())
      beaten.push_back(pair.eggs_left.upper < 1 ? pair.second : pair.first);
  Names first;
  Names rest;
  for (const RankedGroup& group : ranking.groups)
    (std::ranges::find(beaten, group.group) == beaten.end() ? first : rest).push_back(group.group);
  if (first.size() == 1)
    return fmt::format("By these counts {} removes more than {}.", first.front(),
                       rest.size() == 1 ? rest.front() : "the others");
  std::string text = fmt::format("These counts cannot say which of {} is {}", in_words(first),
                                 first.size() == 2 ? "better" : "best");
  if (!rest.empty())
    text +=
        fmt::format("; {} removes less", rest.size() == 1 ? rest.front() : "each of the others");
  return text + ".";
}

/// Back to the verdicts: the best of failing drenches fails.
std::string verdict_text(const TrialAnalysis& trial) {
  Names good;
  Names failing;
  for (const RankedGroup& group : trial.ranking->groups) {
    const VerdictClass verdict = verdict_of(trial, group.group);
    if (verdict == VerdictClass::susceptible)
      good.push_back(group.group);
    if (verdict == VerdictClass::resistant)
      failing.push_back(group.group);
  }
  if (failing.size() == trial.ranking->groups.size())
    return "All of them are resistant here, and the best of them fails too: rely on none of them "
           "alone, and choose another with your veterinarian.";
  std::string text;
  if (good.empty())
    text = "None of them is called susceptible, and the best of them need not be good. ";
  if (!failing.empty())
    text += fmt::format("Do not rely on {} (resistant), whatever {} place here. ",
                        in_words(failing), failing.size() == 1 ? "its" : "their");
  return text + "The verdicts come first: best is not the same as good enough.";
}

/// Which worms the places hide; empty if none is known to survive.
std::string survivors_text(const TrialAnalysis& trial) {
  Names found;
  for (const RankedGroup& group : trial.ranking->groups) {
    const Names worms = worms_that(survives, analysis_of(trial, group.group).worms);
    if (!worms.empty())
      found.push_back(fmt::format("{} {} {}", in_words(worms),
                                  worms.size() == 1 ? "survives" : "survive", group.group));
  }
  return found.empty()
             ? ""
             : fmt::format(" These places are of all worms together: {}.", in_words(found));
}

/// What "best" is about, and what may disturb it.
std::string scope_text(const Ranking& ranking) {
  std::string text =
      "Best means the best of these drenches, on this farm, against its worms now. Each had "
      "animals of its own, whose worms may differ.";
  if (ranking.animals_differ)
    text += " Hosts or worms differ between these groups, and not the drenches alone.";
  if (ranking.designs_differ) {
    Names designs;
    for (const RankedGroup& group : ranking.groups)
      designs.push_back(fmt::format("{} {}", group.group, to_string(group.design)));
    text += fmt::format(" Not all were measured by one design: {}.", in_words(designs));
  }
  if (ranking.shared_control)
    text += " Groups compared with the one control share its luck; it is counted in each, so "
            "that pairs are told apart more rarely than they could be.";
  return text;
}

std::string left_out_text(const Ranking& ranking) {
  Names reasons; // in order of appearance
  std::vector<Names> groups;
  for (const NotRanked& group : ranking.left_out) {
    const auto known = std::ranges::find(reasons, group.reason);
    const auto at = static_cast<std::size_t>(known - reasons.begin());
    if (known == reasons.end()) {
      reasons.push_back(group.reason);
      groups.emplace_back();
    }
    groups[at].push_back(group.group);
  }
  Names texts;
  for (std::size_t i = 0; i < reasons.size(); ++i)
    texts.push_back(fmt::format("{} ({})", listed(groups[i]), reasons[i]));
  return fmt::format("Not ranked: {}.", in_words(texts));
}

std::string ratio_text(double ratio) {
  constexpr double small = 0.001;
  constexpr double large = 1000;
  if (ratio < small)
    return "under 0.001";
  return ratio > large ? "over 1,000" : fmt::format("{:.2g}", ratio);
}

std::string pairs_table(const Ranking& ranking) {
  std::string out = "\n  Pair by pair: the chance, of 100, that the first removes more; and the "
                    "eggs it\n  leaves for each egg left by the second, " +
                    fmt::format("{:g}% interval\n", 100 * ranking.level);
  for (const RankedPair& pair : ranking.pairs)
    out += row(fmt::format("{} against {}", pair.first, pair.second), 40,
               fmt::format("{:>10}  {:>11} to {:>11}", of_100(pair.first_better),
                           ratio_text(pair.eggs_left.lower), ratio_text(pair.eggs_left.upper)));
  return out;
}

std::string limits_text(double level, double lower, double upper) {
  return fmt::format("{:g}% interval {} to {}", 100 * level, percent(lower), percent(upper));
}

std::string combination_text(const Combination& of) {
  Names parts;
  for (const Combination::Part& part : of.parts)
    parts.push_back(fmt::format("{} ({})", part.group, to_string(part.drug_class)));
  if (!of.why_not.empty())
    return fmt::format("{} is not compared with its parts {}: {}.", of.group, in_words(parts),
                       of.why_not);
  std::string text = fmt::format(
      "{}: if {} act independently, {} is to be expected of them together ({}); found {} ({}).",
      of.group, in_words(parts), percent_or_missing(of.expected),
      of.expected_ratio.usable()
          ? limits_text(of.level, 1 - of.expected_ratio.upper, 1 - of.expected_ratio.lower)
          : "no interval: " + of.expected_ratio.why_not,
      percent_or_missing(of.reduction),
      of.headline.usable() ? limits_text(of.headline.level, *of.headline.lower, *of.headline.upper)
                           : "no interval");
  if (!of.better_than_expected)
    return text;
  const double better = of.better_than_expected->value;
  const double sure = (1 + of.level) / 2;
  text += better > sure       ? " It does better than that"
          : better < 1 - sure ? " It does worse than that"
                              : " These counts show no difference from that";
  return text +
         fmt::format(" ({} chances of 100 that it does better).", of_100(*of.better_than_expected));
}

std::string combinations_block(const std::vector<Combination>& combinations) {
  std::string out = "Better together?\n";
  bool any = false;
  for (const Combination& combination : combinations) {
    out += paragraph(combination_text(combination));
    any = any || combination.expected.has_value();
  }
  return any ? out + paragraph(
                         "What is expected holds for one worm species, at the doses given alone. "
                         "With mixed worms it can be far off: together they do better than that "
                         "where each part fails against another species, worse where all fail "
                         "against the same.")
             : out;
}

} // namespace

std::string ranking_summary(const TrialAnalysis& trial, Detail detail) {
  if (!trial.ranking)
    return {};
  const Ranking& ranking = *trial.ranking;
  std::string out;
  if (ranking.groups.empty()) {
    out = "Which drench?\n" + paragraph(left_out_text(ranking));
  } else {
    out = table(trial) +
          paragraph(separation_text(ranking) + " " + verdict_text(trial) + survivors_text(trial)) +
          paragraph(scope_text(ranking) +
                    (ranking.left_out.empty() ? "" : " " + left_out_text(ranking)));
    if (detail == Detail::full)
      out += pairs_table(ranking);
  }
  if (!trial.combinations.empty())
    out += '\n' + combinations_block(trial.combinations);
  return out;
}

} // namespace eggfall
