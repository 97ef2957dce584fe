#include "statistics/trial_likelihood.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

using Eggs = std::vector<std::uint32_t>;

const Eggs dozen{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25};
const Eggs none(12, 0);

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

/// Log posterior less log prior, at the grid's point next to eta.
double log_likelihood(const LogRatioDensity& posterior, double middle, double eta) {
  const auto i =
      static_cast<std::size_t>(std::lround((eta - posterior.start()) / posterior.step()));
  const double u = posterior.start() + posterior.step() * static_cast<double>(i) - middle;
  return std::log(posterior.density().at(i)) - u / 2 + softplus(u);
}

TrialLikelihood likelihood_of(const Comparison& comparison) {
  return {*posterior(comparison, {}).density, comparison};
}

} // namespace

TEST_CASE("With its prior taken out, a trial without eggs after treatment cannot tell low ratios "
          "apart, in any design and at any factors") {
  // That no egg can be seen of fewer is no matter of a model: the likelihood must be flat there.
  for (const Comparison& comparison :
       {paired(dozen, none), paired(dozen, none, 15, 5), paired(dozen, none, 5, 50),
        two_group(none, dozen), two_group(none, dozen, 5, 50),
        two_group(Eggs(5, 0), {140, 80, 220, 95, 310}, 15, 5),
        controlled(dozen, none, {10, 22, 7, 31, 15, 4, 18, 9}, {14, 15, 9, 40, 11, 6, 30, 8}, 15,
                   5)}) {
    INFO(to_string(comparison.design));
    const LogRatioDensity density = *posterior(comparison, {}).density;
    const double middle = prior_middle(comparison, {});
    const double low = density.quantile(0.002).value;
    const double less_low = density.quantile(0.05).value;
    REQUIRE(less_low - low > 3);
    CHECK_THAT(log_likelihood(density, middle, low) - log_likelihood(density, middle, less_low),
               Catch::Matchers::WithinAbs(0, 0.06));
    const TrialLikelihood likelihood(density, comparison);
    CHECK(likelihood.skew() == 16);
    CHECK_THAT(likelihood.log_at(low), Catch::Matchers::WithinAbs(0, 0.05));
  }
}

TEST_CASE("A trial with many eggs says what it counted, whatever its prior") {
  // The mode is the pooled ratio to within the few hundredths that unequal animals move it.
  const Eggs before{400, 380, 420, 390, 410, 405, 395, 400};
  const Eggs after{40, 42, 38, 41, 39, 40, 43, 37};
  const double ratio = std::log(320.0 / 3200.0);
  CHECK_THAT(likelihood_of(paired(before, after)).mode(), Catch::Matchers::WithinAbs(ratio, 0.02));
  CHECK_THAT(likelihood_of(paired(before, after, 15, 5)).mode(),
             Catch::Matchers::WithinAbs(ratio - std::log(3.0), 0.02));
  CHECK_THAT(likelihood_of(two_group(after, before)).mode(),
             Catch::Matchers::WithinAbs(ratio, 0.02));
  CHECK_THAT(likelihood_of(controlled(before, after, before, before, 15, 15)).mode(),
             Catch::Matchers::WithinAbs(ratio, 0.02));
}

TEST_CASE("The curve is that of a Poisson count, of a normal law, and of none") {
  // {width, place, skew}: skew 11 is 1, a single egg, whose log likelihood at a level M before
  // treatment is eta + log M - M e^eta, less its highest, -1.
  const TrialLikelihood one_egg(HeardLikelihood{25, -21, 11});
  CHECK(one_egg.skew() == 1);
  for (const double x : {-3.0, -1.0, 0.0, 0.5, 1.2}) {
    const double eta = one_egg.mode() + x * one_egg.scale();
    CHECK_THAT(one_egg.log_at(eta), Catch::Matchers::WithinAbs(x - std::exp(x) + 1, 1e-12));
  }
  const TrialLikelihood normal(HeardLikelihood{10, 4, 4});
  // Its shoulder, at half a log below the top, is one standard deviation off, and is one width
  // from where it is two below the top: 0.02 * 1.15^10 = 0.0809112 (R: 0.02 * 1.15^10).
  CHECK_THAT(normal.scale(), Catch::Matchers::WithinAbs(0.0809112, 1e-7));
  CHECK_THAT(normal.mode(), Catch::Matchers::WithinAbs(0, 1e-9));
  CHECK_THAT(normal.log_at(2 * normal.scale()), Catch::Matchers::WithinAbs(-2, 1e-9));
  CHECK_THAT(normal.log_at(-2 * normal.scale()), Catch::Matchers::WithinAbs(-2, 1e-9));
}

TEST_CASE("What is heard of a trial is near to what it said") {
  for (const Eggs& after :
       {Eggs{0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1}, Eggs{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1},
        Eggs{9, 2, 15, 20, 6, 11, 12, 3, 25, 9, 9, 20},
        Eggs{30, 9, 50, 20, 90, 11, 40, 6, 70, 20, 20, 60}, none}) {
    const TrialLikelihood said = likelihood_of(paired(dozen, after));
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
