#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "formats/table.hpp"

#include <vector>

namespace eggfall {

/// Counts held in memory as a counts table (docs/data-format.md), for the same reader: a row for
/// each animal, whose line is its number among the animals of all groups, from 1.
/// @throws InputError, with up to 20 problems, for what such a table could not say: see
/// read_trials().
Table table_of(const std::vector<CountedGroup>& groups);

/// What is wrong in table_of(groups), told of groups and their animals in the place of lines and
/// columns, and without sending the reader to a column that nobody can add.
InputError told_of_groups(const InputError& error, const std::vector<CountedGroup>& groups);

} // namespace eggfall
