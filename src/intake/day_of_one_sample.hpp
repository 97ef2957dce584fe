#pragma once

#include "intake/raw_animals.hpp"

#include <vector>

namespace eggfall {

/// Where all counts after treatment are of one numbered day, and it is the usual test's, or some
/// are of eggs told apart, there is one sample and no visit: a counts table has no visits of eggs
/// told apart. Then the day moves from the counts to each animal's days_after, and what was said of
/// the visit (its factor) to what is said of the one sample after treatment. Several days, and days
/// that a column tells too, are left as they are: the reader of counts tables refuses them.
void keep_day_of_one_sample(std::vector<RawAnimal>& animals);

} // namespace eggfall
