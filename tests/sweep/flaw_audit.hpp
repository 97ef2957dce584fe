#pragma once

#include "standing_checks.hpp"

/// Flaw by flaw: of 100 trials with a failing drench, how many standings comfort, and of 100 with a
/// good one, how many accuse; beside it what the counts alone say, and both without the flaw.
AuditedPart audit_flaws(const StandingAudit& audit);
