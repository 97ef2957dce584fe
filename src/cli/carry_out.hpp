#pragma once

#include "eggfall/simulation/audit.hpp"

#include <vector>

namespace eggfall::cli {

/// Simulates the tasks on all cores and adds them to the result's farms. Tallies are whole numbers,
/// so the order of the sums does not matter.
void carry_out(AuditResult& result, const std::vector<AuditTask>& tasks);

/// The farms' trials, as many as next_tasks() asks for.
AuditResult simulated(const std::vector<AuditFarm>& farms, const AuditSettings& settings);

/// audit_examples() of each of the audit's farms, on all cores.
std::vector<std::vector<AuditExample>> examples_of(const AuditResult& audit, std::size_t trials);

} // namespace eggfall::cli
