#include "eggfall/statistics/bootstrap.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"

#include <boost/math/distributions/normal.hpp>
#include <boost/sort/pdqsort/pdqsort.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace eggfall {
namespace {

constexpr std::size_t fewest_resamples = 100;
constexpr std::size_t most_resamples = 10'000'000;
constexpr double most_undefined = 0.01;

/// Ratios this close, relatively, are the same ratio but for rounding.
constexpr double rounding = 1e-12;

const boost::math::normal standard_normal;

double normal_cdf(double z) {
  return boost::math::cdf(standard_normal, z);
}

double normal_quantile(double p) {
  return boost::math::quantile(standard_normal, p);
}

/// Both sides of one animal by its weight, side by side for the resampling loop. A side that
/// the sample lacks is 1 for everyone, so that its resampled mean is 1 as well.
struct Pair {
  double above;
  double below;
};

std::vector<Pair> pairs(const RatioSample& sample) {
  std::vector<Pair> result(sample.animals());
  for (std::size_t i = 0; i < result.size(); ++i) {
    const double weight = sample.weights.empty() ? 1.0 : sample.weights[i];
    result[i] = {weight * (sample.above.empty() ? 1.0 : sample.above[i]),
                 weight * (sample.below.empty() ? 1.0 : sample.below[i])};
  }
  return result;
}

/// The value of rank (R + 1) p among `sorted`, or nothing if that is outside 1..R.
std::optional<double> quantile(const std::vector<double>& sorted, double p) {
  const auto size = static_cast<double>(sorted.size());
  const double rank = (size + 1) * p;
  if (!(rank >= 1 && rank <= size))
    return std::nullopt;
  const auto below = static_cast<std::size_t>(rank);
  const double low = sorted[below - 1];
  if (rank == static_cast<double>(below) || sorted[below] == low)
    return low;
  const double z_low = normal_quantile(static_cast<double>(below) / (size + 1));
  const double z_high = normal_quantile(static_cast<double>(below + 1) / (size + 1));
  const double share = (normal_quantile(p) - z_low) / (z_high - z_low);
  return low + share * (sorted[below] - low);
}

std::string why_not(const BootstrapSample& sample) {
  for (const RatioSample& animals : sample.data.samples)
    if (animals.animals() < 2)
      return "it needs at least two animals in each group";
  if (!std::isfinite(sample.estimate))
    return "one of the means it divides by is zero";
  if (sample.estimate == 0)
    return "no egg was found after treatment, so every resample gives the same 100%";
  const std::size_t resamples = sample.ratios.size() + sample.undefined;
  if (static_cast<double>(sample.undefined) > most_undefined * static_cast<double>(resamples))
    return "so many animals have zero counts that many resamples hold no egg at all";
  if (sample.ratios.back() - sample.ratios.front() <= rounding * sample.estimate)
    return "every resample gives the same reduction, so it has no width";
  return {};
}

RatioLimits limits_at(const BootstrapSample& sample, double p_low, double p_high) {
  const auto low = quantile(sample.ratios, p_low);
  const auto high = quantile(sample.ratios, p_high);
  if (!low || !high)
    return no_limits("its correction reaches beyond the resamples");
  if (!std::isfinite(*high))
    return no_limits("so many animals have zero counts that some resamples cannot be divided");
  return {*low, *high, {}};
}

void check_enough(const BootstrapSample& sample, double level) {
  if (static_cast<double>(sample.ratios.size() + 1) * (1 - level) / 2 < 1)
    throw InputError(fmt::format("{} resamples are too few for a level of {}; ask for more",
                                 sample.ratios.size(), level));
}

double bias_correction(const BootstrapSample& sample) {
  const auto first = std::ranges::lower_bound(sample.ratios, sample.estimate * (1 - rounding));
  const auto last = std::ranges::upper_bound(sample.ratios, sample.estimate * (1 + rounding));
  const auto below = static_cast<double>(first - sample.ratios.begin());
  const auto ties = static_cast<double>(last - first);
  const double share = (below + ties / 2) / static_cast<double>(sample.ratios.size());
  if (share <= 0)
    return -INFINITY;
  if (share >= 1)
    return INFINITY;
  return normal_quantile(share);
}

double acceleration(const RatioData& data) {
  double cubes = 0;
  double squares = 0;
  for (const std::vector<double>& influence : relative_influence(data)) {
    const auto n = static_cast<double>(influence.size());
    for (const double u : influence) {
      const double l = u / n;
      squares += l * l;
      cubes += l * l * l;
    }
  }
  return squares > 0 ? cubes / (6 * std::pow(squares, 1.5)) : 0;
}

} // namespace

BootstrapSample bootstrap(const RatioData& data, const BootstrapSettings& settings) {
  if (settings.resamples < fewest_resamples || settings.resamples > most_resamples)
    throw InputError(fmt::format("{} resamples; expected {} to {}", settings.resamples,
                                 fewest_resamples, most_resamples));
  BootstrapSample sample;
  sample.estimate = ratio(data);
  sample.data = data;

  std::vector<std::vector<Pair>> animals;
  for (const RatioSample& group : data.samples)
    animals.push_back(pairs(group));

  sample.ratios.reserve(settings.resamples);
  for (std::size_t replicate = 0; replicate < settings.resamples; ++replicate) {
    RandomStream stream({settings.seed, settings.group, static_cast<std::uint32_t>(replicate)});
    double numerator = 1;
    double denominator = 1;
    for (const std::vector<Pair>& group : animals) {
      const auto n = static_cast<std::uint32_t>(group.size());
      double above = 0;
      double below = 0;
      for (std::uint32_t draw = 0; draw < n; ++draw) {
        const Pair& animal = group[stream.below(n)];
        above += animal.above;
        below += animal.below;
      }
      numerator *= above;
      denominator *= below;
    }
    // Each group is divided by its own sum of weights above and below the bar, which cancels.
    if (numerator == 0 && denominator == 0)
      ++sample.undefined;
    else
      sample.ratios.push_back(numerator / denominator);
  }
  // Half the time of std::sort: which of two ratios is the smaller cannot be foreseen, and it does
  // not branch on that.
  boost::sort::pdqsort(sample.ratios.begin(), sample.ratios.end());
  return sample;
}

RatioLimits percentile_limits(const BootstrapSample& sample, double level) {
  check_level(level);
  if (std::string reason = why_not(sample); !reason.empty())
    return no_limits(std::move(reason));
  check_enough(sample, level);
  return limits_at(sample, (1 - level) / 2, (1 + level) / 2);
}

RatioLimits bca_limits(const BootstrapSample& sample, double level) {
  check_level(level);
  if (std::string reason = why_not(sample); !reason.empty())
    return no_limits(std::move(reason));
  check_enough(sample, level);
  const double z0 = bias_correction(sample);
  if (!std::isfinite(z0))
    return no_limits("all resamples lie on one side of the estimate");
  const double a = acceleration(sample.data);
  const auto corrected = [&](double p) {
    const double z = z0 + normal_quantile(p);
    const double stretch = 1 - a * z;
    return stretch > 0 ? normal_cdf(z0 + z / stretch) : (z > 0 ? 1.0 : 0.0);
  };
  return limits_at(sample, corrected((1 - level) / 2), corrected((1 + level) / 2));
}

} // namespace eggfall
