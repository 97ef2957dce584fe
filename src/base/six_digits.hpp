#pragma once

#include <optional>

namespace eggfall {

/// A number rounded to six significant digits, as files hold those that were found by iteration or
/// by logarithms (k, ratios of eggs left): they are good for no more, and beyond the twelfth digit
/// the same program gives others on another machine.
double six_digits(double value);
std::optional<double> six_digits(const std::optional<double>& value);

} // namespace eggfall
