#include "statistics/log_ratio_interval.hpp"

#include "eggfall/base/error.hpp"

#include <boost/math/distributions/students_t.hpp>

#include <cmath>

namespace eggfall {

LogRatioVariance log_ratio_variance(const RatioData& data) {
  const double rho = ratio(data);
  if (!std::isfinite(rho) || rho <= 0)
    throw CalculationError("the variance of a log ratio needs every mean above 0");
  LogRatioVariance result;
  for (const std::vector<double>& influence : relative_influence(data)) {
    const auto n = static_cast<double>(influence.size());
    if (influence.size() < 2)
      throw CalculationError("the variance of a log ratio needs two animals a sample");
    double sum = 0;
    for (const double u : influence)
      sum += u * u;
    result.variance += sum / (n * (n - 1));
    result.degrees_of_freedom += n - 1;
  }
  return result;
}

OrReason<RatioLimits> log_ratio_limits(const RatioData& data, double level) {
  check_level(level);
  for (const RatioSample& sample : data.samples)
    if (sample.animals() < 2)
      return WhyNot{"it needs at least two animals in each group"};
  const double rho = ratio(data);
  if (rho == 0)
    return WhyNot{"no egg was found after treatment, and the logarithm of zero does not exist"};
  if (!std::isfinite(rho))
    return WhyNot{"one of the means it divides by is zero"};
  const auto [variance, degrees_of_freedom] = log_ratio_variance(data);
  // Equal proportions leave a variance of rounding errors only.
  constexpr double rounding = 1e-24;
  if (variance <= rounding)
    return WhyNot{"the counts of all animals fell in the same proportion, so they show no spread"};
  const boost::math::students_t distribution(degrees_of_freedom);
  const double t = boost::math::quantile(distribution, (1 + level) / 2);
  const double reach = t * std::sqrt(variance);
  RatioLimits limits{rho * std::exp(-reach), rho * std::exp(reach)};
  if (!(limits.lower > 0) || !std::isfinite(limits.upper))
    return WhyNot{"so few animals that differ so much leave it no limits at this level"};
  return limits;
}

} // namespace eggfall
