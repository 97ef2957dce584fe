#include "report/ranking_words.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/worm_analysis.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

using Names = std::vector<std::string>;

VerdictClass verdict_of(const TrialAnalysis& trial, const std::string& group) {
  return analysis_of(trial, group).judgement.standing.verdict_class;
}

/// Those that the intervals of pairs show to remove more than `group`, best first.
Names beaters_of(const std::string& group, const Ranking& ranking) {
  Names beaters;
  for (const RankedPair& pair : ranking.pairs) {
    const bool first_better = pair.eggs_left.upper < 1;
    if (pair.separated() && (first_better ? pair.second : pair.first) == group)
      beaters.push_back(first_better ? pair.first : pair.second);
  }
  return beaters;
}

/// What the counts can tell apart: the groups that no other is shown to beat, and the rest.
std::string separation_text(const Ranking& ranking) {
  Names unbeaten;
  for (const RankedGroup& group : ranking.groups)
    if (beaters_of(group.group, ranking).empty())
      unbeaten.push_back(group.group);
  Names less_than_all; // of the unbeaten
  std::string less_than_some;
  for (const RankedGroup& group : ranking.groups) {
    const Names beaters = beaters_of(group.group, ranking);
    const auto beats = [&](const std::string& name) {
      return std::ranges::find(beaters, name) != beaters.end();
    };
    if (std::ranges::all_of(unbeaten, beats))
      less_than_all.push_back(group.group);
    else if (!beaters.empty())
      less_than_some += fmt::format("; {} removes less than {}", group.group, listed(beaters));
  }
  const bool only_all = less_than_some.empty();
  if (unbeaten.size() == 1)
    return fmt::format("By these counts {} removes more than {}{}.", unbeaten.front(),
                       only_all && less_than_all.size() > 1 ? "the others" : listed(less_than_all),
                       less_than_some);
  const std::string less = less_than_all.empty()
                               ? ""
                               : fmt::format("; {} {} less{}", listed(less_than_all),
                                             less_than_all.size() == 1 ? "removes" : "remove",
                                             only_all               ? ""
                                             : unbeaten.size() == 2 ? " than both"
                                                                    : " than any of these");
  return fmt::format("These counts cannot say which of {} is {}{}{}.", listed(unbeaten),
                     unbeaten.size() == 2 ? "better" : "best", less, less_than_some);
}

/// What the chances of being best leave; empty if that is next to nothing.
std::string undecided_text(const Ranking& ranking) {
  const double of_100 = 100 * ranking.cannot_tell;
  return of_100 < 0.5 ? std::string()
                      : fmt::format(" About {:.0f} of 100 chances to be best are nobody's: three "
                                    "ways to reckon give them to different drenches.",
                                    of_100);
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

/// "haemonchus survives white, and ... yellow"; empty if no worm is known to survive any.
std::string survivors_in(const TrialAnalysis& trial, const Names& groups) {
  Names found;
  for (const std::string& group : groups) {
    const Names worms = worms_that(survives, analysis_of(trial, group).judgement.worms);
    if (!worms.empty())
      found.push_back(fmt::format("{} {} {}", listed(worms),
                                  worms.size() == 1 ? "survives" : "survive", group));
  }
  return in_words(found);
}

/// Which worms the places hide; empty if none is known to survive.
std::string survivors_text(const TrialAnalysis& trial) {
  Names ranked;
  bool apart = false;
  for (const RankedGroup& group : trial.ranking->groups) {
    ranked.push_back(group.group);
    apart = apart || !kinds_told_apart(analysis_of(trial, group.group).evidence.group).empty();
  }
  const std::string found = survivors_in(trial, ranked);
  return found.empty() ? ""
                       : fmt::format(" These places are of all worms{}: {}.",
                                     apart ? " not counted apart" : " together", found);
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
    const auto position = static_cast<std::size_t>(known - reasons.begin());
    if (known == reasons.end()) {
      reasons.push_back(group.reason);
      groups.emplace_back();
    }
    groups[position].push_back(group.group);
  }
  Names texts;
  for (std::size_t i = 0; i < reasons.size(); ++i)
    texts.push_back(fmt::format("{} ({})", listed(groups[i]), reasons[i]));
  return fmt::format("Not ranked: {}.", in_words(texts));
}

