#include "eggfall/simulation/count_model.hpp"

#include "base/check_range.hpp"
#include "base/enum_names.hpp"
#include "statistics/random_draws.hpp"

#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <boost/random/binomial_distribution.hpp>
#include <boost/random/lognormal_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <boost/random/weibull_distribution.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<LevelShape, 3> shape_names{{
    {LevelShape::gamma, "gamma"},
    {LevelShape::log_normal, "log-normal"},
    {LevelShape::weibull, "weibull"},
}};

/// The most eggs that a model may expect on average. poisson_draw() cuts off an animal's expected
/// eggs at nine times as many, which only the highest levels of a very clumped group reach.
constexpr double most_eggs_expected = 100'000;

/// The shape of a Weibull variable whose squared coefficient of variation is 1/k:
/// gamma(1 + 2/shape) / gamma(1 + 1/shape)^2 = 1 + 1/k.
double weibull_shape(double k) {
  const auto excess = [k](double log_shape) {
    const double inverse = std::exp(-log_shape);
    return boost::math::lgamma(1 + 2 * inverse) - 2 * boost::math::lgamma(1 + inverse) -
           std::log1p(1 / k);
  };
  constexpr double low = -2.5; // shapes for k from 0.0001 ...
  constexpr double high = 5;   // ... to 10,000
  std::uintmax_t rounds = 100;
  const auto [below, above] = boost::math::tools::toms748_solve(
      excess, low, high, boost::math::tools::eps_tolerance<double>(50), rounds);
  return std::exp((below + above) / 2);
}

/// Draws animals' levels relative to their mean: of mean 1, squared coefficient of variation 1/k
/// and the model's shape.
class Levels {
public:
  explicit Levels(const CountModel& model) : shape_(model.shape), k_(model.k) {
    if (shape_ == LevelShape::weibull) {
      parameter_ = weibull_shape(k_);
      scale_ = std::exp(-boost::math::lgamma(1 + 1 / parameter_));
    } else
      parameter_ = std::sqrt(std::log1p(1 / k_)); // of the log, if log-normal
  }

  double operator()(RandomStream& stream) const {
    switch (shape_) {
    case LevelShape::gamma:
      break;
    case LevelShape::log_normal:
      return boost::random::lognormal_distribution<double>(-parameter_ * parameter_ / 2,
                                                           parameter_)(stream);
    case LevelShape::weibull:
      return boost::random::weibull_distribution<double>(parameter_, scale_)(stream);
    }
    return gamma_draw(k_, stream) / k_;
  }

private:
  LevelShape shape_;
  double k_;
  double parameter_ = 0;
  double scale_ = 1;
};

/// The factor by which an animal's level changes so that the group becomes more clumped: a
/// Beta(k_after, k - k_after) variable divided by its mean. It turns a gamma level of shape k into
/// one of shape k_after with the same mean. It is 1 unless k_after is below k.
double thinning(double k, double k_after, RandomStream& stream) {
  if (k_after >= k)
    return 1;
  const double kept = gamma_draw(k_after, stream);
  const double lost = gamma_draw(k - k_after, stream);
  return kept + lost > 0 ? kept / (kept + lost) * k / k_after : 0;
}

class Simulator {
public:
  Simulator(const CountModel& model, const StreamKey& key)
      : model_(model), levels_(model), stream_(key),
        before_(model.factor_before.value() / static_cast<double>(model.counts_a_sample)),
        after_(model.factor_after.value() / static_cast<double>(model.counts_a_sample)) {}

  void add_group(SimulatedTrial& simulated, std::string name, Role role, std::size_t animals) {
    Group& result = simulated.trial.groups.emplace_back();
    std::vector<AnimalTruth>& truths = simulated.truths.emplace_back(animals);
    result.name = std::move(name);
    result.role = role;
    result.animals.reserve(animals);
    Mixture before;
    Mixture after;
    for (std::size_t i = 0; i < animals; ++i)
      result.animals.push_back(animal(role, i, truths[i], before, after));
    if (is_of_one_worm(model_)) {
      result.culture_before = culture(before);
      result.culture_after = culture(after);
    }
  }

private:
  /// EPG of the worm that the model is about, and of the others.
  struct Kinds {
    double worm = 0;
    double others = 0;

