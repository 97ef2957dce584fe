#pragma once

#include "eggfall/simulation/audit_summary.hpp"
#include "formats/json_values.hpp"

namespace eggfall {

Json to_json(const Share& share);

} // namespace eggfall
