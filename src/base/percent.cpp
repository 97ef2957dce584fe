#include "eggfall/base/percent.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eggfall {

std::string percent_beside(double proportion, double threshold) {
  constexpr int most_decimals = 6;
  for (int decimals = 1; decimals < most_decimals; ++decimals) {
    const double scale = std::pow(10.0, decimals);
    const double shown = std::round(100 * proportion * scale) / scale;
    const bool looks_equal = std::abs(shown - 100 * threshold) < 0.5 / scale;
    if (!looks_equal && shown >= 100 && proportion < 1)
      return threshold < 1 ? percent(proportion) : "over 99.99%";
    if (!looks_equal || std::abs(proportion - threshold) < 1e-12)
      return fmt::format("{:.{}f}%", shown == 0 ? 0.0 : shown, decimals);
  }
  return fmt::format("{:.{}f}%", 100 * proportion, most_decimals);
}

std::string percent(double proportion) {
  constexpr double shown_as_100 = 0.99995;
  return proportion < 1 && proportion >= shown_as_100 ? "over 99.99%"
                                                      : percent_beside(proportion, 1.0);
}

std::string percent_of_limit(double limit) {
  return limit == 1 ? "over 99.99%" : percent(limit);
}

std::string percent_of_limit_beside(double limit, double threshold) {
  return limit == 1 ? percent_of_limit(limit) : percent_beside(limit, threshold);
}

std::string percent_or_missing(const std::optional<double>& proportion) {
  return proportion ? percent(*proportion) : "not available";
}

double in_percent(double proportion) {
  constexpr double digits = 1e6;
  return std::round(100 * digits * proportion) / digits;
}

double of_percent(double percent) {
  constexpr double digits = 1e11; // of a level that somebody typed
  return std::round(digits * percent) / (100 * digits);
}

} // namespace eggfall
