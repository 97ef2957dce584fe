#include "statistics/trial_likelihood.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "statistics/log_ratio_interval.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

using Eggs = std::vector<std::uint32_t>;

const Eggs dozen{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25};
const Eggs none(12, 0);

/// Of a log likelihood where no egg was found: the curve of the largest skew is not quite flat on
/// the left, and not quite that of a binomial count.
constexpr double curve_without_eggs = 0.03;

/// Of a mode: the curve meets a trial's likelihood at three places of its own, of which the top is
/// none.
constexpr double mode_of_curve = 0.005;

Comparison paired(const Eggs& before, const Eggs& after, double f1 = 15, double f2 = 15) {
  return {Design::paired, {{support::counts(after, f2), support::counts(before, f1)}}, {}};
}

Comparison two_group(const Eggs& treated, const Eggs& control, double ft = 15, double fc = 15) {
  return {Design::two_group,
          {{support::counts(treated, ft), {}}, {{}, support::counts(control, fc)}},
          {}};
}

Comparison controlled(const Eggs& before, const Eggs& after, const Eggs& control_before,
                      const Eggs& control_after, double f1, double f2) {
  return {Design::controlled,
          {{support::counts(after, f2), support::counts(before, f1)},
           {support::counts(control_before, f1), support::counts(control_after, f2)}},
          {}};
}

} // namespace

TEST_CASE("A trial without eggs after treatment cannot tell low ratios apart, in any design") {
  for (const Comparison& comparison :
       {paired(dozen, none), paired(dozen, none, 15, 5), two_group(none, dozen, 5, 50),
        controlled(dozen, none, {10, 22, 7, 31, 15, 4, 18, 9}, {14, 15, 9, 40, 11, 6, 30, 8}, 15,
                   5)}) {
    const TrialLikelihood likelihood(comparison);
    CHECK(likelihood.skew() == 16);
    CHECK_THAT(likelihood.log_at(-14) - likelihood.log_at(-18),
               Catch::Matchers::WithinAbs(0, curve_without_eggs));
  }
  // 188 eggs before at one factor: log L = -188 log(1 + rho), 2 below its top at rho = e^(2/188)
  // - 1.
  CHECK_THAT(TrialLikelihood(paired(dozen, none)).log_at(std::log(std::expm1(2.0 / 188))) -
                 TrialLikelihood(paired(dozen, none)).log_at(-18),
             Catch::Matchers::WithinAbs(-2, curve_without_eggs));
}

TEST_CASE("Alike animals leave the likelihood of a binomial count, at any factors") {
  // Every animal fell alike, so that nothing widens it: B = 24 of 10 animals, A = 240.
  const Eggs before(12, 20);
  const Eggs after(12, 2);
  for (const double f2 : {15.0, 5.0, 50.0}) {
    const TrialLikelihood likelihood(paired(before, after, 15, f2));
    const double shift = std::log(15.0 / f2);
    const double mode = std::log(24.0 / 240.0) - shift;
    CHECK_THAT(likelihood.mode(), Catch::Matchers::WithinAbs(mode, mode_of_curve));
    for (const double x : {-0.6, -0.3, 0.2, 0.4}) {
      const double u = std::log(24.0 / 240.0) + x;
      const double expected = 24 * x - 264 * (softplus(u) - softplus(u - x));
      // The curve is not quite that of a binomial count.
      CHECK_THAT(likelihood.log_at(mode + x), Catch::Matchers::WithinAbs(expected, 0.04));
    }
  }
}

TEST_CASE("Animals that differ widen the likelihood to the delta method's variance") {
  const Comparison comparison = paired({400, 380, 820, 190, 410, 605, 195, 400, 300, 310},
                                       {40, 12, 38, 61, 79, 10, 43, 57, 80, 6});
  const LogRatioVariance animals = log_ratio_variance(epg(comparison));
  // The delta method's law is normal, and the curve of these 426 eggs a little skewed.
  CHECK_THAT(TrialLikelihood(comparison).scale(),
             support::close_to(std::sqrt(animals.variance * 9 / 7), 0.03)); // nu = 9
}

TEST_CASE("A control takes its own change out, and adds its own doubt") {
  const Eggs before(12, 20);
  const Eggs after(12, 2);
  const Eggs doubled(12, 40);
  const TrialLikelihood own(controlled(before, after, before, doubled, 15, 15));
  CHECK_THAT(own.mode(), Catch::Matchers::WithinAbs(std::log(0.05), mode_of_curve));
  CHECK(own.scale() > TrialLikelihood(paired(before, after)).scale());
  CHECK_THROWS_AS(TrialLikelihood(controlled(before, after, none, doubled, 15, 15)),
                  CalculationError);
  CHECK_THROWS_AS(TrialLikelihood(paired(none, after)), CalculationError);
}

