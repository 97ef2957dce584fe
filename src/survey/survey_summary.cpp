#include "eggfall/survey/survey_summary.hpp"

#include "eggfall/judgement/verdict.hpp"

#include <numeric>

namespace eggfall {

StratumSummary summarise(const VerdictTally& tally) {
  const auto count_of = [&](VerdictClass verdict_class) {
    return tally[static_cast<std::size_t>(verdict_class)];
  };
  StratumSummary summary;
  summary.tested = std::accumulate(tally.begin(), tally.end(), std::uint64_t{0});
  summary.judged = summary.tested - count_of(VerdictClass::not_applicable);
  const std::uint64_t resistant =
      count_of(VerdictClass::resistant) + count_of(VerdictClass::low_resistant);
  const std::uint64_t open =
      count_of(VerdictClass::inconclusive) + count_of(VerdictClass::suspected);
  summary.resistant = jeffreys_proportion(resistant, summary.judged, StratumSummary::level);
  summary.at_most = jeffreys_proportion(resistant + open, summary.judged, StratumSummary::level);
  return summary;
}

} // namespace eggfall
