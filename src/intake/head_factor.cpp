#include "intake/head_factor.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace eggfall {
namespace {

constexpr std::string_view times_sign = "\xC3\x97";

bool is_figure(char c) {
  return c >= '0' && c <= '9';
}

bool is_in_word(char c) {
  return static_cast<unsigned char>(c) >= 0x80 || (c >= 'a' && c <= 'z');
}

std::string_view without_end(std::string_view text, std::string_view marks) {
  const std::size_t last = text.find_last_not_of(marks);
  return last == std::string_view::npos ? std::string_view() : text.substr(0, last + 1);
}

bool ends_in_word(std::string_view text, std::string_view word) {
  return text.ends_with(word) &&
         (text.size() == word.size() || !is_in_word(text[text.size() - word.size() - 1]));
}

/// A limit of detection is often, not always, the factor: enough for a question.
bool leads_to_factor(std::string_view before) {
  constexpr std::array<std::string_view, 17> words{"x",
                                                   "factor",
                                                   "faktor",
                                                   "facteur",
                                                   "fator",
                                                   "mf",
                                                   "dl",
                                                   "d.l",
                                                   "lod",
                                                   "detection limit",
                                                   "multiplier",
                                                   "times",
                                                   "limit",
                                                   "limite",
                                                   "nachweisgrenze",
                                                   "limit of detection",
                                                   "sensitivity"};
  if (before.ends_with('*'))
    return true;
  const std::string_view text = without_end(before, " .:=~");
  if (text.ends_with(times_sign))
    return true;
  const bool by_word =
      std::ranges::any_of(words, [&](std::string_view word) { return ends_in_word(text, word); });
  const bool equals = without_end(before, " ").ends_with('=');
  return by_word || (equals && (ends_in_word(text, "egg") || ends_in_word(text, "eggs")));
}

/// "50x", "50 x"
bool follows_factor(std::string_view after) {
  const std::string_view text = trimmed(after);
  if (text.starts_with(times_sign))
    return true;
  return text.starts_with('x') && (text.size() == 1 || (!is_in_word(text[1]) && text[1] != ' '));
}

bool is_alone_in_brackets(std::string_view before, std::string_view after) {
  const std::string_view left = without_end(before, " ");
  const std::string_view right = trimmed(after);
  return (left.ends_with('(') && right.starts_with(')')) ||
         (left.ends_with('[') && right.starts_with(']'));
}

} // namespace

std::optional<HeadFactor> factor_in_head(std::string_view head) {
  constexpr double least_year = 1900;
  constexpr double most_year = 2200;
  const std::string look = look_of(head);
  const std::string_view text = look;
  std::optional<HeadFactor> bare;
  for (std::size_t start = 0; start < text.size();) {
    if (!is_figure(text[start])) {
      ++start;
      continue;
    }
    std::size_t end = start;
    while (end < text.size() &&
           (is_figure(text[end]) || ((text[end] == '.' || text[end] == ',') &&
                                     end + 1 < text.size() && is_figure(text[end + 1]))))
      ++end;
    const std::string_view number = text.substr(start, end - start);
    const std::string_view before = text.substr(0, start);
    const std::string_view after = text.substr(end);
    start = end;
    const auto value = parse_number(number);
    if (!value || *value <= 0)
      continue;
    if (leads_to_factor(before) || follows_factor(after))
      return HeadFactor{*value, std::string(number), false};
    const bool year = *value >= least_year && *value <= most_year;
    if (!bare && !year && is_alone_in_brackets(before, after))
      bare = HeadFactor{*value, std::string(number), true};
  }
  return bare;
}

} // namespace eggfall
