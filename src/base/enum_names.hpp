#pragma once

#include "eggfall/base/error.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {

/// Values of an enumeration and their names.
template <typename Enum, std::size_t N>
using Names = std::array<std::pair<Enum, std::string_view>, N>;

/// @throws CalculationError for a value that is not in the table; `what` is "a design", ...
template <typename Enum, std::size_t N>
std::string_view name_of(const Names<Enum, N>& names, Enum value, std::string_view what) {
  for (const auto& [known, name] : names)
    if (known == value)
      return name;
  throw CalculationError(std::string(what) + " without a name");
}

/// The value of a name; nothing if it is none.
template <typename Enum, std::size_t N>
std::optional<Enum> value_named(const Names<Enum, N>& names, std::string_view text) {
  for (const auto& [value, name] : names)
    if (name == text)
      return value;
  return std::nullopt;
}

} // namespace eggfall
