#include "judgement/eggs_left.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {

namespace {

/// The expected fall from which a rule allows a drench to leave no more than one egg of 200.
constexpr double told_of_1000 = 0.995;

/// EggsLeft::told_of by the first verdict's rule. It stays 100 where ten times the largest number
/// would have more than three digits.
int told_of(const EggsLeft& left, const Judgement& judgement) {
  if (judgement.verdicts.empty())
    return 100;
  const auto& expected = first_given(judgement.verdicts).expected;
  const double greatest = std::max(left.found, left.most.value_or(left.found));
  return expected && *expected >= told_of_1000 && 10 * greatest < most_eggs_told ? 1000 : 100;
}

} // namespace

DrenchFall drench_fall(const GroupEvidence& evidence, const Judgement& judgement) {
  const std::optional<OwnFall>& own = judgement.own_fall;
  if (own && own->verdict.reduction && own->verdict.interval)
    return {own->verdict.reduction, *own->verdict.interval, own->law ? &*own->law : nullptr};
  return {evidence.reduction, evidence.headline, evidence.law ? &*evidence.law : nullptr};
}

std::optional<EggsLeft> eggs_left(const GroupEvidence& evidence, const Judgement& judgement) {
  const DrenchFall fall = drench_fall(evidence, judgement);
  if (!fall.reduction)
    return std::nullopt;
  EggsLeft left{100 * (1 - *fall.reduction), std::nullopt, std::nullopt};
  if (fall.interval.usable()) {
    left.least = 100 * (1 - *fall.interval.upper);
    left.most = 100 * (1 - *fall.interval.lower);
  }
  left.told_of = told_of(left, judgement);
  return left;
}

std::string eggs_in_words(double eggs) {
  if (eggs == 0)
    return "none";
  return eggs <= 0.5 ? "fewer than 1" : fmt::format("about {:.0f}", eggs);
}

std::string whole_eggs(double eggs) {
  return std::round(eggs) > most_eggs_told ? fmt::format("over {}", most_eggs_told)
                                           : fmt::format("{:.0f}", eggs);
}

} // namespace eggfall
