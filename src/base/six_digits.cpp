#include "base/six_digits.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eggfall {

// By way of its decimals, so that the double is the one nearest to them on every machine.
double six_digits(double value) {
  return std::isfinite(value) ? parse_number(fmt::format("{:.5e}", value)).value() : value;
}

std::optional<double> six_digits(const std::optional<double>& value) {
  return value ? std::optional(six_digits(*value)) : std::nullopt;
}

} // namespace eggfall
