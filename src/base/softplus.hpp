#pragma once

#include <cmath>

namespace eggfall {

/// log(1 + e^x), without overflow.
inline double softplus(double x) {
  return x > 0 ? x + std::log1p(std::exp(-x)) : std::log1p(std::exp(x));
}

} // namespace eggfall