    Kinds& operator+=(const Kinds& more) {
      worm += more.worm;
      others += more.others;
      return *this;
    }
    double total() const { return worm + others; }
  };

  /// The samples of a group mixed in equal parts, from which its culture is made.
  struct Mixture {
    Kinds sum;
    std::size_t samples = 0;
  };

  bool chance(double probability) {
    return probability > 0 && boost::random::uniform_01<double>()(stream_) < probability;
  }

  Count count(double epg, const MultiplicationFactor& factor) {
    return {poisson_draw(epg / factor.value(), stream_), factor,
            static_cast<std::uint32_t>(model_.animals_in_pool)};
  }

  /// An animal's levels in EPG before and after treatment, without the luck of the day and the
  /// season. `truth` is told whether the animal was not dosed or underdosed.
  std::pair<Kinds, Kinds> levels(Role role, AnimalTruth& truth) {
    const double mean_epg = model_.mean_eggs * model_.factor_before.value();
    const double infected = 1 - model_.without_worms;
    Kinds before;
    if (!chance(model_.without_worms)) {
      before.worm = model_.worm_share * mean_epg / infected * levels_(stream_);
      if (is_of_one_worm(model_))
        before.others = (1 - model_.worm_share) * mean_epg / infected * levels_(stream_);
    }
    if (role == Role::control)
      return {before, before};
    if (chance(model_.undosed)) {
      ++truth.undosed;
      return {before, before};
    }
    const bool too_little = chance(model_.underdosed);
    truth.underdosed += too_little ? 1 : 0;
    const double effect = too_little ? model_.underdose_effect : 1;
    const double own = thinning(model_.k, model_.k_after.value_or(model_.k), stream_) *
                       gamma_luck(model_.efficacy_cv, stream_);
    return {before,
            {before.worm * (1 - model_.efficacy * effect) * own,
             before.others * (1 - model_.other_efficacy * effect) * own}};
  }

  /// The EPG in one sample of these animals' faeces in equal parts: the mean of their levels, each
  /// times its luck of the day.
  Kinds sample(const std::vector<Kinds>& levels) {
    Kinds mean;
    for (const Kinds& level : levels) {
      const double luck =
          gamma_luck(model_.within_cv, stream_) / static_cast<double>(levels.size());
      mean += {level.worm * luck, level.others * luck};
    }
    return mean;
  }

  Animal animal(Role role, std::size_t index, AnimalTruth& truth, Mixture& mixed_before,
                Mixture& mixed_after) {
    std::vector<Kinds> before;
    std::vector<Kinds> after;
    for (std::size_t i = 0; i < model_.animals_in_pool; ++i) {
      const auto [own_before, own_after] = levels(role, truth);
      before.push_back(own_before);
      after.push_back(
          {own_after.worm * model_.season_change, own_after.others * model_.season_change});
    }
    Animal result;
    result.tag = fmt::format("{}{}", role == Role::treated ? 'T' : 'C', index + 1);
    const Kinds first = sample(before);
    truth.epg_before = first.total();
    result.before = seen(first, before_, mixed_before);
    if (!chance(model_.missing_after)) {
      const Kinds second = sample(after);
      truth.epg_after = second.total();
      result.after = seen(second, after_, mixed_after);
    }
    return result;
  }

  Count seen(const Kinds& epg, const MultiplicationFactor& factor, Mixture& mixture) {
    mixture.sum += epg;
    ++mixture.samples;
    return count(epg.total() * gamma_luck(model_.weighing_cv, stream_), factor);
  }

