#pragma once

#include "eggfall/text.hpp"

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
  if (items.size() <= most)
    return in_words(items);
  std::vector<std::string> shown(items.begin(), items.begin() + most - 1);
  shown.push_back(fmt::format("{} more", items.size() - shown.size()));
  return in_words(shown);
}

} // namespace eggfall
