#pragma once

#include <optional>
#include <string>

namespace eggfall::cli {

/// An SVG document as a PNG of so many pixels' width; nothing if the program was built without
/// librsvg. @throws CalculationError if it cannot be drawn.
std::optional<std::string> png_of(const std::string& svg, int width);

} // namespace eggfall::cli
