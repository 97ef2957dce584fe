#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/trial/egg_count.hpp"
#include "eggfall/trial/trial.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace eggfall {

/// How the levels of animals are spread about their mean.
enum class LevelShape {
  gamma,      ///< Counts of one day are then negative binomial, if `within_cv` is 0.
  log_normal, ///< A heavier tail.
  weibull,    ///< Between the two, for k below 1.
};

inline constexpr std::array all_level_shapes{LevelShape::gamma, LevelShape::log_normal,
                                             LevelShape::weibull};

std::string_view to_string(LevelShape shape);
std::optional<LevelShape> parse_level_shape(std::string_view text);

/// A reduction test with a known truth. Animal i has a level m_i and a ratio r_i of its own, and
/// luck of its own on each day:
///
///     eggs before ~ Poisson(m_i u_i w_i / f_before),
///     eggs after  ~ Poisson(m_i r_i c v_i x_i / f_after),
///
/// m_i having the mean and shape below and the coefficient of variation 1/sqrt(k); u_i, v_i
/// gamma with mean 1 and coefficient of variation `within_cv`; w_i, x_i the same with
/// `weighing_cv`; c the change of the season. The mean of r_i is 1 - efficacy for an animal given
/// its full dose; a control's r_i is 1. A pool's sample mixes those of its animals in equal
/// parts.
///
/// With `worm_share` below 1 the efficacy is that of one worm, and other worms share the animals:
/// each kind has levels of its own, spread alike, and the counts are of both together. The mixed
/// faeces of each group are then cultured on both days: of the larvae told apart, x are of the
/// worm, x ~ Binomial(larvae, its share of the eggs in the samples taken). Where few eggs are left
/// there are fewer larvae: no more than half the eggs in 50 g.
struct CountModel {
  static constexpr ValueRange k_range{0.05, 1'000};
  static constexpr ValueRange within_cv_range{0, 5};
  static constexpr ValueRange season_changes{0.001, 1'000};

  std::size_t animals = 15;        ///< Treated, or pools of them; 1 to 10,000.
  std::size_t control_animals = 0; ///< Untreated, or pools; 0 to 10,000.
  std::size_t animals_in_pool = 1; ///< 1: no pools; to 1,000.
  double mean_eggs = 10;           ///< Eggs seen a head before treatment at `factor_before`,
                                   ///< animals without worms counted in; 0.01 to 10,000.
  double efficacy = 0.95;          ///< Of a dosed animal, on average; -10 to 1.
  LevelShape shape = LevelShape::gamma;
  double k = 0.7;                  ///< Aggregation of the infected animals; 0.05 to 1,000.
  std::optional<double> k_after;   ///< In treated animals after treatment; 0.05 to k. With gamma
                                   ///< levels r_i is a Beta(k_after, k - k_after) variable over
                                   ///< its mean, which leaves gamma levels of this very k.
  double within_cv = 0.5;          ///< Between two samples of one animal; 0 to 5.
  double weighing_cv = 0;          ///< Of the faeces truly in a sample about the mass written
                                   ///< down; 0 to 2.
  double efficacy_cv = 0;          ///< Of r_i besides, gamma; 0 to 5.
  double undosed = 0;              ///< Share of treated animals that got no drench; 0 to 1.
  double underdosed = 0;           ///< Share of the others that got too little; 0 to 1.
  double underdose_effect = 0.5;   ///< What too little removes, of what a full dose does; 0 to 1.
  double without_worms = 0;        ///< Share of animals without worms; 0 to 0.99.
  double missing_after = 0;        ///< Share of animals not found again, by luck; 0 to 0.99.
  double worm_share = 1;           ///< Of the eggs before treatment; 0.01 to 1.
  double other_efficacy = 0.99;    ///< Against the other worms, in a dosed animal; -10 to 1.
  std::size_t larvae = 100;        ///< Told apart in a culture; 1 to 100,000.
  double season_change = 1;        ///< c, in treated and control alike; 0.001 to 1,000.
  std::size_t counts_a_sample = 1; ///< Counts of each sample, added up; 1 to 100.
  MultiplicationFactor factor_before{15}; ///< Of one count.
  MultiplicationFactor factor_after{15};
};

/// @throws InputError for a value out of the range given above, k_after above k, a factor that
///   `counts_a_sample` divides below MultiplicationFactor::smallest, or more than 100,000 eggs
///   expected of an infected animal in one sample (its counts together): more eggs than EggsSeen
///   holds would be cut, and the truth no longer be true.
void check(const CountModel& model);

/// Whether the truth is that of one worm among others.
inline bool is_of_one_worm(const CountModel& model) {
  return model.worm_share < 1;
}

/// The worms' names in simulated cultures.
inline constexpr std::string_view simulated_worm = "worm";
inline constexpr std::string_view simulated_others = "others";

/// The efficacy on the farm (against the one worm, if there are others): (1 - undosed) (1 -
/// underdosed (1 - underdose_effect)) efficacy. Under a paired or a baseline design the fall
/// differs from it by the season's change.
double true_efficacy(const CountModel& model);

/// What nobody on the farm can know of an animal, or a pool.
struct AnimalTruth {
  double epg_before = 0;           ///< Of the sample: what a perfect count of all of it would give.
  std::optional<double> epg_after; ///< Empty: not found again.
  std::size_t undosed = 0;         ///< 1, or of a pool's animals so many, if it got no drench.
  std::size_t underdosed = 0;      ///< The same, if it got too little.
};

struct SimulatedTrial {
  Trial trial;
  std::vector<std::vector<AnimalTruth>> truths; ///< By group and animal of the trial.
};

/// A trial with the group "treated", and "control" if the model has control animals; the same
/// for the same key.
/// @throws InputError as check().
SimulatedTrial simulate(const CountModel& model, const StreamKey& key);

} // namespace eggfall
