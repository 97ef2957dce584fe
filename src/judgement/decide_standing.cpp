#include "judgement/decide_standing.hpp"

#include <algorithm>
#include <optional>

namespace eggfall {
namespace {

/// Chance of a true fall below what is expected from which a drench that meets the rule is used
/// with care (practice).
constexpr double may_fall_short = 1.0 / 3;

/// The first reason to use a drench with care that meets its rule.
std::optional<Care> care_for(const Judgement& judgement, const std::vector<Caveat>& caveats) {
  if (std::ranges::any_of(judgement.worms, may_survive))
    return Care::worm_may_survive;
  if (has_caveat(caveats, CaveatCode::larvae_without_eggs, Severity::serious))
    return Care::larvae_without_eggs;
  if (judgement.probabilities && judgement.probabilities->below_expected > may_fall_short)
    return Care::truth_may_be_lower;
  if (!criteria_not_met(judgement.verdicts).empty())
    return Care::stricter_rule;
  if (has_caveat(caveats, CaveatCode::repeats_disagree, Severity::warning))
    return Care::repeats_disagree;
  if (has_caveat(caveats, CaveatCode::sampled_early, Severity::warning))
    return Care::sampled_early;
  if (has_caveat(caveats, CaveatCode::overdosed, Severity::warning))
    return Care::overdosed;
  if (has_caveat(caveats, CaveatCode::missing_after, Severity::warning))
    return Care::missing_after;
  const bool any_serious = !caveats.empty() && caveats.front().severity == Severity::serious;
  if (any_serious || has_caveat(caveats, CaveatCode::one_animal, Severity::warning))
    return Care::other_warning;
  return std::nullopt;
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

} // namespace

Standing standing_of(const Judgement& judgement, const std::vector<Caveat>& caveats) {
  const VerdictClass verdict_class = judgement.first_verdict().verdict_class;
  Standing standing{verdict_class, sign_of(verdict_class), std::nullopt};
  if (verdict_class != VerdictClass::susceptible)
    return standing;
  standing.care = care_for(judgement, caveats);
  if (standing.care || std::ranges::any_of(judgement.worms, survives))
    standing.sign = DrenchSign::works_with_care;
  return standing;
}

Standing standing_of(const WormAnalysis& worm) {
  const VerdictClass verdict_class = verdict_of(worm).verdict_class;
  return {verdict_class, sign_of(verdict_class), std::nullopt};
}

std::vector<std::string> criteria_not_met(const std::vector<Verdict>& verdicts) {
  std::vector<std::string> titles;
  for (const Verdict& verdict : verdicts)
    if (verdict.verdict_class == VerdictClass::resistant ||
        verdict.verdict_class == VerdictClass::low_resistant ||
        verdict.verdict_class == VerdictClass::suspected)
      titles.push_back(verdict.criteria_title);
  return titles;
}

} // namespace eggfall
