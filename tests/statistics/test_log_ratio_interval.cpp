#include "statistics/log_ratio_interval.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

void check_reduction(const OrReason<RatioLimits>& rho, double lower_percent, double upper_percent) {
  REQUIRE(rho);
  CHECK_THAT(100 * (1 - rho->upper), support::close_to(lower_percent));
  CHECK_THAT(100 * (1 - rho->lower), support::close_to(upper_percent));
}

} // namespace

TEST_CASE("The 1992 interval of Trial A agrees with R") {
  // R 4.2.2, tests/published/reference.R; formula of Coles et al. 1992.
  const RatioData data = support::two_group(trial_a::after, trial_a::control);
  const LogRatioVariance variance = log_ratio_variance(data);
  CHECK_THAT(variance.variance, support::close_to(0.232475763927));
  CHECK(variance.degrees_of_freedom == 22);
  check_reduction(log_ratio_limits(data, 0.95), 89.072963168887, 98.520988965253);
  check_reduction(log_ratio_limits(data, 0.90), 90.799656872692, 98.243412465527);
}

TEST_CASE("The paired log ratio of Trial A agrees with R") {
  // R 4.2.2, tests/published/reference.R.
  const RatioData data = support::paired(trial_a::before, trial_a::after);
  CHECK_THAT(log_ratio_variance(data).variance, support::close_to(0.0994176715091));
  CHECK(log_ratio_variance(data).degrees_of_freedom == 11);
  check_reduction(log_ratio_limits(data, 0.90), 92.5036034292072, 97.5844739684859);
  check_reduction(log_ratio_limits(data, 0.95), 91.4822443374229, 97.8741182799057);
}

TEST_CASE("Two animals are enough for a log ratio, and one is not") {
  // R 4.2.2: means 2.5 and 15, u = -/+ 4/15, V = (4/15)^2, and
  // 100*(1 - exp(c(1, -1)*qt(0.95, 1)*4/15)/6).
  const RatioData two = support::paired({10, 20}, {1, 4});
  CHECK_THAT(log_ratio_variance(two).variance, support::close_to(16.0 / 225));
  CHECK(log_ratio_variance(two).degrees_of_freedom == 1);
  check_reduction(log_ratio_limits(two, 0.90), 10.245533931429, 96.905136981534);
  CHECK_THROWS_AS(log_ratio_variance(support::paired({10}, {1})), CalculationError);
  CHECK(log_ratio_limits(support::two_group({1, 4}, {10}), 0.90).why_not() ==
        "it needs at least two animals in each group");
}

TEST_CASE("t at 28 degrees of freedom is the 2.048 printed by Coles et al. 1992") {
  // Two groups of 15 animals; limits rho exp(-/+ t sqrt(Y2)), so t can be read off.
  std::vector<std::uint32_t> fifteen = trial_a::control;
  fifteen.insert(fifteen.end(), {8, 21, 33});
  const RatioData data = support::two_group(fifteen, fifteen);
  const RatioLimits limits = *log_ratio_limits(data, 0.95);
  const double t = std::log(limits.upper) / std::sqrt(log_ratio_variance(data).variance);
  CHECK_THAT(t, Catch::Matchers::WithinAbs(2.048, 0.0005)); // printed to three decimals
}

TEST_CASE("The variance of a controlled design is the sum of its two paired parts") {
  const RatioData treated = support::paired(trial_a::before, trial_a::after);
  const RatioData control = support::paired(trial_a::control, trial_a::before);
  RatioData both = treated;
  both.samples.push_back({control.samples[0].below, control.samples[0].above});
  CHECK_THAT(
      log_ratio_variance(both).variance,
      support::close_to(log_ratio_variance(treated).variance + log_ratio_variance(control).variance,
                        support::other_order));
}

TEST_CASE("Swapping the groups turns the ratio over") {
  const RatioLimits a =
      *log_ratio_limits(support::two_group(trial_a::after, trial_a::control), 0.9);
  const RatioLimits b =
      *log_ratio_limits(support::two_group(trial_a::control, trial_a::after), 0.9);
  CHECK_THAT(a.lower, support::close_to(1 / b.upper, support::other_order));
  CHECK_THAT(a.upper, support::close_to(1 / b.lower, support::other_order));
}

TEST_CASE("A log ratio that does not exist says why") {
  const auto why = [](const RatioData& data) { return log_ratio_limits(data, 0.9).why_not(); };
  CHECK(why(support::paired({5, 9, 2}, {0, 0, 0})) ==
        "no egg was found after treatment, and the logarithm of zero does not exist");
  CHECK(why(support::paired({0, 0, 0}, {1, 0, 2})) == "one of the means it divides by is zero");
  CHECK(why(support::paired({0, 0}, {0, 0})) == "one of the means it divides by is zero");
  CHECK(why(support::paired({5}, {1})) == "it needs at least two animals in each group");
  CHECK(why(support::paired({4, 8, 12}, {1, 2, 3})) ==
        "the counts of all animals fell in the same proportion, so they show no spread");
  // t(0.9995) on one degree of freedom is 637 and sqrt(V) is 2: exp(1273) is no number.
  CHECK(log_ratio_limits(support::paired({5, 0}, {0, 3}), 0.999).why_not() ==
        "so few animals that differ so much leave it no limits at this level");
  CHECK(log_ratio_limits(support::paired({5, 0}, {0, 3}), 0.99));
  CHECK_THROWS_AS(log_ratio_variance(support::paired({5, 9}, {0, 0})), CalculationError);
  CHECK_THROWS_AS(log_ratio_variance(support::paired({0, 0}, {1, 0})), CalculationError);
  CHECK_THROWS_AS(log_ratio_limits(support::paired({5, 9}, {1, 0}), 1.0), InputError);
  CHECK_THROWS_AS(log_ratio_limits(support::paired({5, 9}, {1, 0}), 0.0), InputError);
}

TEST_CASE("Weights count in the mean, and their own spread is no spread of the values") {
  // By hand: pools of 2, 3 and 5 animals; mean = (2 x 4 + 3 x 6 + 5 x 8)/10 = 6.6,
  // u = (w/mean w)(x/mean - 1), V = sum u^2/(n (n - 1)).
  const RatioData data{{{{4, 6, 8}, {}, {2, 3, 5}}}};
  CHECK_THAT(ratio(data), support::close_to(6.6));
  double squares = 0;
  for (const auto& [x, w] : {std::pair{4.0, 2.0}, {6.0, 3.0}, {8.0, 5.0}})
    squares += std::pow(w / (10.0 / 3) * (x / 6.6 - 1), 2);
  CHECK_THAT(log_ratio_variance(data).variance, support::close_to(squares / 6));

  // Pools alike in EPG but not in size.
  const RatioData alike{{{{7, 7, 7}, {}, {1, 10, 4}}, {{}, {20, 20, 20}, {10, 2, 1}}}};
  CHECK_THAT(ratio(alike), support::close_to(0.35));
  CHECK(log_ratio_limits(alike, 0.9).why_not() ==
        "the counts of all animals fell in the same proportion, so they show no spread");

  // Of any scale.
  RatioData tenfold = data;
  for (double& weight : tenfold.samples[0].weights)
    weight *= 10;
  CHECK_THAT(log_ratio_variance(tenfold).variance, support::close_to(squares / 6));
  CHECK_THAT(ratio(without_pairing(data)), support::close_to(6.6));
  CHECK_THROWS_AS(ratio({{{{4, 6}, {}, {2, 0}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{4, 6}, {}, {2}}}}), CalculationError);
}
