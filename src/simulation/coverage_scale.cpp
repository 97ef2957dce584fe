#include "simulation/coverage_scale.hpp"

#include <algorithm>
#include <cmath>

namespace eggfall {

double stretched_coverage(double coverage) {
  return std::log(std::clamp(1 - coverage, rarest_miss, 1.0)) / std::log(rarest_miss);
}

} // namespace eggfall
