#pragma once

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <string_view>

namespace eggfall {

/// @throws InputError, with the name and the range, unless least <= value <= most.
inline void check_range(std::string_view what, double value, double least, double most) {
  if (!(value >= least && value <= most))
    throw InputError(
        fmt::format("{}: found {:g}; expected {:g} to {:g}", what, value, least, most));
}

inline void check_range(std::string_view what, double value, const ValueRange& range) {
  check_range(what, value, range.least, range.most);
}

} // namespace eggfall
