#pragma once

#include <optional>
#include <string>

namespace eggfall::cli {

/// An SVG document as a PNG of so many pixels' width, or of as many as leave it no higher than a
/// picture can be; nothing where librsvg is not installed, or the program was built without it.
/// @throws CalculationError if it cannot be drawn.
std::optional<std::string> png_of(const std::string& svg, int width);

} // namespace eggfall::cli
