#pragma once

#include "eggfall/simulation/audit.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace eggfall::web {

/// An audit of farms on this one thread, to where it knows enough. `progress` is told of the trials
/// done, of the most that may be asked for.
AuditResult simulate_here(const std::vector<AuditFarm>& farms, const AuditSettings& settings,
                          const std::function<void(std::size_t, std::size_t)>& progress);

} // namespace eggfall::web
