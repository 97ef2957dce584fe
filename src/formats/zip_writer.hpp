#pragma once

#include <string>
#include <vector>

namespace eggfall {

struct ZipPart {
  std::string name;
  std::string bytes;
};

/// A zip file of these parts, in this order, each packed; its bytes hang on the parts alone, since
/// every part is of 1 January 1980, the first day that the format knows.
/// @throws CalculationError if there is no memory for it.
std::string zip_bytes(const std::vector<ZipPart>& parts);

} // namespace eggfall
