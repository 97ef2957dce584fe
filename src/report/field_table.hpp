#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"

#include <string>

namespace eggfall {

/// A table for people of each animal's weight, dose and day, at most 80 columns wide, with the
/// columns that hold anything; empty if none does. Both checks are of one group.
std::string field_table(const DoseCheck& doses, const DayCheck& days);

} // namespace eggfall
