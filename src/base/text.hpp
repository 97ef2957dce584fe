#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// ASCII letters in lower case, other bytes untouched.
std::string lower_case(std::string_view text);

/// Without spaces, tabs and no-break spaces at either end.
std::string_view trimmed(std::string_view text);

/// `text` in double quotes, cut to 40 characters; bytes that are not UTF-8, and characters that are
/// not to be shown (may_be_shown()), are shown as '?'.
std::string in_quotes(std::string_view text);

/// Byte offset of the first sequence that is not valid UTF-8, if any.
std::optional<std::size_t> first_invalid_utf8(std::string_view text);

/// Characters, counted as UTF-8 code points (not bytes).
std::size_t character_count(std::string_view text);

/// `text` broken at spaces into lines of at most `width` characters (at least 1); a
/// longer word is broken too. An empty text gives no line.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// With its first letter, if of ASCII, as a capital.
std::string capitalised(std::string text);

/// "A", "A and B", "A, B and C".
std::string in_words(const std::vector<std::string>& names);

/// Lines joined into one, by single spaces.
std::string flowing(std::string_view lines);

/// The edit distance of two words (insert, delete, replace; each costs 1).
std::size_t edit_distance(std::string_view a, std::string_view b);

/// A number written with a decimal point or one decimal comma, understood
/// whole; nothing for anything else ("1.234,5", "12 eggs", "1e999", "inf"), nor for
/// "1,250", which may be a thousand and more.
std::optional<double> parse_number(std::string_view text);

/// A whole number in digits alone, of at most 18 of them; nothing for anything else.
std::optional<std::uint64_t> parse_whole_number(std::string_view text);

/// The same as a size, which has 32 bits in a browser; nothing for one beyond the largest.
std::optional<std::size_t> parse_size(std::string_view text);

} // namespace eggfall
