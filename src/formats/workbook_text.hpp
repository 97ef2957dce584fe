#pragma once

#include <string>
#include <string_view>

namespace eggfall {

/// A text as a cell of a workbook can hold it: without control characters, which become spaces;
/// what is no UTF-8, or no character of XML, becomes U+FFFD; "_x0041_", which would be read as a
/// character's number, is written so that it is not; of more than 32,767 UTF-16 units the
/// rest is cut off, and "[cut]" says so.
std::string workbook_text(std::string_view text);

} // namespace eggfall
