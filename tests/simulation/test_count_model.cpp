#include "eggfall/simulation/count_model.hpp"

#include "support/support.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/lognormal.hpp>
#include <boost/math/distributions/negative_binomial.hpp>
#include <boost/math/distributions/weibull.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

using namespace eggfall;

namespace {

constexpr std::size_t animals = 10'000;
constexpr std::uint32_t replicates = 2;
constexpr double sampled = animals * replicates;

/// A chance of 1 in 16,000 for a normal variable; the seeds are fixed, so a test that passes
/// always does.
constexpr double errors = 4;

struct Pairs {
  std::vector<double> before;
  std::vector<double> after;
};

/// Eggs of the animals sampled on both days, of `replicates` trials.
Pairs pairs(CountModel model, std::uint64_t seed, std::size_t group = 0) {
  model.animals = animals;
  Pairs result;
  for (std::uint32_t replicate = 0; replicate < replicates; ++replicate) {
    const Trial trial = simulate(model, {seed, 7, replicate}).trial;
    for (const Animal& animal : trial.groups.at(group).animals)
      if (animal.after) {
        result.before.push_back(animal.before->eggs.value());
        result.after.push_back(animal.after->eggs.value());
      }
  }
  return result;
}

/// A value and its Monte Carlo standard error.
struct Estimate {
  double value = 0;
  double error = 0;
};

Estimate mean(const std::vector<double>& values) {
  const auto n = static_cast<double>(values.size());
  double sum = 0;
  for (const double x : values)
    sum += x;
  double squares = 0;
  for (const double x : values)
    squares += (x - sum / n) * (x - sum / n);
  return {sum / n, std::sqrt(squares) / n};
}

/// The mean of (x - mean x)(y - mean y) and its standard error, both from the sample.
Estimate covariance(const std::vector<double>& x, const std::vector<double>& y) {
  const double x_mean = mean(x).value;
  const double y_mean = mean(y).value;
  std::vector<double> products(x.size());
  for (std::size_t i = 0; i < x.size(); ++i)
    products[i] = (x[i] - x_mean) * (y[i] - y_mean);
  return mean(products);
}

Estimate variance(const std::vector<double>& x) {
  return covariance(x, x);
}

/// after/before of the totals; the error from the sample by the delta method, Davison & Hinkley
/// 1997, section 2.7.
Estimate ratio_of_totals(const Pairs& eggs) {
  const RatioData data{{{eggs.after, eggs.before}}};
  double squares = 0;
  const std::vector<double> influence = relative_influence(data).front();
  for (const double u : influence)
    squares += u * u;
  const double rho = ratio(data);
  return {rho, rho * std::sqrt(squares) / static_cast<double>(influence.size())};
}

void check_near(const Estimate& estimate, double expected) {
  CAPTURE(estimate.value, estimate.error, expected);
  CHECK(std::abs(estimate.value - expected) <= errors * estimate.error);
}

/// A share of n against its expected value, with the binomial error of that.
void check_share(double count, double n, double expected) {
  check_near({count / n, std::sqrt(expected * (1 - expected) / n)}, expected);
}

/// Variance of a count of mean m: Poisson about a level of squared coefficient of variation 1/k
/// times a luck of tau^2 (and another of `cv`^2): m + m^2 (E[level^2] E[luck^2] - 1), by the law
/// of total variance.
double count_variance(double m, double k, double tau, double cv = 0) {
  return m + m * m * ((1 + 1 / k) * (1 + tau * tau) * (1 + cv * cv) - 1);
}

double chi_square_p(const std::vector<double>& observed, const std::vector<double>& expected) {
  double sum = 0;
  for (std::size_t i = 0; i < observed.size(); ++i)
    sum += (observed[i] - expected[i]) * (observed[i] - expected[i]) / expected[i];
  const boost::math::chi_squared distribution(static_cast<double>(observed.size() - 1));
  return boost::math::cdf(boost::math::complement(distribution, sum));
}

/// Pearson's test of counts against Boost.Math's negative binomial (k, p = k/(k + m)), cells
/// pooled from 0 upward to an expected 5 or more. No parameter is estimated.
double negative_binomial_p(const std::vector<double>& counts, double k, double m) {
  constexpr double least = 5;
  const auto n = static_cast<double>(counts.size());
  const boost::math::negative_binomial distribution(k, k / (k + m));
  std::vector<double> sorted = counts;
  std::ranges::sort(sorted);
  const auto up_to = [&](double x) {
    return static_cast<double>(std::ranges::upper_bound(sorted, x) - sorted.begin());
  };
  std::vector<double> observed;
  std::vector<double> expected;
  double seen_before = 0;
  double cell = 0;
  for (double x = 0;; ++x) {
    cell += n * boost::math::pdf(distribution, x);
    const double tail = n * boost::math::cdf(boost::math::complement(distribution, x));
    if (tail < least) {
      expected.push_back(cell + tail);
      observed.push_back(n - seen_before);
      break;
    }
    if (cell < least)
      continue;
    expected.push_back(cell);
    observed.push_back(up_to(x) - seen_before);
    seen_before = up_to(x);
    cell = 0;
  }
  return chi_square_p(observed, expected);
}

/// Pearson's test of values over `m` against 20 cells of equal probability by Boost.Math's
/// quantiles.
template <typename Distribution>
double levels_p(const std::vector<double>& values, double m, const Distribution& distribution) {
  constexpr int cells = 20;
  std::vector<double> edges;
  for (int i = 1; i < cells; ++i)
    edges.push_back(m * boost::math::quantile(distribution, static_cast<double>(i) / cells));
  std::vector<double> observed(cells);
  for (const double value : values)
    ++observed[static_cast<std::size_t>(std::ranges::upper_bound(edges, value) - edges.begin())];
  return chi_square_p(observed,
                      std::vector<double>(cells, static_cast<double>(values.size()) / cells));
}

constexpr double fits = 0.001;
constexpr double does_not_fit = 1e-6;

std::vector<std::pair<std::uint32_t, double>> counted(const Trial& trial) {
  std::vector<std::pair<std::uint32_t, double>> result;
  for (const Group& group : trial.groups)
    for (const Animal& animal : group.animals)
      for (const auto& count : {animal.before, animal.after})
        if (count)
          result.emplace_back(count->eggs.value(), count->factor.value());
  return result;
}

} // namespace

