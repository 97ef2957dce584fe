#pragma once

#include "simulation/scenario.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

class Section;

/// A scenario in TOML (docs/teaching.md): fields of the count model at the top are those of every
/// group, and in [[groups]] of that one.
/// @throws InputError, with line and column, for what is no TOML, an unknown key, a wrong type, or
///   a value out of range.
Scenario read_scenario(std::string_view toml, const std::string& source);

/// The scenario in a file whose top level may also have these keys, which belong to something else.
/// @throws InputError as read_scenario().
Scenario read_scenario_with(const Section& root, const std::vector<std::string_view>& more_keys);

/// The scenarios that are compiled in (src/data/scenarios/), each named for its lesson; the first
/// is the one a class works through.
const std::vector<Scenario>& built_in_scenarios();

/// The built-in scenario of this name. @throws InputError, which lists the names, if there is none.
const Scenario& built_in_scenario(std::string_view name);

} // namespace eggfall
