#pragma once

#include "base/problems.hpp"
#include "intake/raw_animals.hpp"

#include <vector>

namespace eggfall {

/// Where all counts after treatment are of one numbered day, and it is the usual test's, or some
/// are of eggs told apart, or a column tells the day too, there is one sample and no visit: a
/// counts table has no visits of eggs told apart. Then the day moves from the counts to each
/// animal's days_after, and what was said of the visit (its factor) to what is said of the one
/// sample after treatment. Another day in the column is a problem. Several days are left as they
/// are.
void keep_day_of_one_sample(std::vector<RawAnimal>& animals, const TableWords& words,
                            Problems& problems);

} // namespace eggfall