TEST_CASE("Names of level shapes are read back") {
  for (const LevelShape shape : all_level_shapes)
    CHECK(parse_level_shape(to_string(shape)) == shape);
  CHECK_FALSE(parse_level_shape("normal"));
}

TEST_CASE("Simulated eggs before have the mean and the variance of the model") {
  std::uint64_t seed = 100;
  for (const LevelShape shape : all_level_shapes)
    for (const double k : {0.7, 3.0, 50.0})
      for (const double within : {0.0, 0.5, 1.0}) {
        CAPTURE(to_string(shape), k, within);
        CountModel model;
        model.shape = shape;
        model.k = k;
        model.within_cv = within;
        model.mean_eggs = 12;
        const Pairs eggs = pairs(model, ++seed);
        const double expected = count_variance(12, k, within);
        // The error of the mean from the closed form, that of the variance from the sample.
        check_near({mean(eggs.before).value, std::sqrt(expected / sampled)}, 12);
        check_near(variance(eggs.before), expected);
      }
}

TEST_CASE("Simulated totals fall by the true efficacy") {
  CountModel model;
  model.mean_eggs = 30;
  model.efficacy = 0.8;
  SECTION("of every shape") {
    for (const LevelShape shape : all_level_shapes) {
      model.shape = shape;
      check_near(ratio_of_totals(pairs(model, 201)), 1 - 0.8);
    }
  }
  SECTION("times the season's change and the change of factor") {
    model.season_change = 0.7;
    model.factor_after = MultiplicationFactor(5);
    check_near(ratio_of_totals(pairs(model, 202)), 0.2 * 0.7 * 15 / 5);
  }
  SECTION("of the animals dosed, whatever varies besides") {
    model.undosed = 0.1;
    model.without_worms = 0.3;
    model.missing_after = 0.2;
    model.efficacy_cv = 0.6;
    model.k_after = 0.4;
    // By hand: 0.9 x 0.2 + 0.1 x 1 is left.
    CHECK_THAT(true_efficacy(model), support::close_to(1 - 0.28, support::other_order));
    check_near(ratio_of_totals(pairs(model, 203)), 0.28);
  }
  SECTION("or rise, if it is below 0") {
    model.efficacy = -0.5;
    check_near(ratio_of_totals(pairs(model, 204)), 1.5);
  }
}

