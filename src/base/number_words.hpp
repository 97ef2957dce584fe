#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

// How numbers and lists are put into words.
namespace eggfall {

/// "s" but for one.
constexpr std::string_view plural(std::uint64_t count) {
  return count == 1 ? "" : "s";
}

/// Three digits, or all before the point.
std::string number(double value);

/// All digits that matter, and never as a power of ten below ten thousand millions.
std::string plain_number(double value);

/// A chance as a number of 100, never told as none or all: "83", "over 99", "under 1".
std::string chance_of_100(double chance);

/// "A, B and 3 more"
std::string listed(const std::vector<std::string>& items);

} // namespace eggfall
