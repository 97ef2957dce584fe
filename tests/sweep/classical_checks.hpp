#pragma once

#include "tally.hpp"

/// Checks the methods of closed form: the ratio, the log ratio, the pooled count and the negative
/// binomial fit.
void check_classical(Tally& tally, const SweptTrial& trial);