  Culture culture(const Mixture& mixture) {
    constexpr double grams = 50;
    constexpr double hatching = 0.5;
    const double eggs = mixture.samples > 0
                            ? grams * mixture.sum.total() / static_cast<double>(mixture.samples)
                            : 0;
    const double worm_share = eggs > 0 ? mixture.sum.worm / mixture.sum.total() : 0;
    const std::uint32_t larvae = std::min(static_cast<std::uint32_t>(model_.larvae),
                                          poisson_draw(hatching * eggs, stream_).value());
    const auto worm = static_cast<std::uint32_t>(boost::random::binomial_distribution<int, double>(
        static_cast<int>(larvae), worm_share)(stream_));
    return {{std::string(simulated_worm), static_cast<double>(worm)},
            {std::string(simulated_others), static_cast<double>(larvae - worm)}};
  }

  const CountModel& model_;
  Levels levels_;
  RandomStream stream_;
  MultiplicationFactor before_; ///< The factor of all counts of one sample added up.
  MultiplicationFactor after_;
};

} // namespace

std::string_view to_string(LevelShape shape) {
  return name_of(shape_names, shape, "a shape of levels");
}

std::optional<LevelShape> parse_level_shape(std::string_view text) {
  return value_named(shape_names, text);
}

void check(const CountModel& model) {
  constexpr double most_animals = 10'000;
  check_range("animals", static_cast<double>(model.animals), 1, most_animals);
  check_range("control animals", static_cast<double>(model.control_animals), 0, most_animals);
  check_range("eggs seen a head before treatment", model.mean_eggs, 0.01, 10'000);
  check_range("efficacy, percent", 100 * model.efficacy, -1'000, 100);
  check_range("k", model.k, CountModel::k_range);
  if (model.k_after)
    check_range("k after treatment", *model.k_after, CountModel::k_range.least, model.k);
  check_range("variation within animals (CV)", model.within_cv, CountModel::within_cv_range);
  check_range("variation of the efficacy (CV)", model.efficacy_cv, 0, 5);
  check_range("variation of the faeces weighed (CV)", model.weighing_cv, 0, 2);
  check_range("share not dosed", model.undosed, 0, 1);
  check_range("share given too little", model.underdosed, 0, 1);
  check_range("effect of too little, percent", 100 * model.underdose_effect, 0, 100);
  check_range("share without worms", model.without_worms, 0, 0.99);
  check_range("share missing after treatment", model.missing_after, 0, 0.99);
  check_range("animals in a pool", static_cast<double>(model.animals_in_pool), 1, 1'000);
  check_range("the worm's share of the eggs, percent", 100 * model.worm_share, 1, 100);
  check_range("efficacy against other worms, percent", 100 * model.other_efficacy, -1'000, 100);
  check_range("larvae told apart", static_cast<double>(model.larvae), 1, 100'000);
  check_range("change of the season", model.season_change, CountModel::season_changes);
  check_range("counts of each sample", static_cast<double>(model.counts_a_sample), 1, 100);
  for (const MultiplicationFactor& factor : {model.factor_before, model.factor_after})
    check_range("factor of the counts of a sample together",
                factor.value() / static_cast<double>(model.counts_a_sample),
                MultiplicationFactor::smallest, MultiplicationFactor::largest);
  const double eggs =
      model.mean_eggs * static_cast<double>(model.counts_a_sample) / (1 - model.without_worms);
  const double most_kept = std::max({1.0, 1 - model.efficacy, // 1: not dosed, or a control
                                     is_of_one_worm(model) ? 1 - model.other_efficacy : 0});
  const double change =
      model.season_change * model.factor_before.value() / model.factor_after.value();
  check_range("eggs expected in a sample of an infected animal",
              eggs * std::max(1.0, change * most_kept), 0, most_eggs_expected);
}

double true_efficacy(const CountModel& model) {
  return (1 - model.undosed) * (1 - model.underdosed * (1 - model.underdose_effect)) *
         model.efficacy;
}

SimulatedTrial simulate(const CountModel& model, const StreamKey& key) {
  check(model);
  Simulator simulator(model, key);
  SimulatedTrial simulated;
  simulated.trial.name = "simulated";
  simulator.add_group(simulated, "treated", Role::treated, model.animals);
  if (model.control_animals > 0)
    simulator.add_group(simulated, "control", Role::control, model.control_animals);
  return simulated;
}

} // namespace eggfall
