#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// Whether a workbook fresh from its library is whole: as many cells in each sheet as were written,
/// each shared text, and the end of each part. The library does not look whether its temporary
/// files took all that it wrote, as they do not on a full disk.
bool is_whole(const std::string& workbook, const std::vector<std::size_t>& cells);

} // namespace eggfall
