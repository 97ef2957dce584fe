#pragma once

#include <cmath>

namespace eggfall {

/// A proportion in percent, without the noise of the multiplication: the number that JSON and
/// workbooks hold.
inline double in_percent(double proportion) {
  constexpr double digits = 1e11;
  return std::round(100 * digits * proportion) / digits;
}

} // namespace eggfall
