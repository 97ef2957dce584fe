#pragma once

#include "eggfall/statistics/ratio_data.hpp"
#include "eggfall/trial/trial.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Which counts are compared. T stands for the mean EPG of the treated group and C for that of the
/// control; 1 is before treatment, 2 after. A reduction is a proportion. The four formulas are
/// those compared by McKenna 2006, New Zealand Veterinary Journal 54:202.
enum class Design {
  paired,     ///< reduction = 1 - T2/T1, the same animals before and after.
  two_group,  ///< reduction = 1 - T2/C2.
  controlled, ///< reduction = 1 - (T2/T1)(C1/C2).
  baseline,   ///< reduction = 1 - T2/C1.
};

inline constexpr std::array all_designs{Design::paired, Design::two_group, Design::controlled,
                                        Design::baseline};

/// The name in files and options, such as "two-group".
std::string_view to_string(Design design);

/// The design of such a name; nothing if the name is of none.
std::optional<Design> parse_design(std::string_view text);

/// Whether the treated animals' counts after treatment are compared with their own before: in the
/// designs paired and controlled. In the others they are compared with the control's.
constexpr bool pairs_animals(Design design) {
  return design == Design::paired || design == Design::controlled;
}

/// Words for where the counts stand with which the treated group's counts after treatment are
/// compared: "before treatment", "in the control group" or "in the control group before treatment".
std::string_view where_compared(Design design);

/// One independent group of animals in a comparison: the counts that go above the fraction bar of
/// rho and those that go below it. A side that the design does not use is empty; where both are
/// used they have one length, and index i is the same animal in each (see RatioSample).
struct Arm {
  std::vector<Count> above;
  std::vector<Count> below;
};

struct DroppedAnimal {
  std::string animal;
  std::string reason;
  Role role = Role::treated;
};

/// The counts that one design uses, and no others: the treated group's arm, and after it the
/// control's unless the design is paired.
struct Comparison {
  Design design = Design::paired;
  std::vector<Arm> arms;
  std::vector<DroppedAnimal> dropped; ///< Animals this design cannot use.
};

/// Picks a design's counts out of a trial; nothing if the design lacks any
/// (no control, no animal with the samples it needs). `control` may be nullptr.
/// An animal that was sampled once only is dropped from a design that needs both
/// of its samples, and stays in one that does not.
std::optional<Comparison> compare(Design design, const Group& treated, const Group* control);

/// The design to use unless one is asked for. In the order paired, two-group, baseline it is the
/// first that has two animals in each arm and keeps at least half of the treated animals that were
/// sampled after treatment; failing that, the first that has any. It is nothing if none has.
/// Pairing comes first as in Kaplan et al. 2023, Vet Parasitol 318:109936; a controlled design is
/// made only on request, since a small control group can add more noise than it removes.
std::optional<Design> preferred_design(const Group& treated, const Group* control);

/// The same comparison with the animals of each arm sorted by their counts alone. The result then
/// does not depend on the order of a table's rows: sums have the same last digit and simulations
/// the same draws.
/// @throws CalculationError unless the arms are those of the design, as compare() makes them: at
///   least one count on each side that the design uses, none on a side that it does not use, and
///   equally many on both sides for animals sampled twice.
Comparison in_order_of_counts(Comparison comparison);

/// The same comparison in EPG; a pool weighs as much as its number of animals.
RatioData epg(const Comparison& comparison);

/// The total of a set of counts, with the factor and the pool size if all of them share one.
struct CountTotals {
  std::uint64_t eggs = 0;
  std::size_t animals = 0; ///< Counts: one for each animal or pool.
  /// Animals in all samples together: more than `animals` where there are pools.
  std::uint64_t animals_mixed = 0;
  std::optional<std::uint32_t> animals_a_sample; ///< Empty if the counts differ in it.
  std::optional<MultiplicationFactor> factor;    ///< Empty if the counts differ in it.
};

CountTotals totals_of(const std::vector<Count>& counts);

/// The number of eggs expected to be seen in all these samples together if the mean were 1 EPG: the
/// sum of 1/f, f being a sample's factor in EPG per egg seen.
double exposure_of(const std::vector<Count>& counts);

/// The arithmetic mean EPG over animals, in which a pool counts once for each animal in it; empty
/// without counts.
std::optional<double> mean_epg(const std::vector<Count>& counts);

} // namespace eggfall