TEST_CASE("Simulated counts before are negative binomial, if levels are gamma") {
  for (const auto& [k, m] : {std::pair(0.2, 10.0), std::pair(0.7, 8.0), std::pair(3.0, 30.0)}) {
    CAPTURE(k, m);
    CountModel model;
    model.k = k;
    model.mean_eggs = m;
    model.within_cv = 0;
    const Pairs eggs = pairs(model, 301);
    CHECK(negative_binomial_p(eggs.before, k, m) > fits);
    // The test has the power to see another k.
    CHECK(negative_binomial_p(eggs.before, 1.3 * k, m) < does_not_fit);
  }
}

TEST_CASE("Simulated counts after are negative binomial with a k of their own") {
  for (const auto& [k, k_after] : {std::pair(0.7, 0.4), std::pair(3.0, 0.3), std::pair(2.0, 1.9)}) {
    CAPTURE(k, k_after);
    CountModel model;
    model.k = k;
    model.k_after = k_after;
    model.mean_eggs = 20;
    model.efficacy = 0.7;
    model.within_cv = 0;
    const Pairs eggs = pairs(model, 302);
    const double left = 20 * (1 - 0.7);
    CHECK(negative_binomial_p(eggs.before, k, 20) > fits);
    CHECK(negative_binomial_p(eggs.after, k_after, left) > fits);
    CHECK(negative_binomial_p(eggs.after, 1.3 * k_after, left) < does_not_fit);
    // The Beta variable and the luck of counting are independent of the level, so only its
    // variance 1/k is shared: cov = 20 x left / k, above 0.
    const Estimate shared = covariance(eggs.before, eggs.after);
    check_near(shared, 20 * left / k);
    CHECK(shared.value > errors * shared.error);
  }
}

