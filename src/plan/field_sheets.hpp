#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/trial/counting_method.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/label_dose.hpp"
#include "trial/read_animals.hpp"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A group that is to be treated, or the untreated control.
struct PlannedGroup {
  std::string name;
  Role role = Role::treated;
  std::string drench; ///< As the user calls it; may be empty.
  std::vector<DrugClass> classes;
  std::optional<LabelDose> label; ///< Never of a control group.

  bool treated() const { return role == Role::treated; }
};

/// In which the substances of the group's drench are looked for.
std::string drench_words_of(const PlannedGroup& group);

/// What the animals are ordered by before they are cut into blocks.
enum class BlockedBy { count, weight, nothing };

std::string_view to_string(BlockedBy blocked_by);
std::optional<BlockedBy> parse_blocked_by(std::string_view name);

/// How samples are to be counted.
struct FieldSheetBench {
  BenchFigures before;
  int chambers_after = 0; ///< The other figures are as before treatment.

  BenchFigures after() const;
};

/// What the sheets of a test are made from.
struct FieldSheetQuestion {
  static constexpr std::size_t most_unlisted = 10'000; ///< Animals a group.
  static constexpr ValueRange dose_steps_ml{0.01, 100};

  std::string host;                 ///< canonical_host(); may be empty.
  std::string farm;                 ///< For the head of each sheet; may be empty.
  std::vector<PlannedGroup> groups; ///< One treated or more, and at most one control.
  std::vector<ListedAnimal> mob;    ///< To be allocated; empty: see `unlisted`.
  std::size_t unlisted = 0;         ///< Animals a group, if none is listed.
  std::optional<BlockedBy> blocks;  ///< Empty: by count or else weight, if all have one.
  std::uint64_t seed = 1;
  std::optional<FieldSheetBench> bench;
  std::vector<std::string> told_apart; ///< Kinds of egg to count apart: canonical_worm().
  double dose_step_ml = 0.1;
  std::optional<std::chrono::year_month_day> day0; ///< Of treatment.

  bool has_control() const;

  /// Decimals that every multiple of the step of doses can be written with: 1 of 0.5 mL.
  int dose_decimals() const;

  /// How samples of one occasion ("before" or "after") are to be counted, if that is known.
  std::optional<BenchFigures> bench_of(std::string_view occasion) const;
};

/// A line of the sheets.
struct PlannedAnimal {
  ListedAnimal animal;
  std::size_t group = 0;         ///< Place in the groups.
  std::optional<double> dose_ml; ///< By the label; empty without a weight or a label's rate.
};

/// Whether the dose for a weight, rounded up to the gun's steps, is overdosed_from() times the
/// label's or more, which would hide early resistance and which no good class is given on.
bool steps_overdose(const LabelDose& label, double weight_kg, double step_ml);

/// How even the groups are.
struct GroupBalance {
  std::size_t animals = 0;
  std::size_t weighed = 0;
  std::optional<double> mean_kg; ///< Of those weighed.
  std::optional<double> least_kg;
  std::optional<double> most_kg;
  std::size_t counted = 0;
  std::optional<double> mean_epg; ///< Arithmetic, of those counted.
  double doses_ml = 0;            ///< Sum of the doses known.
  std::size_t without_dose = 0;   ///< Treated animals whose dose is not known.
};

/// When the second sample of a treated group is due.
struct SecondSample {
  std::size_t group = 0;
  UsualDays usual; ///< Its own days: of those usual the ones that analyse() judges, or the nearest.
  /// Some days that are usual were left out, since analyse() bars a good class on them.
  bool some_usual_left_out = false;
  int first_day = 0;
  int last_day = 0; ///< Of the days advised: common to all groups, or common_day().

  /// The days advised are not among its own.
  bool off_its_days() const { return first_day < usual.first_day || last_day > usual.last_day; }
};

struct FieldSheets {
  FieldSheetQuestion question;
  BlockedBy blocked = BlockedBy::nothing;
  std::vector<PlannedAnimal> animals; ///< In the list's order; of no list, that of the race.
  std::vector<GroupBalance> balance;  ///< As question.groups.
  std::vector<SecondSample> second_samples;
};

/// Allocates the animals (allocate()), works out doses and days. Animals that are not listed are
/// numbered as they come through the race, and allocated in blocks of one to each group.
///
/// The second sample is advised on the days that the windows of all treated groups have in common,
/// on common_day() if there is none.
/// @throws InputError if a group has no name, a name comes twice, no group is treated or two are
///   controls, if animals are both listed and not, or fewer than two a group, if blocks are asked
///   for by a value that an animal lacks, more than 20,000 animals; for a dose rate above
///   FieldPractice::highest_dose_rate, a weight further off the middle of the list than
///   FieldPractice::weight_beside_the_middle times, or out of possible_weights() of the host, which
///   would be a wrong dose; where steps_overdose(); or as multiplication_factor() and
///   LabelDose::dose_ml().
FieldSheets field_sheets(FieldSheetQuestion question, const CutOffs& cut_offs);

} // namespace eggfall
