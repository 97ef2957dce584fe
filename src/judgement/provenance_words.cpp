#include "judgement/provenance_words.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string provenance_text(const Citation& citation) {
  switch (citation.provenance) {
  case Provenance::memory:
    return std::string(note_from_memory);
  case Provenance::practice:
    return "practice";
  case Provenance::published:
  case Provenance::user:
    break;
  }
  return fmt::format("{}; {}", citation.source, to_string(citation.provenance));
}

} // namespace eggfall
