#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// The words that caveats share.
namespace eggfall {

inline std::string_view plural(std::size_t count) {
  return count == 1 ? "" : "s";
}

/// Three digits, or all before the point.
inline std::string number(double value) {
  return value >= 100 ? fmt::format("{:.0f}", value) : fmt::format("{:.3g}", value);
}

/// "A, B and 3 more"
inline std::string listed(const std::vector<std::string>& items) {
  constexpr std::size_t most = 4;
  std::string text;
  const std::size_t shown = items.size() > most ? most - 1 : items.size();
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0)
      text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  if (items.size() > shown)
    text += fmt::format(" and {} more", items.size() - shown);
  return text;
}

} // namespace eggfall
