#include "classical_checks.hpp"

#include "interval_checks.hpp"

#include "eggfall/statistics/count_spread.hpp"
#include "statistics/egg_totals.hpp"
#include "statistics/log_ratio_interval.hpp"

#include <boost/math/special_functions/digamma.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

using namespace eggfall;

namespace {

const std::vector<double> levels{0.5, 0.9, 0.95, 0.99, 0.999};
constexpr double level = 0.95; ///< Where one will do.

bool is_zero(const std::vector<double>& values) {
  return std::ranges::all_of(values, [](double value) { return value == 0; });
}

std::string two(double a, double b) {
  return fmt::format("{} and {}", a, b);
}

std::string shown(const OrReason<RatioLimits>& limits) {
  return limits ? fmt::format("{} to {}", limits->lower, limits->upper)
                : "none: " + limits.why_not();
}

std::string two(const OrReason<RatioLimits>& a, const OrReason<RatioLimits>& b) {
  return shown(a) + " and " + shown(b);
}

bool close(const OrReason<RatioLimits>& a, const OrReason<RatioLimits>& b,
           double tolerance = 1e-9) {
  // Limits far from 1 are compared by their logarithms.
  const auto alike = [&](double x, double y) {
    return x == y || (x > 0 && y > 0 && std::abs(std::log(x / y)) <= tolerance);
  };
  return a.why_not() == b.why_not() &&
         (!a || (alike(a->lower, b->lower) && alike(a->upper, b->upper)));
}

OrReason<RatioLimits> inverse(const OrReason<RatioLimits>& limits) {
  return limits.transformed([](const RatioLimits& known) {
    return RatioLimits{1 / known.upper, 1 / known.lower};
  });
}

/// Above the bar what was below it.
RatioData upside_down(RatioData data) {
  for (RatioSample& sample : data.samples)
    std::swap(sample.above, sample.below);
  return data;
}

class ClassicalChecks {
public:
  ClassicalChecks(Tally& tally, const SweptTrial& trial)
      : tally_(tally), trial_(trial), comparison_(*trial.comparison), data_(epg(comparison_)),
        other_order_(reordered(comparison_, trial.number)),
        other_unit_(in_another_unit(comparison_)) {}

  void run() {
    check_ratio();
    const Evidence evidence(comparison_, {}, {});
    for (const Method method : evidence.methods())
      switch (method) {
      case Method::paired_log_ratio:
      case Method::log_ratio_1992:
      case Method::egg_totals_jeffreys:
      case Method::egg_totals_exact: {
        const auto intervals = check_intervals(tally_, trial_, evidence, method, levels);
        check_nested(tally_, trial_, intervals);
        check_none_above_none(tally_, trial_, intervals);
        break;
      }
      default:
        break;
      }
    if (pairs_animals(comparison_.design))
      check_log_ratio("paired-log-ratio",
                      [](const Comparison& comparison) { return epg(comparison); });
    if (comparison_.design != Design::controlled) {
      check_log_ratio("log-ratio-1992", [](const Comparison& comparison) {
        return without_pairing(epg(comparison));
      });
      check_egg_totals();
    }
    for (std::size_t arm = 0; arm < comparison_.arms.size(); ++arm) {
      check_spread(comparison_.arms[arm].above, other_order_.arms[arm].above);
      check_spread(comparison_.arms[arm].below, other_order_.arms[arm].below);
    }
  }

private:
  template <typename What> void check(std::string_view invariant, bool holds, What&& what) {
    tally_.check(trial_, invariant, holds, std::forward<What>(what));
  }

  void check_ratio() {
    const auto reduction = Evidence(comparison_, {}).reduction();
    const bool divides = std::ranges::none_of(data_.samples, [](const RatioSample& sample) {
      return !sample.below.empty() && is_zero(sample.below);
    });
    check("ratio: a reduction exactly if there is an egg below the bar",
          reduction.has_value() == divides, [&] { return two(reduction.has_value(), divides); });
    if (!reduction) {
      tally_.note(trial_, "there is no egg to compare with");
      return;
    }
    check("ratio: a number of at most 100%", std::isfinite(*reduction) && *reduction <= 1,
          [&] { return fmt::format("{}", *reduction); });
    const double rho = ratio(data_);
    const double again = ratio(epg(other_order_));
    check("ratio: the order of animals does not matter", ::close(rho, again, 1e-12),
          [&] { return two(rho, again); });
    const double doubled = ratio(epg(other_unit_));
    check("ratio: the unit does not matter", rho == doubled, [&] { return two(rho, doubled); });
  }

  template <typename Data> void check_log_ratio(const std::string& name, Data&& data_of) {
    const RatioData data = data_of(comparison_);
    const OrReason<RatioLimits> limits = log_ratio_limits(data, level);
    const auto check_alike = [&](std::string_view what, const OrReason<RatioLimits>& other) {
      check(name + ": " + std::string(what), close(limits, other),
            [&] { return two(limits, other); });
    };
    check_alike("the order of animals does not matter",
                log_ratio_limits(data_of(other_order_), level));
    check_alike("the unit does not matter", log_ratio_limits(data_of(other_unit_), level));
    if (!limits)
      return;
    check_alike("after over before is the inverse of before over after",
                inverse(log_ratio_limits(upside_down(data), level)));
    const double rho = ratio(data);
    // By the logarithms, as close() has them.
    check(name + ": the estimate is the middle of its limits",
          std::abs(std::log(limits->lower / rho) + std::log(limits->upper / rho)) <= 1e-9,
          [&] { return fmt::format("{} in {} to {}", rho, limits->lower, limits->upper); });
  }

