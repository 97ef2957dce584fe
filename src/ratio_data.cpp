#include "eggfall/ratio_data.hpp"

#include "eggfall/error.hpp"

#include <numeric>

namespace eggfall {
namespace {

double mean_or_one(const std::vector<double>& values) {
  if (values.empty())
    return 1.0;
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
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
  }
}

} // namespace

double ratio(const RatioData& data) {
  check(data);
  double numerator = 1;
  double denominator = 1;
  for (const RatioSample& sample : data.samples) {
    numerator *= mean_or_one(sample.above);
    denominator *= mean_or_one(sample.below);
  }
  return numerator / denominator;
}

std::vector<std::vector<double>> relative_influence(const RatioData& data) {
  check(data);
  std::vector<std::vector<double>> influence;
  for (const RatioSample& sample : data.samples) {
    const double above = mean_or_one(sample.above);
    const double below = mean_or_one(sample.below);
    std::vector<double>& u = influence.emplace_back(sample.animals());
    for (std::size_t i = 0; i < u.size(); ++i)
      u[i] = (sample.above.empty() ? 1.0 : sample.above[i] / above) -
             (sample.below.empty() ? 1.0 : sample.below[i] / below);
  }
  return influence;
}

RatioData without_pairing(const RatioData& data) {
  RatioData split;
  for (const RatioSample& sample : data.samples) {
    if (!sample.above.empty())
      split.samples.push_back({sample.above, {}});
    if (!sample.below.empty())
      split.samples.push_back({{}, sample.below});
  }
  return split;
}

} // namespace eggfall
