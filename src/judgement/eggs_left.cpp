#include "judgement/eggs_left.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eggfall {

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
  return left;
}

std::string eggs_in_words(double eggs) {
  if (eggs == 0)
    return "none";
  return eggs < 0.5 ? "fewer than 1" : fmt::format("about {:.0f}", eggs);
}

std::string whole_eggs(double eggs) {
  return std::round(eggs) > most_eggs_told ? fmt::format("over {}", most_eggs_told)
                                           : fmt::format("{:.0f}", eggs);
}

} // namespace eggfall
