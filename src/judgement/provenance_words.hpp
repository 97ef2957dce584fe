#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// What stands wherever a user sees a number that was written down from memory.
inline constexpr std::string_view note_from_memory =
    "from memory: check against the published guideline";

/// Where a number comes from, short enough for a bracket.
std::string provenance_text(const Citation& citation);

} // namespace eggfall
