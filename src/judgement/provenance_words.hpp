#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <fmt/format.h>

#include <string>
#include <string_view>

namespace eggfall {

/// What stands wherever a user sees a number that was written down from memory.
inline constexpr std::string_view from_memory =
    "from memory: check against the published guideline";

/// Where a number comes from, short enough for a bracket.
inline std::string provenance_text(const Citation& citation) {
  switch (citation.provenance) {
  case Provenance::memory:
    return std::string(from_memory);
  case Provenance::practice:
    return "practice";
  case Provenance::published:
  case Provenance::user:
    break;
  }
  return fmt::format("{}; {}", citation.source, to_string(citation.provenance));
}

} // namespace eggfall