std::string limits_text(double level, double lower, double upper) {
  return fmt::format("{:g}% interval {} to {}", 100 * level, percent(lower), percent(upper));
}

std::string combination_text(const Combination& combination) {
  Names parts;
  for (const Combination::Part& part : combination.parts)
    parts.push_back(fmt::format("{} ({})", part.group, to_string(part.drug_class)));
  if (!combination.expected)
    return fmt::format("{} is not compared with its parts {}: {}.", combination.group,
                       in_words(parts), combination.expected.why_not());
  const Combination::Expected& expected = *combination.expected;
  std::string text = fmt::format(
      "{}: if {} act independently, {} is to be expected of them together ({}); found {} ({}).",
      combination.group, in_words(parts), percent(expected.reduction),
      expected.ratio
          ? limits_text(combination.level, 1 - expected.ratio->upper, 1 - expected.ratio->lower)
          : "no interval: " + expected.ratio.why_not(),
      percent_or_missing(combination.reduction),
      combination.headline.usable()
          ? limits_text(combination.headline.level, *combination.headline.lower,
                        *combination.headline.upper)
          : "no interval");
  if (!expected.found_is_better)
    return text;
  const double better = expected.found_is_better->value;
  const double sure = (1 + combination.level) / 2;
  text += better > sure       ? " It does better than that"
          : better < 1 - sure ? " It does worse than that"
                              : " These counts show no difference from that";
  return text + fmt::format(" (chance that it does better: {} of 100).",
                            of_100(*expected.found_is_better));
}

/// The worms that survive a combination or a part of it, which the figures of all worms hide.
std::string worms_behind(const TrialAnalysis& trial) {
  Names groups;
  const auto add = [&](const std::string& group) {
    if (std::ranges::find(groups, group) == groups.end())
      groups.push_back(group);
  };
  for (const Combination& combination : trial.combinations) {
    add(combination.group);
    for (const Combination::Part& part : combination.parts)
      add(part.group);
  }
  return survivors_in(trial, groups);
}

} // namespace

std::string of_100(const Quadrature& chance) {
  const double count = 100 * chance.value;
  if (count < 1)
    return "under 1";
  return count > 99 ? "over 99" : fmt::format("about {:.0f}", count);
}

const GroupAnalysis& analysis_of(const TrialAnalysis& trial, const std::string& group) {
  return *std::ranges::find(trial.groups, group,
                            [](const GroupAnalysis& each) { return each.evidence.group.name; });
}

std::vector<std::string> ranking_sentences(const TrialAnalysis& trial) {
  const Ranking& ranking = *trial.ranking;
  if (ranking.groups.empty())
    return {left_out_text(ranking)};
  return {separation_text(ranking) + undecided_text(ranking) + " " + verdict_text(trial) +
              survivors_text(trial),
          scope_text(ranking) + (ranking.left_out.empty() ? "" : " " + left_out_text(ranking))};
}

std::vector<std::string> combination_sentences(const TrialAnalysis& trial) {
  std::vector<std::string> sentences;
  bool any = false;
  for (const Combination& combination : trial.combinations) {
    sentences.push_back(combination_text(combination));
    any = any || combination.expected.has_value();
  }
  const std::string behind = worms_behind(trial);
  if (any)
    sentences.push_back("What is expected holds for one worm species, at the doses given alone. "
                        "With mixed worms it can be far off: together they do better than that "
                        "where each part fails against another species, worse where all fail "
                        "against the same." +
                        (behind.empty() ? "" : fmt::format(" Here {}.", behind)));
  return sentences;
}

} // namespace eggfall
