#pragma once

#include "eggfall/plan/plan.hpp"

#include <string>

namespace eggfall {

/// The plan as one self-contained HTML page, for screen, phone and paper: advice, what 100 tests
/// would say, a table of sizes by ways of counting with a bar for the chance of a right answer,
/// figures, all chances, and what stands behind them.
std::string plan_report(const Plan& plan);

} // namespace eggfall
