#pragma once

#include "simulation/scenario.hpp"

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

// An invented practice: many farms that test the same drenches year after year, with a known truth.
namespace eggfall {

/// A farm of a practice, and where its truth differs from that of the others.
struct PracticeFarm {
  std::string name;
  std::string region; ///< May be empty.
  /// The efficacy in a dosed animal by the group's name, one proportion for each year. A group that
  /// is not named here has the efficacy that `Practice::test` gives it, in every year.
  std::map<std::string, std::vector<double>> efficacy;
};

struct Practice {
  Scenario test; ///< What each farm does each year; its day of treatment is that of the first.
  int years = 1; ///< 1 to 50.
  std::vector<PracticeFarm> farms;
};

/// @throws InputError as check() of the test, which must be dated; for no farm or more than 10,000,
///   a doubled farm, an efficacy of a group that is not there or is a control's, not one a year, or
///   above 1; or years that end after what a table may hold.
void check(const Practice& practice);

/// A practice in TOML, schema "eggfall.practice/1" (docs/survey.md): a scenario's keys, `years`,
/// and
/// [[farms]] with [[farms.changes]].
/// @throws InputError as read_scenario().
Practice read_practice(std::string_view toml, const std::string& source);

/// The trials of all farms, each farm's years together. Each trial is called by its farm's name,
/// and its groups know farm, region and year. The result is the same for the same seed. A farm's
/// random luck depends on its place among the farms, and one year's luck on no other year's.
/// @throws InputError as check().
std::vector<SimulatedTrial> simulate(const Practice& practice, std::uint64_t seed);

/// The truth by farm, year and treated group as JSON, schema "eggfall.practice-truth/1".
std::string practice_truth_json(const Practice& practice, std::uint64_t seed);

} // namespace eggfall
