#include "judgement/eggs_left.hpp"

#include <fmt/format.h>

namespace eggfall {

std::optional<EggsLeft> eggs_left(const GroupAnalysis& analysis) {
  if (!analysis.evidence.reduction)
    return std::nullopt;
  EggsLeft left{100 * (1 - *analysis.evidence.reduction), std::nullopt, std::nullopt};
  if (analysis.evidence.headline.usable()) {
    left.least = 100 * (1 - *analysis.evidence.headline.upper);
    left.most = 100 * (1 - *analysis.evidence.headline.lower);
  }
  return left;
}

std::string eggs_in_words(double eggs) {
  if (eggs == 0)
    return "none";
  return eggs < 0.5 ? "fewer than 1" : fmt::format("about {:.0f}", eggs);
}

} // namespace eggfall
