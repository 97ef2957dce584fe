#include "eggfall/plan/pilot.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/mean_posterior.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {

Pilot pilot_of(const std::vector<Count>& counts, std::uint64_t seed) {
  constexpr std::size_t fewest = 3;
  constexpr std::size_t draws = 4'000;
  const CountTotals total = totals_of(counts);
  if (counts.size() < fewest || total.eggs == 0)
    throw InputError(fmt::format("{} pilot counts with {} eggs; expected {} or more, and some eggs",
                                 counts.size(), total.eggs, fewest));
  MeanPrior one_group_alone;
  one_group_alone.cv_ratio = 1'000; // the second group, which is not looked at, lends nothing
  RandomStream stream({seed, stream_group("plan", "pilot"), 0});
  std::vector<double> means;
  std::vector<double> ks;
  for (const TwoMeansState& state :
       draw_two_means(counts, counts, one_group_alone, draws, stream)) {
    means.push_back(state.above.mean_epg);
    ks.push_back(state.above.k);
  }
  std::ranges::sort(means);
  std::ranges::sort(ks);
  const auto quantile = [](const std::vector<double>& sorted, double p) {
    return sorted[static_cast<std::size_t>(p * static_cast<double>(sorted.size()))];
  };
  const auto k_at = [&](double p) {
    return std::clamp(quantile(ks, p), CountModel::k_range.least, CountModel::k_range.most);
  };
  return {counts.size(),         total.eggs, *mean_epg(counts), quantile(means, 0.05),
          quantile(means, 0.95), k_at(0.5),  k_at(0.05),        k_at(0.95)};
}

} // namespace eggfall
