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

/// Which counts are compared. T is the treated group, C the control; 1 is before
/// treatment, 2 after. The four formulas are those compared by McKenna 2006,
/// New Zealand Veterinary Journal 54:202.
enum class Design {
  paired,     ///< reduction = 1 - T2/T1, the same animals before and after.
  two_group,  ///< reduction = 1 - T2/C2.
  controlled, ///< reduction = 1 - (T2/T1)(C1/C2).
  baseline,   ///< reduction = 1 - T2/C1.
};

inline constexpr std::array all_designs{Design::paired, Design::two_group, Design::controlled,
                                        Design::baseline};

std::string_view to_string(Design design);
std::optional<Design> parse_design(std::string_view text);

/// Whether the treated animals' counts after treatment are compared with their own before: in the
/// designs paired and controlled. In the others they are compared with the control's.
constexpr bool pairs_animals(Design design) {
  return design == Design::paired || design == Design::controlled;
}

/// Where the counts stand that those after treatment are compared with: "before treatment", "in the
/// control group", ...
std::string_view where_compared(Design design);

/// One independent group of animals in a comparison: see RatioSample.
struct Arm {
  std::vector<Count> above;
  std::vector<Count> below;
};

struct DroppedAnimal {
  std::string animal;
  std::string reason;
  Role role = Role::treated;
};

/// The counts of one design, with nothing in them that it does not use.
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

/// The first design, in this order, that has two animals an arm and keeps at least half
/// of the treated animals sampled after treatment: paired, two-group, baseline; or else
/// the first that has two animals an arm; or else the first that has any. Nothing if none
/// has. Pairing comes first as in Kaplan et al. 2023, Vet Parasitol 318:109936; a
/// controlled design is made only on request, since a small control group can
/// add more noise than it removes.
std::optional<Design> preferred_design(const Group& treated, const Group* control);

/// The same comparison with the animals of each arm in an order that hangs on their counts alone:
/// the order of a table's rows then moves no last digit, and no simulation.
/// @throws CalculationError unless its arms are those of its design, as compare() makes them: a
///   count on each side, and of animals sampled twice as many on both.
Comparison in_order_of_counts(Comparison comparison);

/// The same comparison in EPG; a pool weighs as much as its number of animals.
RatioData epg(const Comparison& comparison);

/// Eggs seen and the factor of a set of counts, if they share one.
struct CountTotals {
  std::uint64_t eggs = 0;
  std::size_t animals = 0; ///< Counts: one for each animal or pool.
  /// Animals in all samples together: more than `animals` where there are pools.
  std::uint64_t animals_mixed = 0;
  std::optional<std::uint32_t> animals_a_sample; ///< Empty if the counts differ in it.
  std::optional<MultiplicationFactor> factor;    ///< Empty if the counts differ in it.
};

CountTotals totals_of(const std::vector<Count>& counts);

/// Eggs that a mean of 1 EPG would give to see in all these samples together: the sum of 1/f.
double exposure_of(const std::vector<Count>& counts);

/// The arithmetic mean over animals, those of pools too; empty without counts.
std::optional<double> mean_epg(const std::vector<Count>& counts);

} // namespace eggfall
