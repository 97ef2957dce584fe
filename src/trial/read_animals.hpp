#pragma once

#include "eggfall/base/source.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// An animal that is to take part in a test.
struct ListedAnimal {
  std::string tag;
  std::optional<double> weight_kg;
  std::optional<double> epg; ///< An earlier count.

  bool operator==(const ListedAnimal&) const = default;
};

struct AnimalList {
  std::vector<ListedAnimal> animals; ///< In the table's order.
  std::vector<std::string> notes;    ///< Columns ignored.
};

/// Reads a list of animals: the columns animal, weight_kg and epg (docs/sheets.md), of which the
/// last two may be missing or empty. `source` is as in read_table().
/// @throws InputError, with up to 20 problems, for anything read_table() refuses, a missing or
///   doubled column, an animal without a tag or listed twice, a weight not from 0.1 to
///   2,000 kg, or an EPG not from 0 to 1,000,000.
AnimalList read_animals(std::string_view bytes, const Source& source);

} // namespace eggfall
