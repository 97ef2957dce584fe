#pragma once

#include "eggfall/simulation/audit_summary.hpp"
#include "formats/json_values.hpp"

namespace eggfall {

inline Json to_json(const Share& share) {
  return {{"percent", in_percent(share.value)}, {"error", in_percent(share.error)}};
}

} // namespace eggfall
