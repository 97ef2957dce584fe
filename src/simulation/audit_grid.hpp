#pragma once

#include "eggfall/simulation/audit.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A number that a farm is made of, by its name in grid files, JSON and CSV (and, with '-' for
/// '_' and without "_percent", in options).
struct FarmField {
  std::string_view key;
  std::string_view help; ///< The help text of its option, with unit and range.
  /// The farm's value in the unit of the key, to 10 digits; nothing if it is not set.
  std::optional<double> (*get)(const AuditFarm&);
  /// @throws InputError if the number is not whole where it must be.
  void (*set)(AuditFarm&, double);
};

const std::vector<FarmField>& farm_fields();

/// Lists of values, of which every combination is a farm. An empty list means the default.
struct FarmValues {
  std::vector<Design> designs;
  std::vector<LevelShape> shapes;
  std::map<std::string, std::vector<double>, std::less<>> numbers; ///< By FarmField::key.
};

/// A farm for every combination of the values, the last field running fastest. Unless they are
/// given, a design that needs a control has as many control animals as treated ones, and the factor
/// after treatment is that before it.
/// @throws InputError as check() of a farm, for a key that is no field, and for more than 10,000
///   farms.
std::vector<AuditFarm> combinations(const FarmValues& values);

/// The farms of a TOML grid (docs/audit.md), in its order: each section [[cells]] gives every
/// combination of its values.
/// @throws InputError, with line and column, for what is no TOML, an unknown key, a wrong type, a
///   value out of range, two equal farms, or a grid without farms.
std::vector<AuditFarm> read_audit_grid(std::string_view toml, const std::string& source);

/// A grid that is compiled in (src/data/).
struct BuiltInGrid {
  std::string_view name;
  std::string_view toml;
};

/// "calibration": truths of the kind that the posteriors assume. "stress": other truths.
/// "thresholds": efficacies just beside the thresholds. "few-eggs": 15 to 60 eggs in a whole group.
/// "cultures": one worm among others, told by its larvae. "pools": samples mixed before counting.
/// "lesson": every setting of the page of sliders.
const std::vector<BuiltInGrid>& built_in_grids();

} // namespace eggfall
