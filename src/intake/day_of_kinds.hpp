#pragma once

#include "intake/raw_animals.hpp"

#include <vector>

namespace eggfall {

/// A counts table has no columns of visits for eggs told apart. Where all counts after treatment
/// are of one numbered day, and some of them of eggs told apart, that day moves from the counts to
/// each animal's days_after, and what was said of the visit (its factor) to what is said of the one
/// sample after treatment. Several days, and days that a column tells too, are left as they are:
/// the reader of counts tables refuses them.
void keep_day_of_kinds(std::vector<RawAnimal>& animals);

} // namespace eggfall