TEST_CASE("Many small trials together do not flatter the drench") {
  // The highest of the sum of 600 log likelihoods lies at the true ratio, to within a tenth.
  for (const double rho : {0.1, 0.02})
    for (const double within : {0.05, 0.5}) {
      CountModel model;
      model.animals = 14;
      model.mean_eggs = 6;
      model.within_cv = within;
      model.efficacy = 1 - rho;
      std::vector<double> sum(101, 0.0);
      for (std::uint32_t i = 0; i < 600; ++i) {
        const TrialLikelihood trial(
            *compare(Design::paired, simulate(model, {7, 1, i}).trial.groups.front(), nullptr));
        for (std::size_t j = 0; j < sum.size(); ++j)
          sum[j] += trial.log_at(std::log(rho) - 1 + 0.02 * static_cast<double>(j));
      }
      const auto top = std::ranges::max_element(sum) - sum.begin();
      INFO(rho << ", " << within);
      CHECK_THAT(-1 + 0.02 * static_cast<double>(top), Catch::Matchers::WithinAbs(0, 0.1));
    }
}

TEST_CASE("The curve is that of a Poisson count, of a normal law, and of none") {
  // {width, place, skew}: skew 11 is 1, a single egg, whose log likelihood at a level M before
  // treatment is eta + log M - M e^eta, less its highest, -1.
  const TrialLikelihood one_egg(HeardLikelihood{25, -21, 11});
  CHECK(one_egg.skew() == 1);
  for (const double x : {-3.0, -1.0, 0.0, 0.5, 1.2}) {
    const double eta = one_egg.mode() + x * one_egg.scale();
    CHECK_THAT(one_egg.log_at(eta),
               Catch::Matchers::WithinAbs(x - std::exp(x) + 1, support::other_order));
  }
  const TrialLikelihood normal(HeardLikelihood{10, 4, 4});
  // Its shoulder, at half a log below the top, is one standard deviation off, and is one width
  // from where it is two below the top: 0.02 * 1.15^10 = 0.0809112 (R: 0.02 * 1.15^10),
  // to seven decimals.
  CHECK_THAT(normal.scale(), Catch::Matchers::WithinAbs(0.0809112, 1e-7));
  CHECK_THAT(normal.mode(), Catch::Matchers::WithinAbs(0, support::many_steps));
  CHECK_THAT(normal.log_at(2 * normal.scale()),
             Catch::Matchers::WithinAbs(-2, support::many_steps));
  CHECK_THAT(normal.log_at(-2 * normal.scale()),
             Catch::Matchers::WithinAbs(-2, support::many_steps));
}

TEST_CASE("What is heard of a trial is near to what it said") {
  for (const Eggs& after :
       {Eggs{0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1}, Eggs{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1},
        Eggs{9, 2, 15, 20, 6, 11, 12, 3, 25, 9, 9, 20},
        Eggs{30, 9, 50, 20, 90, 11, 40, 6, 70, 20, 20, 60}, none}) {
    const TrialLikelihood said(paired(dozen, after));
    const HeardLikelihood heard = said.heard();
    const TrialLikelihood again(heard);
    CHECK(again.heard() == heard);
    // Where a normal log likelihood is down by 2 its slope is 2 a standard deviation: an eighth of
    // one is 0.25, and 7% of the width 0.28; half a step of skew adds to it.
    for (double eta = -8; eta < 2; eta += 0.05)
      if (said.log_at(eta) > -2)
        CHECK_THAT(again.log_at(eta), Catch::Matchers::WithinAbs(said.log_at(eta), 0.6));
  }
}

TEST_CASE("Numbers of a curve that does not exist are refused") {
  CHECK_NOTHROW(check(HeardLikelihood{40, -4000, 17}));
  for (const HeardLikelihood& wrong :
       {HeardLikelihood{-1, 0, 0}, HeardLikelihood{41, 0, 0}, HeardLikelihood{0, 4001, 0},
        HeardLikelihood{0, -4001, 0}, HeardLikelihood{0, 0, -1}, HeardLikelihood{0, 0, 18}})
    CHECK_THROWS_AS(check(wrong), InputError);
  CHECK_THROWS_AS(TrialLikelihood(HeardLikelihood{0, 0, 18}), InputError);
}
