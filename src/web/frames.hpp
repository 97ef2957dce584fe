#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace eggfall::web {

/// What passes between a page and the engine, either way: a JSON text, and the bytes of files that
/// it tells of by their place.
struct Frames {
  std::string json;
  std::vector<std::string> files;

  bool operator==(const Frames&) const = default;
};

/// One run of bytes: the number of texts (the JSON and each file), the length of each, both as
/// 32-bit numbers with the lowest byte first, and then the texts one after another.
/// @throws CalculationError for a text of 4 GiB or more.
std::string framed(const Frames& frames);

/// @throws InputError for bytes that framed() cannot have made.
Frames unframed(std::string_view bytes);

} // namespace eggfall::web
