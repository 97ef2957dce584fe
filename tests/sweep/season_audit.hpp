#pragma once

#include "standing_checks.hpp"

/// What the standing makes of a season that changes the counts of all animals, with untreated ones
/// and without: wrong claims and clear answers, of 100 trials, beside those of the counts alone and
/// of the controlled design alone.
AuditedPart audit_seasons(const StandingAudit& audit);
