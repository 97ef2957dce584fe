#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

// What is known of egg reappearance, as rows of data with their provenance.
namespace eggfall {

/// When eggs count as back.
struct ReappearanceDefinition {
  std::string text;
  double threshold = 0; ///< A fall below it, as a proportion.
  Citation citation;
};

/// The weeks expected of a drench.
struct ReappearanceRow {
  Scope scope;                 ///< Has one drug class at most.
  std::string drench_contains; ///< Lower case; empty: any drench of the class.
  ExpectedWeeks weeks;
};

struct ReappearanceRows {
  ReappearanceDefinition definition;
  std::vector<ReappearanceRow> rows; ///< The first that fits a group is used.
};

/// The file that is compiled in, src/data/egg_reappearance.toml.
std::string_view published_egg_reappearance_toml() noexcept;
const ReappearanceRows& published_egg_reappearance();

/// @throws InputError, with line and column, for what is no TOML of the schema
///   eggfall.egg-reappearance/1.
ReappearanceRows read_egg_reappearance(std::string_view toml, const std::string& source);

/// Whether any row is for the hosts of this group, whatever its drench and worms.
bool is_host_of_reappearance(const ReappearanceRows& rows, const Group& group);

/// Whether any row is for these hosts and worms.
bool is_worm_of_reappearance(const ReappearanceRows& rows, const Group& group);

/// The weeks for a group treated with a single drug class, or nothing if no row fits. Where the
/// class is not given, the name of a drench that a row has is enough.
std::optional<ExpectedWeeks> expected_weeks(const ReappearanceRows& rows, const Group& group);

} // namespace eggfall
