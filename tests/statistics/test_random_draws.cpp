#include "statistics/random_draws.hpp"

#include "support/support.hpp"

#include <cmath>
#include <limits>
#include <utility>

using namespace eggfall;

namespace {

constexpr int draws = 20'000;

RandomStream stream() {
  return RandomStream(StreamKey{20, 31, 1});
}

struct Moments {
  double mean = 0;
  double variance = 0;
};

template <typename Draw> Moments moments_of(Draw&& next) {
  double sum = 0;
  double squares = 0;
  for (int i = 0; i < draws; ++i) {
    const double value = next();
    sum += value;
    squares += value * value;
  }
  const double mean = sum / draws;
  return {mean, squares / draws - mean * mean};
}

/// Within five standard errors of a mean of `draws` values.
auto mean_near(double mean, double variance) {
  return Catch::Matchers::WithinAbs(mean, 5 * std::sqrt(variance / draws));
}

/// Of a variance: its standard error is sqrt((kurtosis - 1)/n) times the variance.
auto variance_near(double variance, double kurtosis) {
  return Catch::Matchers::WithinAbs(variance, 5 * variance * std::sqrt((kurtosis - 1) / draws));
}

} // namespace

TEST_CASE("A gamma draw of scale 1 has its shape as mean and as variance") {
  for (const double shape : {0.3, 1.0, 7.5}) {
    RandomStream source = stream();
    const Moments found = moments_of([&] { return gamma_draw(shape, source); });
    CAPTURE(shape);
    CHECK_THAT(found.mean, mean_near(shape, shape));
    CHECK_THAT(found.variance, variance_near(shape, 3 + 6 / shape));
  }
}

TEST_CASE("Luck has the mean 1 and the coefficient of variation asked for") {
  for (const double cv : {0.2, 1.0, 1.7}) {
    RandomStream source = stream();
    const Moments found = moments_of([&] { return gamma_luck(cv, source); });
    CAPTURE(cv);
    CHECK_THAT(found.mean, mean_near(1, cv * cv));
    CHECK_THAT(found.variance, variance_near(cv * cv, 3 + 6 * cv * cv));
  }
}

TEST_CASE("Without variation there is no luck, and no random number is used") {
  RandomStream source = stream();
  RandomStream untouched = stream();
  CHECK(gamma_luck(0, source) == 1);
  CHECK(gamma_luck(1e-200, source) == 1); // whose square is 0
  CHECK(source() == untouched());
}

TEST_CASE("Poisson draws have the mean as their variance, small or large") {
  for (const double mean : {0.05, 4.0, 900.0}) {
    RandomStream source = stream();
    const Moments found =
        moments_of([&] { return static_cast<double>(poisson_draw(mean, source).value()); });
    CAPTURE(mean);
    CHECK_THAT(found.mean, mean_near(mean, mean));
    CHECK_THAT(found.variance, variance_near(mean, 3 + 1 / mean));
  }
}

TEST_CASE("Of a mean of 1 egg e^-1 of the samples hold none") {
  RandomStream source = stream();
  int none = 0;
  for (int i = 0; i < draws; ++i)
    none += poisson_draw(1, source).value() == 0 ? 1 : 0;
  const double share = std::exp(-1.0);
  CHECK_THAT(static_cast<double>(none) / draws, mean_near(share, share * (1 - share)));
}

TEST_CASE("Without eggs to be expected none is drawn, nor of a mean that is no number") {
  RandomStream source = stream();
  CHECK(poisson_draw(0, source).value() == 0);
  CHECK(poisson_draw(-1, source).value() == 0);
  CHECK(poisson_draw(std::nan(""), source).value() == 0);
}

TEST_CASE("More eggs than a slide can hold are not drawn, whatever the mean") {
  RandomStream source = stream();
  for (const double mean : {1e6, 1e12, std::numeric_limits<double>::infinity()}) {
    const auto eggs = poisson_draw(mean, source).value();
    // Near the greatest mean that is drawn from, and not above what a count may be.
    CHECK_THAT(static_cast<double>(eggs), Catch::Matchers::WithinAbs(900'000, 5 * std::sqrt(9e5)));
    CHECK(eggs <= EggsSeen::largest);
  }
}

TEST_CASE("A key always gives the same draws") {
  const auto drawn = [] {
    RandomStream source = stream();
    const double luck = gamma_luck(0.8, source);
    return std::pair(luck, poisson_draw(30, source).value());
  };
  CHECK(drawn() == drawn());
}
