#include "eggfall/statistics/ratio_data.hpp"

#include "eggfall/base/error.hpp"

#include <numeric>
#include <utility>

namespace eggfall {
namespace {

double mean_or_one(const std::vector<double>& values, const std::vector<double>& weights) {
  if (values.empty())
    return 1.0;
  if (weights.empty())
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
  return std::inner_product(values.begin(), values.end(), weights.begin(), 0.0) /
         std::accumulate(weights.begin(), weights.end(), 0.0);
}

void check(const RatioData& data) {
  if (data.samples.empty())
    throw CalculationError("a ratio of means needs at least one sample");
  for (const RatioSample& sample : data.samples) {
    if (sample.animals() == 0)
      throw CalculationError("a ratio of means was given a sample without animals");
    if (!sample.above.empty() && !sample.below.empty() &&
        sample.above.size() != sample.below.size())
      throw CalculationError("a paired sample with sides of different length");
    if (!sample.weights.empty() && sample.weights.size() != sample.animals())
      throw CalculationError("a sample with weights for other animals");
    for (const double weight : sample.weights)
      if (!(weight > 0))
        throw CalculationError("a sample with a weight that is not above 0");
  }
}

} // namespace

double ratio(const RatioData& data) {
  check(data);
  double numerator = 1;
  double denominator = 1;
  for (const RatioSample& sample : data.samples) {
    numerator *= mean_or_one(sample.above, sample.weights);
    denominator *= mean_or_one(sample.below, sample.weights);
  }
  return numerator / denominator;
}

std::vector<std::vector<double>> relative_influence(const RatioData& data) {
  check(data);
  std::vector<std::vector<double>> influence;
  for (const RatioSample& sample : data.samples) {
    const double above = mean_or_one(sample.above, sample.weights);
    const double below = mean_or_one(sample.below, sample.weights);
    const double mean_weight = mean_or_one(sample.weights, {});
    std::vector<double> u(sample.animals());
    for (std::size_t i = 0; i < u.size(); ++i)
      u[i] = (sample.weights.empty() ? 1.0 : sample.weights[i] / mean_weight) *
             ((sample.above.empty() ? 1.0 : sample.above[i] / above) -
              (sample.below.empty() ? 1.0 : sample.below[i] / below));
    influence.push_back(std::move(u));
  }
  return influence;
}

RatioData without_pairing(const RatioData& data) {
  RatioData split;
  for (const RatioSample& sample : data.samples) {
    if (!sample.above.empty())
      split.samples.push_back({sample.above, {}, sample.weights});
    if (!sample.below.empty())
      split.samples.push_back({{}, sample.below, sample.weights});
  }
  return split;
}

} // namespace eggfall
