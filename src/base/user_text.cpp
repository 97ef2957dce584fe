#include "base/user_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <boost/locale/utf.hpp>
#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <memory>
#include <utility>

namespace eggfall {
namespace {

using boost::locale::utf::utf_traits;

constexpr std::string_view replacement = "\xEF\xBF\xBD"; // U+FFFD

bool is_ascii_text(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return c >= ' ' && c <= '~'; });
}

bool within(std::uint32_t point, std::uint32_t first, std::uint32_t last) {
  return point >= first && point <= last;
}

/// C0 and C1 (a terminal takes U+009B as it takes ESC [), and separators of lines and paragraphs.
bool ends_or_controls(std::uint32_t point) {
  return point < 0x20U || within(point, 0x7FU, 0x9FU) || point == 0x2028U || point == 0x2029U;
}

/// Unicode's format characters that turn the direction of writing, or are of no width.
bool is_unseen(std::uint32_t point) {
  return point == 0xADU || point == 0x61CU || point == 0x180EU || point == 0x200BU ||
         point == 0x200EU || point == 0x200FU || within(point, 0x202AU, 0x202EU) ||
         within(point, 0x2060U, 0x206FU) || point == 0xFEFFU || within(point, 0xFFF9U, 0xFFFBU);
}

/// Those that Unicode promises never to use; XML refuses some of them.
bool is_no_character(std::uint32_t point) {
  return within(point, 0xFDD0U, 0xFDEFU) || (point & 0xFFFEU) == 0xFFFEU;
}

bool is_blank(std::uint32_t point) {
  return utf8proc_category(static_cast<utf8proc_int32_t>(point)) == UTF8PROC_CATEGORY_ZS;
}

/// `use(point, bytes)` of each character; of a byte that is no UTF-8, with a point that is none.
template <typename Use> void each_character(std::string_view text, Use use) {
  const char* position = text.data();
  const char* const end = text.data() + text.size();
  while (position != end) {
    const char* const start = position;
    const auto point = utf_traits<char>::decode(position, end);
    const bool valid = boost::locale::utf::is_valid_codepoint(point);
    if (!valid)
      position = start + 1;
    use(valid ? static_cast<std::uint32_t>(point) : 0xFFFFU,
        std::string_view(start, static_cast<std::size_t>(position - start)));
  }
}

std::string mapped(std::string_view text, int how) {
  utf8proc_uint8_t* result = nullptr;
  const utf8proc_ssize_t size = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                             static_cast<utf8proc_ssize_t>(text.size()), &result,
                                             static_cast<utf8proc_option_t>(how));
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owned(result, std::free);
  if (size < 0)
    throw CalculationError(std::string("a text that cannot be normalised: ") +
                           utf8proc_errmsg(size));
  return {reinterpret_cast<const char*>(result), static_cast<std::size_t>(size)};
}

constexpr int look = UTF8PROC_STABLE | UTF8PROC_COMPAT | UTF8PROC_COMPOSE | UTF8PROC_CASEFOLD |
                     UTF8PROC_IGNORE | UTF8PROC_LUMP;

/// In small letters is all that folding makes of ASCII text, as most heads and cells are; the long
/// way costs ten times as much.
std::string folded(const std::string& text, int how) {
  return is_ascii_text(text) ? lower_case(text) : mapped(text, how);
}

std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
  std::string out;
  std::size_t position = 0;
  for (std::size_t next = 0; (next = text.find(from, position)) != std::string_view::npos;
       position = next + from.size()) {
    out += text.substr(position, next - position);
    out += to;
  }
  return out += text.substr(position);
}

std::string with_single_blanks(std::string_view text) {
  std::string out;
  bool blank = false;
  each_character(text, [&](std::uint32_t point, std::string_view bytes) {
    if (is_blank(point)) {
      blank = true;
      return;
    }
    if (blank && !out.empty())
      out += ' ';
    blank = false;
    out += bytes;
  });
  return out;
}

bool is_apostrophe(std::uint32_t point) {
  return point == '\'' || point == '`' || point == 0x2019U;
}

enum class Sort { small, capital, other_letter, digit, none };

Sort sort_of(std::uint32_t point) {
  if (point >= '0' && point <= '9')
    return Sort::digit;
  switch (utf8proc_category(static_cast<utf8proc_int32_t>(point))) {
  case UTF8PROC_CATEGORY_LL:
    return Sort::small;
  case UTF8PROC_CATEGORY_LU:
  case UTF8PROC_CATEGORY_LT:
    return Sort::capital;
  case UTF8PROC_CATEGORY_LM:
  case UTF8PROC_CATEGORY_LO:
  case UTF8PROC_CATEGORY_MN:
  case UTF8PROC_CATEGORY_MC:
    return Sort::other_letter;
  default:
    return Sort::none;
  }
}

