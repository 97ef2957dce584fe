#pragma once

#include <string>

namespace eggfall {

/// A page of all inks, sizes, signs and marks that pages and figures are drawn with, drawn by the
/// very functions that draw them there (docs/drawing.md).
std::string drawing_specimen();

} // namespace eggfall
