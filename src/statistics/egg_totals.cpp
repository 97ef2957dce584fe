#include "statistics/egg_totals.hpp"

#include "eggfall/base/error.hpp"

#include <boost/math/special_functions/beta.hpp>

#include <cmath>
#include <limits>

namespace eggfall {
namespace {

void check(const EggTotals& totals, double level) {
  check_level(level);
  if (totals.below == 0)
    throw CalculationError("pooled-count limits need at least one egg below the fraction bar");
  if (!(totals.exposure_ratio > 0) || !std::isfinite(totals.exposure_ratio))
    throw CalculationError("pooled-count limits need an exposure ratio above 0");
}

/// p/(1 - p) for the quantile p of Beta(a, b); of a p close to 1 the difference would keep few
/// digits.
double odds_quantile(double a, double b, double probability) {
  double rest = 0;
  const double p = boost::math::ibeta_inv(a, b, probability, &rest);
  return p / rest;
}

} // namespace

RatioLimits jeffreys_limits(const EggTotals& totals, double level) {
  check(totals, level);
  const double a = static_cast<double>(totals.above) + 0.5;
  const double b = static_cast<double>(totals.below) + 0.5;
  const double tail = (1 - level) / 2;
  const double low = totals.above == 0 ? 0 : odds_quantile(a, b, tail);
  return {low * totals.exposure_ratio, odds_quantile(a, b, 1 - tail) * totals.exposure_ratio, {}};
}

RatioLimits exact_limits(const EggTotals& totals, double level) {
  check(totals, level);
  const auto above = static_cast<double>(totals.above);
  const auto below = static_cast<double>(totals.below);
  const double tail = (1 - level) / 2;
  const double low = totals.above == 0 ? 0 : odds_quantile(above, below + 1, tail);
  const double high = odds_quantile(above + 1, below, 1 - tail);
  return {low * totals.exposure_ratio, high * totals.exposure_ratio, {}};
}

double highest_ratio_if_none(std::uint64_t below, double exposure_ratio, double level) {
  check({0, below, exposure_ratio}, level);
  return std::expm1(-std::log1p(-level) / static_cast<double>(below)) * exposure_ratio;
}

OrReason<EggTotals> egg_totals(const Comparison& comparison) {
  std::vector<CountTotals> above;
  std::vector<CountTotals> below;
  for (const Arm& arm : comparison.arms) {
    if (!arm.above.empty())
      above.push_back(totals_of(arm.above));
    if (!arm.below.empty())
      below.push_back(totals_of(arm.below));
  }
  if (above.size() != 1 || below.size() != 1)
    return WhyNot{"it compares two totals of eggs, and this design has four"};
  if (!above[0].factor || !below[0].factor)
    return WhyNot{"the animals were counted with different factors, so their eggs do not add up"};
  if (!above[0].animals_a_sample || !below[0].animals_a_sample)
    return WhyNot{"the pools are of different sizes, so their eggs do not add up"};
  if (below[0].eggs == 0)
    return WhyNot{"no egg was counted to compare with"};
  const auto exposure = [](const CountTotals& total) {
    return static_cast<double>(total.animals) / total.factor->value();
  };
  return EggTotals{above[0].eggs, below[0].eggs, exposure(below[0]) / exposure(above[0])};
}

} // namespace eggfall
