#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/simulation/audit.hpp"
#include "eggfall/trial/egg_count.hpp"
#include "eggfall/trial/trial.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// A way of counting a sample, and what one sample asks for.
struct CountingChoice {
  /// What a sample may cost, or take: more is a typing error, and the sums of a test would lose
  /// their digits.
  static constexpr ValueRange costs_or_minutes{0, 100'000};

  MultiplicationFactor factor{50};
  std::optional<double> cost;    ///< In any one currency; 0 or more.
  std::optional<double> minutes; ///< At the bench; 0 or more.

  bool operator==(const CountingChoice&) const = default;
};

/// What is known of the flock or herd before the test.
struct PlannedFlock {
  static constexpr ValueRange means_epg{0.01, 1e6};
  static constexpr std::size_t most_animals = 1'000'000;

  std::string host;                   ///< canonical_host().
  std::string worm;                   ///< canonical_worm(); may be empty.
  std::vector<DrugClass> classes;     ///< A treated group each; none: one group of no known class.
  double mean_epg = 0;                ///< Expected before treatment; arithmetic mean, above 0.
  double k = 0.7;                     ///< See CountModel.
  double within_cv = 0.5;             ///< See CountModel.
  double season_change = 1;           ///< See CountModel.
  std::optional<std::size_t> animals; ///< There are, for all groups together.
};

/// The designs to choose from: every size with every way of counting and every way of comparing.
struct PlanChoices {
  static constexpr std::size_t least_in_group = 2;
  static constexpr std::size_t most_in_group = 1'000;
  static constexpr std::array<std::size_t, 6> usual_sizes{6, 8, 10, 12, 15, 20};

  std::vector<Design> designs; ///< Not baseline, which needs no second sample of a control.
  std::vector<std::size_t> group_sizes; ///< Animals a group.
  std::vector<CountingChoice> counting;
};

/// How a test is to be judged, and what is asked of it.
struct PlanAim {
  static constexpr ValueRange powers_percent{50, 99.9}; ///< Right answers wanted, of 100 tests.
  static constexpr std::array<double, 5> usual_efficacies_percent{99.5, 98, 95, 90, 80};

  std::vector<AuditCriterion> criteria;        ///< By one set of criteria; see plan_aim().
  std::vector<std::vector<DrugClass>> classes; ///< Whose each of them is.
  std::vector<Minimum> minima;                 ///< Of the criteria, for such a host.
  std::vector<double> efficacies;              ///< To show; proportions.
  double power = 0.8;                          ///< Wanted, as a proportion.
};

/// The criteria and minima for the flock's classes, those of the same thresholds as one.
/// @throws InputError if a class has no row in the criteria.
PlanAim plan_aim(const Criteria& criteria, const PlannedFlock& flock);

/// A true efficacy that clearly works, and one that clearly fails, by a criterion: 99.5%, or
/// halfway from the expected efficacy to 100% if that is higher; and 80%, or 10 points below the
/// lower threshold (below the expected efficacy, if there is no lower one) if that is lower.
/// Practice: a test is of use if it tells these two apart.
double clearly_works(const AuditCriterion& criterion);
double clearly_fails(const AuditCriterion& criterion);

/// One design to choose.
struct PlanOption {
  Design design = Design::paired;
  std::size_t group_size = 0;
  CountingChoice counting;

  bool operator==(const PlanOption&) const = default;
};

/// What a design asks for.
struct PlanDemand {
  std::size_t animals = 0; ///< Of all groups, a control group too.
  std::size_t samples = 0; ///< Of all groups and days: each animal once or twice.
  std::optional<double> cost;
  std::optional<double> hours;
  double eggs_a_sample = 0; ///< Expected to be seen before treatment.
  double eggs_a_group = 0;
};

PlanDemand demand(const PlanOption& option, const PlannedFlock& flock);

/// Flock, choices and aim of a plan.
struct PlanQuestion {
  PlannedFlock flock;
  PlanChoices choices;
  PlanAim aim;
};

/// @throws InputError for a value out of its range, or if there is no choice, or none is left: no
///   group size fits the animals there are.
void check(const PlanQuestion& question);

/// Every design that the animals there are allow.
std::vector<PlanOption> options(const PlanQuestion& question);

/// The efficacies that each option is simulated at: those to show, and those that power() needs.
/// The highest first.
std::vector<double> simulated_efficacies(const PlanAim& aim);

/// The settings of an audit that simulates an option, one for each of simulated_efficacies().
std::vector<AuditFarm> farms(const PlanOption& option, const PlanQuestion& question);

/// Those of all options().
std::vector<AuditFarm> farms(const PlanQuestion& question);

/// How an audit simulates them: judged by the aim's criteria, on the coarse quadrature.
AuditSettings plan_settings(const PlanAim& aim, std::size_t trials, std::uint64_t seed);

/// What is asked of a test, and who asks: the criterion's title, or the source of the minimum where
/// another guideline than the criterion's own asks for it.
struct NamedMinimum {
  std::string asked_by;
  Minimum minimum;
};

/// Those of all criteria for the flock.
std::vector<NamedMinimum> published_minima(const CutOffs& cut_offs, const PlannedFlock& flock);

/// Whether two efficacies, worked out in different ways, are one: they differ by less than 1e-9.
bool same_efficacy(double one, double other);

} // namespace eggfall
