#pragma once

#include <string>
#include <string_view>

namespace eggfall {

/// A text in UTF-8, and how it was written.
struct DecodedText {
  std::string text;          ///< Valid UTF-8 without a byte-order mark and without NUL characters.
  std::string_view encoding; ///< "UTF-8", "UTF-16" or "Windows-1252".
};

/// Finds out in which encoding a text was saved, and turns it into UTF-8. In this order:
///
/// - UTF-16, of either order of bytes, if it starts with that byte-order mark; or if more than half
///   of its first 1,000 bytes' pairs have a NUL in the same place and none has one in the other, as
///   Latin letters in UTF-16 do.
/// - UTF-8 if it starts with that byte-order mark, or is valid UTF-8.
/// - Windows-1252 else: what Western spreadsheets save as "CSV". Latin-1 is a part of it. Its five
///   bytes without a character become U+FFFD.
///
/// What is valid UTF-8 but for its very end, and has letters beyond ASCII before it, was cut short.
/// `source` names the text in messages.
/// @throws InputError if the text is cut in the middle of a character, is marked to be what it is
///   not, or holds a NUL character.
/// @throws CalculationError if this system cannot convert it.
DecodedText decoded(std::string_view bytes, const std::string& source);

} // namespace eggfall
