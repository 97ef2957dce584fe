#pragma once

#include "eggfall/cut_offs.hpp"

#include <fmt/format.h>

#include <string>

namespace eggfall {

/// Where a number comes from, short enough for a bracket.
inline std::string provenance_text(const Citation& citation) {
  switch (citation.provenance) {
  case Provenance::memory:
    return "from memory: check against the published guideline";
  case Provenance::practice:
    return "practice";
  case Provenance::published:
  case Provenance::user:
    break;
  }
  return fmt::format("{}; {}", citation.source, to_string(citation.provenance));
}

} // namespace eggfall