TEST_CASE("Simulated levels have the shape asked for") {
  // At a mean of 5,000 eggs a count is its level to about 1.4%, which 20 cells cannot show.
  CountModel model;
  model.mean_eggs = 5'000;
  model.within_cv = 0;
  SECTION("gamma") {
    model.k = 0.7;
    CHECK(levels_p(pairs(model, 401).before, 5'000,
                   boost::math::gamma_distribution<>(0.7, 1 / 0.7)) > fits);
  }
  SECTION("log-normal: the log has variance log(1 + 1/k)") {
    model.shape = LevelShape::log_normal;
    model.k = 0.7;
    const double variance_of_log = std::log(1 + 1 / 0.7);
    const boost::math::lognormal expected(-variance_of_log / 2, std::sqrt(variance_of_log));
    const Pairs eggs = pairs(model, 402);
    CHECK(levels_p(eggs.before, 5'000, expected) > fits);
    CHECK(levels_p(eggs.before, 5'000, boost::math::gamma_distribution<>(0.7, 1 / 0.7)) <
          does_not_fit);
  }
  SECTION("Weibull, k from the shape by Boost.Math's mean and variance") {
    model.shape = LevelShape::weibull;
    for (const double shape : {0.6, 1.0, 2.5}) {
      CAPTURE(shape);
      const boost::math::weibull unit(shape, 1);
      const double unit_mean = boost::math::mean(unit);
      model.k = unit_mean * unit_mean / boost::math::variance(unit);
      const Pairs eggs = pairs(model, 403);
      CHECK(levels_p(eggs.before, 5'000, boost::math::weibull(shape, 1 / unit_mean)) > fits);
      CHECK(levels_p(eggs.before, 5'000, boost::math::weibull(1.1 * shape, 1 / unit_mean)) <
            does_not_fit);
    }
  }
}

TEST_CASE("Simulated shares are those asked for") {
  CountModel model;
  model.mean_eggs = 1'000; // with k = 1,000 no infected animal shows 0
  model.k = 1'000;
  model.within_cv = 0;
  SECTION("not dosed") {
    model.undosed = 0.15;
    model.efficacy = 1;
    const Pairs eggs = pairs(model, 501);
    check_share(sampled - static_cast<double>(std::ranges::count(eggs.after, 0.0)), sampled, 0.15);
  }
  SECTION("without worms, the others having the more") {
    model.without_worms = 0.3;
    const Pairs eggs = pairs(model, 502);
    check_share(static_cast<double>(std::ranges::count(eggs.before, 0.0)), sampled, 0.3);
    check_near(mean(eggs.before), 1'000);
  }
  SECTION("missing, by luck") {
    model.missing_after = 0.25;
    model.k = 0.7;
    const Pairs eggs = pairs(model, 503);
    check_share(static_cast<double>(eggs.after.size()), sampled, 0.75);
    check_near(mean(eggs.before), 1'000); // those found again are like the others
  }
}

TEST_CASE("A varying efficacy shows in the variance after") {
  CountModel model;
  model.mean_eggs = 200;
  model.efficacy = 0.5;
  model.k = 20;
  model.within_cv = 0.2;
  model.efficacy_cv = 0.8;
  const Pairs eggs = pairs(model, 601);
  check_near(variance(eggs.before), count_variance(200, 20, 0.2));
  check_near(variance(eggs.after), count_variance(100, 20, 0.2, 0.8));
}

TEST_CASE("A variation too small to show is none") {
  // 1e-200 squared is 0, and 1/0 no shape of a gamma variable.
  CountModel model;
  model.within_cv = 1e-200;
  model.efficacy_cv = 1e-12;
  CountModel none = model;
  none.within_cv = none.efficacy_cv = 0;
  CHECK(counted(simulate(model, {602, 0, 0}).trial) == counted(simulate(none, {602, 0, 0}).trial));
}

TEST_CASE("Careless weighing adds its variation to every count, and to no truth") {
  // Two gamma variables of mean 1 multiply: (1 + 0.25)(1 + 0.36) - 1 = 0.7, as one of CV sqrt(0.7).
  CountModel model;
  model.mean_eggs = 20;
  model.k = 1;
  model.within_cv = 0.5;
  model.weighing_cv = 0.6;
  model.efficacy = 0.5;
  const Pairs eggs = pairs(model, 603);
  check_near(mean(eggs.before), 20);
  check_near(mean(eggs.after), 10);
  check_near(variance(eggs.before), count_variance(20, 1, std::sqrt(0.7)));
  check_near(variance(eggs.after), count_variance(10, 1, std::sqrt(0.7)));
  CHECK(true_efficacy(model) == 0.5);
}

TEST_CASE("Animals given too little keep more of their worms") {
  CountModel model;
  model.mean_eggs = 40;
  model.efficacy = 0.9;
  model.undosed = 0.1;
  model.underdosed = 0.3;
  model.underdose_effect = 0.5;
  CHECK_THAT(true_efficacy(model), support::close_to(0.9 * 0.85 * 0.9));
  check_near(mean(pairs(model, 604).after), 40 * (1 - true_efficacy(model)));

  model.animals = 2'000;
  model.within_cv = 0;
  const SimulatedTrial simulated = simulate(model, {605, 0, 0});
  double undosed = 0;
  double underdosed = 0;
  for (const AnimalTruth& truth : simulated.truths.front()) {
    undosed += static_cast<double>(truth.undosed);
    underdosed += static_cast<double>(truth.underdosed);
    const double left = truth.undosed > 0 ? 1 : truth.underdosed > 0 ? 0.55 : 0.1;
    // Products in another order; a level so low that it has lost its digits is as good as 0.
    CHECK_THAT(*truth.epg_after,
               Catch::WithinRel(left * truth.epg_before, 1e-9) || Catch::WithinAbs(0, 1e-300));
  }
  // Binomial, four standard errors.
  CHECK(std::abs(undosed - 200) < errors * std::sqrt(2'000 * 0.1 * 0.9));
  CHECK(std::abs(underdosed - 540) < errors * std::sqrt(1'800 * 0.3 * 0.7 + 0.09 * 180));
}

TEST_CASE("Counts of one sample add up") {
  CountModel model;
  model.counts_a_sample = 3;
  model.factor_after = MultiplicationFactor(6);
  model.within_cv = 0;
  model.efficacy = 0.4;
  const Animal first = simulate(model, {701, 0, 0}).trial.groups.front().animals.front();
  CHECK(first.before->factor.value() == 5); // 15 / 3
  CHECK(first.after->factor.value() == 2);  // 6 / 3
  const Pairs eggs = pairs(model, 701);
  check_near(mean(eggs.before), 3 * 10);
  check_near(mean(eggs.after), 3 * 10 * 0.6 * 15 / 6);
  // One level for the three counts: the variance of one count of mean 30.
  check_near(variance(eggs.before), count_variance(30, 0.7, 0));
}

TEST_CASE("A pool's count varies less, by the number of animals in it") {
  for (const std::size_t size : {2U, 10U}) {
    CountModel model;
    model.animals_in_pool = size;
    model.k = 0.7;
    model.within_cv = 0.8;
    model.mean_eggs = 12;
    const Pairs eggs = pairs(model, 400 + size);
    // The variance of a mean of independent levels is theirs divided by their number.
    const double of_levels = (count_variance(12, 0.7, 0.8) - 12) / static_cast<double>(size);
    check_near({mean(eggs.before).value, std::sqrt((12 + of_levels) / sampled)}, 12);
    check_near(variance(eggs.before), 12 + of_levels);
    check_near(ratio_of_totals(eggs), 0.05);
    const Trial trial = simulate(model, {1, 1, 1}).trial;
    CHECK(trial.groups.front().animals.front().before->animals == size);
  }
}

TEST_CASE("Simulated cultures show each worm's share of the eggs") {
  CountModel model;
  model.animals = animals;
  model.control_animals = 10;
  model.worm_share = 0.2;
  model.efficacy = 0.7;
  model.other_efficacy = 0.98;
  model.larvae = 10'000;
  model.mean_eggs = 1'000; // of 50 g 375,000 eggs hatch: more than are told apart
  CHECK(true_efficacy(model) == 0.7);
  // Of 100 eggs before 20 are the worm's; after, 20 x 0.3 = 6 of 6 + 80 x 0.02 = 7.6.
  const double before = 0.2;
  const double after = 6 / 7.6;
  // Each kind's sum over n animals varies by c^2/n, c^2 = (1 + 1/k)(1 + tau^2) - 1; a share q of
  // two such sums by 2 q^2 (1 - q)^2 c^2/n (delta method), and the larvae by q(1 - q)/larvae.
  const double c2 = (1 + 1 / model.k) * (1 + model.within_cv * model.within_cv) - 1;
  const auto error = [&](double q) {
    return std::sqrt(2 * q * q * (1 - q) * (1 - q) * c2 / animals + q * (1 - q) / 1e4);
  };
  const Trial trial = simulate(model, {5, 5, 5}).trial;
  const auto share = [](const Culture& culture) {
    return static_cast<double>(larvae_of(culture, simulated_worm)) /
           static_cast<double>(total_larvae(culture));
  };
  const Group& treated = trial.groups.front();
  CHECK(total_larvae(treated.culture_before) == 10'000);
  check_near({share(treated.culture_before), error(before)}, before);
  check_near({share(treated.culture_after), error(after)}, after);
  CHECK(total_larvae(trial.groups.back().culture_after) == 10'000);

  // All worms together fall by 1 - 0.2 x 0.3 - 0.8 x 0.02.
  check_near(ratio_of_totals(pairs(model, 6)), 0.2 * 0.3 + 0.8 * 0.02);

  // Half of the eggs in 50 g: of 0.02 EPG, half an egg.
  model.efficacy = model.other_efficacy = 1 - 0.02 / 15'000;
  CHECK(total_larvae(simulate(model, {5, 5, 5}).trial.groups.front().culture_after) < 10);
  model.worm_share = 1;
  CHECK(simulate(model, {5, 5, 5}).trial.groups.front().culture_before.empty());
}

TEST_CASE("A simulated trial belongs to its key") {
  CountModel model;
  model.control_animals = 5;
  const auto trial = [&](const StreamKey& key) { return counted(simulate(model, key).trial); };
  const auto first = trial({1, 2, 3});
  CHECK(first.size() == 2 * (15 + 5));
  CHECK(trial({1, 2, 3}) == first);
  CHECK(trial({1, 2, 4}) != first);
  CHECK(trial({1, 3, 3}) != first);
  CHECK(trial({2, 2, 3}) != first);
}

TEST_CASE("A simulated control group has no reduction") {
  CountModel model;
  model.mean_eggs = 40;
  model.efficacy = 1;
  model.efficacy_cv = 0.5;
  model.k_after = 0.3;
  model.control_animals = animals;
  model.season_change = 1.3;
  const Trial trial = simulate(model, {801, 0, 0}).trial;
  REQUIRE(trial.groups.size() == 2);
  CHECK(trial.groups[0].role == Role::treated);
  CHECK(control_of(trial) == &trial.groups[1]);
  CHECK(trial.groups[1].animals.size() == animals);
  CHECK(trial.groups[0].animals.front().tag == "T1");
  CHECK(trial.groups[1].animals.back().tag == "C10000");
  check_near(ratio_of_totals(pairs(model, 801, 1)), 1.3);
  CHECK(mean(pairs(model, 801).after).value == 0);
  model.control_animals = 0;
  const Trial uncontrolled = simulate(model, {801, 0, 0}).trial;
  CHECK(control_of(uncontrolled) == nullptr);
}

TEST_CASE("A model out of its range is refused, with the value and the range") {
  const auto message = [](const std::function<void(CountModel&)>& change) {
    CountModel model;
    change(model);
    return support::input_error([&] { simulate(model, {1, 0, 0}); });
  };
  using Model = CountModel;
  CHECK(message([](Model& m) { m.k = 0.01; }) == "k: found 0.01; expected 0.05 to 1000");
  CHECK(message([](Model& m) { m.efficacy = 1.01; }) ==
        "efficacy, percent: found 101; expected -1000 to 100");
  CHECK(message([](Model& m) { m.k_after = 0.8; }) ==
        "k after treatment: found 0.8; expected 0.05 to 0.7");
  const std::vector<std::pair<std::function<void(Model&)>, std::string>> wrong{
      {[](Model& m) { m.animals = 0; }, "animals: found 0;"},
      {[](Model& m) { m.animals = 10'001; }, "animals: found 10001;"},
      {[](Model& m) { m.control_animals = 10'001; }, "control animals: found 10001;"},
      {[](Model& m) { m.mean_eggs = 0; }, "eggs seen a head before treatment: found 0;"},
      {[](Model& m) { m.mean_eggs = 10'001; }, "eggs seen a head before treatment: found 10001;"},
      {[](Model& m) { m.mean_eggs = NAN; }, "eggs seen a head before treatment: found nan;"},
      {[](Model& m) { m.efficacy = -10.5; }, "efficacy, percent: found -1050;"},
      {[](Model& m) { m.k = 1'001; }, "k: found 1001;"},
      {[](Model& m) { m.k_after = 0.01; }, "k after treatment: found 0.01;"},
      {[](Model& m) { m.within_cv = -0.1; }, "variation within animals (CV): found -0.1;"},
      {[](Model& m) { m.within_cv = 5.1; }, "variation within animals (CV): found 5.1;"},
      {[](Model& m) { m.efficacy_cv = 5.1; }, "variation of the efficacy (CV): found 5.1;"},
      {[](Model& m) { m.undosed = 1.1; }, "share not dosed: found 1.1;"},
      {[](Model& m) { m.without_worms = 1; }, "share without worms: found 1;"},
      {[](Model& m) { m.missing_after = 1; }, "share missing after treatment: found 1;"},
      {[](Model& m) { m.animals_in_pool = 0; }, "animals in a pool: found 0;"},
      {[](Model& m) { m.worm_share = 0; }, "the worm's share of the eggs, percent: found 0;"},
      {[](Model& m) { m.other_efficacy = 1.5; },
       "efficacy against other worms, percent: found 150;"},
      {[](Model& m) { m.larvae = 0; }, "larvae told apart: found 0;"},
      {[](Model& m) { m.season_change = 0; }, "change of the season: found 0;"},
      {[](Model& m) { m.counts_a_sample = 0; }, "counts of each sample: found 0;"},
      {[](Model& m) { m.counts_a_sample = 101; }, "counts of each sample: found 101;"},
      // 0.01 / 100, below MultiplicationFactor::smallest
      {[](Model& m) {
         m.counts_a_sample = 100;
         m.factor_after = MultiplicationFactor(0.01);
       },
       "factor of the counts of a sample together: found 0.0001;"},
      // 10,000 x 100 counts; 10 / (1 - 0.9) x 11 x 1,000; 10 x 15 / 0.001
      {[](Model& m) {
         m.mean_eggs = 10'000;
         m.counts_a_sample = 100;
       },
       "eggs expected in a sample of an infected animal: found 1e+06;"},
      {[](Model& m) {
         m.without_worms = 0.9;
         m.efficacy = -10;
         m.season_change = 1'000;
       },
       "eggs expected in a sample of an infected animal: found 1.1e+06;"},
      {[](Model& m) { m.factor_after = MultiplicationFactor(0.001); },
       "eggs expected in a sample of an infected animal: found 150000;"},
  };
  for (const auto& [change, text] : wrong)
    CHECK_THAT(message(change), Catch::StartsWith(text));
  SECTION("the ends of a range are in it") {
    CountModel model;
    model.animals = 1;
    model.efficacy = -10;
    model.k = 0.05;
    model.k_after = 0.05;
    model.within_cv = model.efficacy_cv = 5;
    model.undosed = 1;
    model.without_worms = model.missing_after = 0.99;
    CHECK_NOTHROW(simulate(model, {1, 0, 0}));
  }
}
