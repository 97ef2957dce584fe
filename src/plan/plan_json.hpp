#pragma once

#include "eggfall/plan/plan.hpp"

#include <string>

namespace eggfall {

/// A plan as JSON, schema "eggfall.plan/1" (docs/data-format.md).
std::string plan_json(const Plan& plan);

} // namespace eggfall
