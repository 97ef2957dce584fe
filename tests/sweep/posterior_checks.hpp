#pragma once

#include "tally.hpp"

/// Checks the methods that take time: the posteriors, the bootstraps, the guarded posterior, and
/// the whole analysis of the trial with all that is written of it.
void check_posterior(Tally& tally, const SweptTrial& trial);