  void check_egg_totals() {
    const OrReason<EggTotals> pool = egg_totals(comparison_);
    const OrReason<EggTotals> other = egg_totals(other_order_);
    check("pooled-count: the order of animals does not matter",
          pool.why_not() == other.why_not() &&
              (!pool || (pool->above == other->above && pool->below == other->below &&
                         pool->exposure_ratio == other->exposure_ratio)),
          [] { return std::string("other totals"); });
    if (!pool)
      return;
    const EggTotals& totals = *pool;
    const RatioLimits exact = exact_limits(totals, level);
    const RatioLimits jeffreys = jeffreys_limits(totals, level);
    const auto both = [&] { return two(exact, jeffreys); };
    // Beta(B, A + 1), Beta(B + 1/2, A + 1/2) and Beta(B + 1, A) are in stochastic order.
    check("pooled-count: exact limits enclose Jeffreys'",
          exact.lower <= jeffreys.lower && jeffreys.upper <= exact.upper, both);
    const double rho = static_cast<double>(totals.above) / static_cast<double>(totals.below) *
                       totals.exposure_ratio;
    // An estimate that is itself a limit may be so but for its last bits.
    check("pooled-count: exact limits hold the estimate",
          exact.lower <= rho * (1 + 1e-12) && rho * (1 - 1e-12) <= exact.upper, both);
    check("pooled-count: lower limit of rho is 0 exactly if no egg was found",
          (exact.lower == 0) == (totals.above == 0) && (jeffreys.lower == 0) == (totals.above == 0),
          both);
    if (totals.above > 0) {
      const EggTotals turned{totals.below, totals.above, 1 / totals.exposure_ratio};
      check("pooled-count: after over before is the inverse of before over after",
            close(exact, inverse(exact_limits(turned, level))) &&
                close(jeffreys, inverse(jeffreys_limits(turned, level))),
            [&] {
              return two(exact, inverse(exact_limits(turned, level))) + "; " +
                     two(jeffreys, inverse(jeffreys_limits(turned, level)));
            });
      return;
    }
    const double highest =
        highest_ratio_if_none(totals.below, totals.exposure_ratio, (1 + level) / 2);
    check("pooled-count: what no egg allows is the exact upper limit",
          ::close(highest / exact.upper, 1), [&] { return two(highest, exact.upper); });
  }

  static std::vector<std::uint32_t> eggs(const std::vector<Count>& counts) {
    std::vector<std::uint32_t> result;
    for (const Count& count : counts)
      result.push_back(count.eggs.value());
    return result;
  }

  void check_spread(const std::vector<Count>& counts, const std::vector<Count>& other_order) {
    const std::vector<std::uint32_t> x = eggs(counts);
    const CountSpread spread = count_spread(x);
    const CountSpread again = count_spread(eggs(other_order));
    const auto shown = [&] {
      return fmt::format("{} animals, mean {}, k {} and {}", spread.animals, spread.mean,
                         spread.k.value_or(-1), again.k.value_or(-1));
    };
    // k beyond some thousands rests on a variance that is the mean's but for rounding.
    check("negative binomial: the order of animals does not matter",
          spread.aggregation == again.aggregation &&
              (!spread.k || ::close(std::log(*spread.k / *again.k), 0, 1e-6 * (1 + *spread.k))),
          shown);
    // The largest k is found as a logarithm, and so not to the last bit.
    check("negative binomial: numbers in range",
          std::isfinite(spread.mean) && spread.mean >= 0 &&
              (!spread.variance || (std::isfinite(*spread.variance) && *spread.variance >= 0)) &&
              (!spread.k || (*spread.k > 0 && *spread.k <= 1e6 * (1 + 1e-9))) &&
              spread.k.has_value() == (spread.aggregation == Aggregation::clumped),
          shown);
    // A ten-thousandth of k is far enough for the score to have its sign in spite of rounding.
    if (spread.k && *spread.k <= 100 * spread.mean && *spread.k <= 1e4)
      check("negative binomial: the likelihood is highest at k",
            score(x, spread.mean, *spread.k * (1 - 1e-4)) > 0 &&
                score(x, spread.mean, *spread.k * (1 + 1e-4)) < 0,
            shown);
  }

  /// The two sides of the equation in negative_binomial.hpp, left minus right.
  static double score(const std::vector<std::uint32_t>& x, double mean, double k) {
    double sum = 0;
    for (const std::uint32_t eggs : x)
      sum += boost::math::digamma(eggs + k) - boost::math::digamma(k);
    return sum - static_cast<double>(x.size()) * std::log1p(mean / k);
  }

  Tally& tally_;
  const SweptTrial& trial_;
  const Comparison& comparison_;
  RatioData data_;
  Comparison other_order_;
  Comparison other_unit_;
};

} // namespace

void check_classical(Tally& tally, const SweptTrial& trial) {
  ClassicalChecks(tally, trial).run();
}
