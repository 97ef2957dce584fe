#include "judgement/decide_standing.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "judgement/field_caveats.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/worm_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

namespace eggfall {
namespace {

/// The first reason why a drench that meets its rule should be used with care.
std::optional<Care> care_for(const Judgement& judgement, const std::vector<Caveat>& caveats) {
  if (has_caveat(caveats, CaveatCode::later_visit, Severity::warning))
    return Care::later_visit;
  if (std::ranges::any_of(judgement.worms, may_survive))
    return Care::worm_may_survive;
  if (has_caveat(caveats, CaveatCode::larvae_without_eggs, Severity::serious))
    return Care::larvae_without_eggs;
  if (judgement.probabilities &&
      judgement.probabilities->below_expected > field_practice().truth_may_be_lower)
    return Care::truth_may_be_lower;
  if (!criteria_not_met(judgement.verdicts).empty())
    return Care::stricter_rule;
  if (has_caveat(caveats, CaveatCode::repeats_disagree, Severity::warning))
    return Care::repeats_disagree;
  if (has_caveat(caveats, CaveatCode::sampled_early, Severity::warning))
    return Care::sampled_early;
  if (has_caveat(caveats, CaveatCode::sampled_long_before, Severity::serious))
    return Care::sampled_long_before;
  if (has_caveat(caveats, CaveatCode::overdosed, Severity::warning))
    return Care::overdosed;
  if (has_caveat(caveats, CaveatCode::missing_after, Severity::warning))
    return Care::missing_after;
  for (const CaveatCode code :
       {CaveatCode::none_after, CaveatCode::few_eggs_counted, CaveatCode::detection_limit})
    if (has_caveat(caveats, code, Severity::serious))
      return Care::few_eggs;
  if (has_caveat(caveats, CaveatCode::few_animals, Severity::serious))
    return Care::few_animals;
  const bool any_serious = !caveats.empty() && caveats.front().severity == Severity::serious;
  if (any_serious || has_caveat(caveats, CaveatCode::one_animal, Severity::warning))
    return Care::other_warning;
  return std::nullopt;
}

/// To which side an inconclusive result leans. The chances are those of EfficacyProbabilities,
/// where a chance above a half is the least that any witness gives: so a drench is said to lean to
/// failing only where all witnesses agree.
std::optional<Leaning> leaning_of(const Standing& standing,
                                  const std::optional<EfficacyProbabilities>& chances) {
  if (standing.verdict_class != VerdictClass::inconclusive || !chances)
    return std::nullopt;
  if (chances->below_lower > 0.5)
    return Leaning::failing;
  return chances->below_expected > 0.5 ? std::optional(Leaning::below_expected) : std::nullopt;
}

/// The sign of a class, of a drench that needs no care.
DrenchSign sign_of(VerdictClass verdict_class) {
  switch (verdict_class) {
  case VerdictClass::susceptible:
    return DrenchSign::works;
  case VerdictClass::low_resistant:
    return DrenchSign::some_survive;
  case VerdictClass::suspected:
    return DrenchSign::may_fail;
  case VerdictClass::resistant:
    return DrenchSign::failing;
  case VerdictClass::inconclusive:
  case VerdictClass::not_applicable:
    break;
  }
  return DrenchSign::cannot_tell;
}

std::vector<std::string> surviving_worms(const std::vector<WormAnalysis>& worms) {
  return worms_that(survives, worms);
}

Bar surviving_worm(const std::vector<std::string>& names) {
  const std::string worms = listed(names);
  return {BarCode::surviving_worm,
          fmt::format("Told apart, {} {} the drench, whatever the fall of all worms together.",
                      worms, names.size() == 1 ? "survives" : "survive"),
          fmt::format("It fails against {}.", worms),
          fmt::format("Do not count on this drench against {}: choose with your veterinarian what "
                      "still kills {}.",
                      worms, names.size() == 1 ? "it" : "them")};
}

std::string taken_for_granted(const FieldCheck& field, bool season_untold) {
  std::vector<std::string> parts;
  if (season_untold)
    parts.emplace_back("the season alone did not move the counts");
  const bool doses_untold = field.doses.checked == 0;
  if (!field.days.first_day) {
    const std::string days = days_in_words(field.days.usual);
    const bool has_clause = days.find(',') != std::string::npos;
    parts.push_back(fmt::format("the second sample was taken on {}{}", days,
                                has_clause && doses_untold ? "," : ""));
  }
  if (doses_untold)
    parts.emplace_back("each animal got the label's dose for its weight");
  return in_words(parts);
}

/// The standing of a group or worm whose counts alone give `by_counts`: the first bar decides which
/// class is left.
Standing barred(VerdictClass by_counts, std::vector<Bar> bars) {
  Standing standing;
  standing.by_counts_alone = by_counts;
  standing.verdict_class = bars.empty() ? by_counts : verdict_class_behind(bars.front());
  standing.sign = sign_of(standing.verdict_class);
  standing.bars = std::move(bars);
  return standing;
}

} // namespace

Standing standing_of(const Judgement& judgement, const std::vector<Caveat>& caveats,
                     std::vector<Bar> bars) {
  const VerdictClass by_counts = judgement.first_verdict().verdict_class;
  const VerdictClass judged =
      judgement.own_fall ? judgement.own_fall->verdict.verdict_class : by_counts;
  if (const auto survivors = surviving_worms(judgement.worms); !survivors.empty())
    if (judged != VerdictClass::resistant)
      bars.insert(std::ranges::find_if(bars, gives_own_verdict), surviving_worm(survivors));
  Standing standing = barred(by_counts, std::move(bars));
  if (standing.verdict_class != VerdictClass::susceptible)
    return standing;
  standing.care = care_for(judgement, caveats);
  if (standing.care)
    standing.sign = DrenchSign::works_with_care;
  return standing;
}

void decide(Judgement& judgement, const std::vector<Caveat>& caveats, std::vector<Bar> bars,
            const FieldCheck& field) {
  Standing& standing = judgement.standing;
  standing = standing_of(judgement, caveats, std::move(bars));
  if (standing.sign != DrenchSign::cannot_tell)
    standing.provided = taken_for_granted(
        field, judgement.first_verdict().design == Design::paired && !judgement.own_fall);
  // Under any other bar the counts' chances would speak for a class that was taken away. Under the
  // control's bar they are chances of the drench's own fall, and stay.
  if (!standing.bars.empty() && standing.bars.front().code != BarCode::control)
    judgement.probabilities.reset();
  standing.leaning = leaning_of(standing, judgement.probabilities);
  if (standing.bars.empty())
    return;
  judgement.larger_trials.clear();
}

Standing standing_of(const WormAnalysis& worm, std::vector<Bar> bars) {
  return barred(verdict_of(worm).verdict_class, std::move(bars));
}

std::vector<std::string> criteria_not_met(const std::vector<Verdict>& verdicts) {
  std::vector<std::string> titles;
  for (const Verdict& verdict : verdicts)
    if (finds_resistance(verdict.verdict_class))
      titles.push_back(verdict.criteria_title);
  return titles;
}

} // namespace eggfall
