#pragma once

#include "eggfall/trial/trial.hpp"

#include <vector>

namespace eggfall {

/// The planned days on which any animal of the group was sampled, each once, in their order.
std::vector<int> visit_days(const Group& group);

/// Whether any animal has a sample after treatment, of any kind of egg, that is of no visit: the
/// reduction test's own.
bool has_own_after(const Group& group);

/// The group with its samples of that day, and no others, for those after treatment; animals that
/// were not sampled then have none. An animal whose treatment is dated is dated as planned.
Group on_visit(const Group& group, int day);

} // namespace eggfall
