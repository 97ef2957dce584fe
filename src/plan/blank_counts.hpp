#pragma once

#include "plan/field_sheets.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The columns of blank_counts() that the eggs of one occasion ("before" or "after") are written
/// in: one a chamber where chambers are counted and no kinds told apart, otherwise one for all and
/// one for each kind.
std::vector<std::string> egg_columns(const FieldSheetQuestion& question, std::string_view occasion);

/// A counts table (docs/data-format.md) with a row for every animal, to be filled in: counts, doses
/// given and dates are left empty, as only what was done may stand there; so are factors that are
/// not known.
std::string blank_counts(const FieldSheets& sheets);

} // namespace eggfall
