#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

/// Text that a person typed or a file brought: a cell, a name on the command line, the title of a
/// cut-off, the name of a file. It is normalised where it comes in and kept from steering a
/// terminal or a page where it goes out.
namespace eggfall {

/// Whether a character may stand in text that is shown: not a control (those of Unicode's Latin-1
/// block too), not a separator of lines, not one that turns the direction of writing or is seen by
/// nobody (a zero-width space, a byte order mark), and no code point that Unicode keeps free. The
/// joiners (zero width joiner and non-joiner) may: scripts and emoji need them.
bool may_be_shown(std::uint32_t code_point);

/// `text` on one line, for any writer: controls and separators of lines become blanks, characters
/// that steer or are seen by nobody go, and what is no character or no UTF-8 becomes U+FFFD.
std::string without_controls(std::string_view text);

/// The same of each line: what a terminal may be sent.
std::string for_screen(std::string_view text);

/// A name as it is kept and compared: without_controls(), in Unicode's normalisation form C, every
/// blank a space, no space at either end and no two together.
std::string normalised(std::string_view text);

/// The same for names that a reader would take for one: their case, width, kind of hyphen and
/// joiners set aside. For comparing alone, never shown.
std::string look_of(std::string_view text);

/// The same with accents set aside, for those who type without them: "März" is "marz".
std::string unaccented_look_of(std::string_view text);

/// look_of() with what Germans and others write for letters that a keyboard lacks, in their place:
/// "März" is "maerz", "œufs" is "oeufs"; other accents set aside.
std::string spelt_out_look_of(std::string_view text);

/// A run of letters, or one of digits (of ASCII), within a text; all else parts runs, but an
/// apostrophe before a last s ("ewe's"), '+' and '&' unless a digit follows, and the sign of
/// degrees that stands for a raised o ("N°").
struct WordRun {
  std::size_t start = 0; ///< Its first byte.
  std::size_t size = 0;  ///< In bytes.
  bool digits = false;
  /// It begins with the capital that follows a small letter of the run before: "eggsBefore".
  bool at_hump = false;

  std::size_t end() const { return start + size; }
};

/// The runs of a text that is normalised(), in order.
std::vector<WordRun> word_runs(std::string_view text);

} // namespace eggfall
