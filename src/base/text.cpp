#include "base/text.hpp"

#include "base/user_text.hpp"

#include <boost/locale/utf.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace eggfall {
namespace {

using boost::locale::utf::utf_traits;

bool is_continuation(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

/// Bytes of the first `count` characters of `text`, or all of them.
std::size_t bytes_of_characters(std::string_view text, std::size_t count) {
  std::size_t position = 0;
  while (position < text.size() && (is_continuation(text[position]) || count-- > 0))
    ++position;
  return position;
}

} // namespace

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z')
      c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view no_break_space = "\xC2\xA0";
  for (bool trimming = true; trimming;) {
    trimming = false;
    for (const std::string_view blank :
         {std::string_view(" "), std::string_view("\t"), no_break_space}) {
      if (text.starts_with(blank)) {
        text.remove_prefix(blank.size());
        trimming = true;
      }
      if (text.ends_with(blank)) {
        text.remove_suffix(blank.size());
        trimming = true;
      }
    }
  }
  return text;
}

std::string in_quotes(std::string_view text) {
  constexpr std::size_t longest = 40;
  std::string out = "\"";
  std::size_t characters = 0;
  const char* position = text.data();
  const char* const end = text.data() + text.size();
  while (position != end) {
    if (++characters > longest) {
      out += "...";
      break;
    }
    const char* const start = position;
    const auto point = utf_traits<char>::decode(position, end);
    const bool valid = boost::locale::utf::is_valid_codepoint(point);
    if (!valid)
      position = start + 1;
    if (valid && may_be_shown(static_cast<std::uint32_t>(point)))
      out.append(start, position);
    else
      out += '?';
  }
  return out + '"';
}

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  const char* position = text.data();
  const char* const end = text.data() + text.size();
  while (position != end) {
    const char* const start = position;
    if (!boost::locale::utf::is_valid_codepoint(utf_traits<char>::decode(position, end)))
      return static_cast<std::size_t>(start - text.data());
  }
  return std::nullopt;
}

std::size_t character_count(std::string_view text) {
  return static_cast<std::size_t>(
      std::ranges::count_if(text, [](char c) { return !is_continuation(c); }));
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  width = std::max<std::size_t>(width, 1);
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::string_view rest = text;
    const auto space = text.find(' ');
    const std::string_view word = text.substr(0, space);
    text = space == std::string_view::npos ? std::string_view{} : text.substr(space + 1);
    if (word.empty())
      continue;
    if (const std::size_t size = bytes_of_characters(word, width); size < word.size()) {
      if (!line.empty())
        lines.push_back(std::exchange(line, {}));
      lines.emplace_back(word.substr(0, size));
      text = rest.substr(size); // the rest of the word is still to be broken
      continue;
    }
    if (!line.empty() && character_count(line) + 1 + character_count(word) > width) {
      lines.push_back(line);
      line.clear();
    }
    if (!line.empty())
      line += ' ';
    line += word;
  }
  if (!line.empty())
    lines.push_back(line);
  return lines;
}

std::string capitalised(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

std::string in_words(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0)
      text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

std::string flowing(std::string_view lines) {
  std::string out;
  for (const char c : lines) {
    const char next = c == '\n' ? ' ' : c;
    if (next != ' ' || (!out.empty() && out.back() != ' '))
      out += next;
  }
  if (!out.empty() && out.back() == ' ')
    out.pop_back();
  return out;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
    }
  }
  return row[b.size()];
}

std::optional<double> parse_number(std::string_view text) {
  std::string plain(text);
  const auto comma = plain.find(',');
  if (comma != std::string::npos) {
    if (plain.find('.') != std::string::npos)
      return std::nullopt;
    const bool thousands = plain.size() == comma + 4 && comma > 0 && plain[0] != '0';
    if (thousands)
      return std::nullopt;
    plain[comma] = '.';
  }
  // from_chars would also take "inf" and "nan".
  if (plain.find_first_not_of("0123456789.-eE+") != std::string::npos || plain.empty())
    return std::nullopt;
  const char* first = plain.data();
  const char* const last = plain.data() + plain.size();
  if (*first == '+' && plain.size() > 1 && plain[1] != '-')
    ++first;
  double value = 0;
  const auto [end, error] = std::from_chars(first, last, value);
  if (error != std::errc{} || end != last || !std::isfinite(value))
    return std::nullopt;
  return value;
}

std::optional<std::uint64_t> parse_whole_number(std::string_view text) {
  constexpr std::size_t most_digits = 18;
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || text.size() > most_digits || error != std::errc{} ||
      end != text.data() + text.size())
    return std::nullopt;
  return value;
}

std::optional<std::size_t> parse_size(std::string_view text) {
  const auto number = parse_whole_number(text);
  if (!number || *number > std::numeric_limits<std::size_t>::max())
    return std::nullopt;
  return static_cast<std::size_t>(*number);
}

} // namespace eggfall
