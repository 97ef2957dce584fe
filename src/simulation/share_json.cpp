#include "simulation/share_json.hpp"

namespace eggfall {

Json to_json(const Share& share) {
  return {{"percent", in_percent(share.value)}, {"error", in_percent(share.error)}};
}

} // namespace eggfall
