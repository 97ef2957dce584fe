#pragma once

#include "eggfall/simulation/count_model.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/label_dose.hpp"

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// A group of an invented test, with the truth that its counts come from.
struct ScenarioGroup {
  std::string name;
  Role role = Role::treated;
  std::string drench; ///< May be empty.
  std::vector<DrugClass> classes;
  /// If given, animals have weights and their doses are written down.
  std::optional<LabelDose> label;
  /// The model of this group alone: its `animals` are those of the group, and `control_animals` is
  /// 0. A control is not treated, whatever efficacy the model has.
  CountModel model;
};

/// An invented farm's test with a known truth, and what it is to teach.
struct Scenario {
  std::string name;   ///< One word of a-z, 0-9 and -.
  std::string title;  ///< A few words.
  std::string lesson; ///< What it shows, in a paragraph.
  std::string ask;    ///< A question to put to those who see the counts only.
  std::string farm;   ///< Invented.
  std::string host;   ///< canonical_host().
  std::string worm = std::string(simulated_worm); ///< The one told by its larvae, and the others.
  std::string other_worm = std::string(simulated_others);
  std::optional<std::chrono::year_month_day> date_treated; ///< First samples on the same day.
  int days_after = 14;                                     ///< To the second samples; 1 to 60.
  double mean_kg = 40; ///< Where a label gives a dose; 0.1 to 1,000. Weights vary by 12% (CV).
  std::vector<ScenarioGroup> groups;
};

/// @throws InputError as check() of each model; for no group, more than 20, no treated group or
///   several control groups; for a group's name that is missing, doubled or a word that tables say
///   of a sum; for a label's dose with pools; for one worm as both worms; for a number out of the
///   range above; or for second samples after `last_year`, which no table may hold.
void check(const Scenario& scenario);

/// The true efficacy in the animals of this group, a proportion: that of its model, and for a
/// control 0.
double true_efficacy(const ScenarioGroup& group);

/// Test number `number` of a scenario; the same for the same seed and number. The streams are keyed
/// by the groups' names, so that a change of one group leaves the others' luck as it was.
///
/// Animals have running tags through all groups. A dose written down is the label's for the
/// animal's weight, rounded up to 0.1 mL, or half of that for an animal that was given too little.
/// An animal that got no dose has the full one written down, since nobody noticed.
/// @throws InputError as check().
SimulatedTrial simulate(const Scenario& scenario, std::uint64_t seed, std::uint32_t number);

} // namespace eggfall