/// Takes a text apart, character by character; what a mark is may depend on its neighbours.
class RunFinder {
public:
  explicit RunFinder(std::string_view text) {
    each_character(text, [&](std::uint32_t point, std::string_view bytes) {
      characters_.push_back(
          {point, static_cast<std::size_t>(bytes.data() - text.data()), bytes.size()});
    });
  }

  std::vector<WordRun> runs() const {
    std::vector<WordRun> found;
    Sort before = Sort::none;
    for (std::size_t i = 0; i < characters_.size(); ++i) {
      const Sort sort = sort_at(i);
      if (sort != Sort::none)
        add(found, characters_[i], before, sort);
      before = sort;
    }
    return found;
  }

private:
  struct Character {
    std::uint32_t point;
    std::size_t start;
    std::size_t size;
  };

  static void add(std::vector<WordRun>& runs, const Character& character, Sort before, Sort sort) {
    const bool digits = sort == Sort::digit;
    const bool at_hump = before == Sort::small && sort == Sort::capital;
    if (before == Sort::none || at_hump || digits != (before == Sort::digit))
      runs.push_back({character.start, 0, digits, at_hump});
    runs.back().size += character.size;
  }

  std::uint32_t point_at(std::size_t i) const {
    return i < characters_.size() ? characters_[i].point : ' ';
  }
  bool is_letter_at(std::size_t i) const {
    const Sort sort = sort_of(point_at(i));
    return sort != Sort::none && sort != Sort::digit;
  }

  Sort sort_at(std::size_t i) const {
    const std::uint32_t point = point_at(i);
    const bool after_letter = i > 0 && is_letter_at(i - 1);
    if (is_apostrophe(point)) {
      const bool before_last_s =
          (point_at(i + 1) == 's' || point_at(i + 1) == 'S') && !is_letter_at(i + 2);
      return after_letter && before_last_s ? Sort::other_letter : Sort::none;
    }
    if (point == '+' || point == '&')
      return sort_of(point_at(i + 1)) == Sort::digit ? Sort::none : Sort::other_letter;
    if (point == 0x2116U) // "No" in one character
      return Sort::other_letter;
    if (point == 0xB0U) // the sign of degrees
      return after_letter && (point_at(i - 1) | 0x20U) == 'n' ? Sort::other_letter : Sort::none;
    return sort_of(point);
  }

  std::vector<Character> characters_;
};

} // namespace

bool may_be_shown(std::uint32_t code_point) {
  return !ends_or_controls(code_point) && !is_unseen(code_point) && !is_no_character(code_point);
}

std::string without_controls(std::string_view text) {
  if (is_ascii_text(text))
    return std::string(text);
  std::string clean;
  clean.reserve(text.size());
  each_character(text, [&](std::uint32_t point, std::string_view bytes) {
    if (ends_or_controls(point))
      clean += ' ';
    else if (is_no_character(point))
      clean += replacement;
    else if (!is_unseen(point))
      clean += bytes;
  });
  return clean;
}

std::string for_screen(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (true) {
    const std::size_t end = text.find('\n');
    out += without_controls(text.substr(0, end));
    if (end == std::string_view::npos)
      return out;
    out += '\n';
    text.remove_prefix(end + 1);
  }
}

std::string normalised(std::string_view text) {
  std::string clean = without_controls(text);
  if (is_ascii_text(clean) && !clean.starts_with(' ') && !clean.ends_with(' ') &&
      clean.find("  ") == std::string::npos)
    return clean;
  return with_single_blanks(mapped(clean, UTF8PROC_STABLE | UTF8PROC_COMPOSE));
}

std::string look_of(std::string_view text) {
  return folded(normalised(text), look);
}

std::string unaccented_look_of(std::string_view text) {
  return folded(normalised(text), look | UTF8PROC_STRIPMARK);
}

std::string spelt_out_look_of(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 7> spelt{{
      {"\xC3\xA4", "ae"}, // ä
      {"\xC3\xB6", "oe"}, // ö
      {"\xC3\xBC", "ue"}, // ü
      {"\xC3\xA6", "ae"}, // æ
      {"\xC3\xB8", "oe"}, // ø
      {"\xC3\xA5", "aa"}, // å
      {"\xC5\x93", "oe"}, // œ
  }};
  std::string out = look_of(text);
  if (is_ascii_text(out))
    return out;
  for (const auto& [letter, letters] : spelt)
    out = replaced(out, letter, letters);
  return unaccented_look_of(out);
}

std::vector<WordRun> word_runs(std::string_view text) {
  return RunFinder(text).runs();
}

} // namespace eggfall
