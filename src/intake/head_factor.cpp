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

/// A number above 0, with what stands on either side of it.
struct NumberWithin {
  double value;
  std::string_view text;
  std::string_view before;
  std::string_view after;
};

std::vector<NumberWithin> numbers_within(std::string_view text) {
  std::vector<NumberWithin> numbers;
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
    if (const auto value = parse_number(number); value && *value > 0)
      numbers.push_back({*value, number, text.substr(0, start), text.substr(end)});
    start = end;
  }
  return numbers;
}

/// Whether a word of factors leads to a number: "factor 15", "MF = 15", "1 egg = 15".
bool is_called_factor(const NumberWithin& number) {
  constexpr std::array<std::string_view, 7> words{"factor", "faktor", "facteur",   "fator",
                                                  "mf",     "is",     "multiplier"};
  const std::string_view before = without_end(number.before, " .:=~");
  const bool equals = without_end(number.before, " ").ends_with('=');
  for (const std::string_view word : words)
    if (ends_in_word(before, word)) {
      if (word != "is")
        return true;
      const std::string_view what = without_end(before.substr(0, before.size() - 2), " ");
      return ends_in_word(what, "egg") || ends_in_word(what, "factor");
    }
  return (equals && (ends_in_word(before, "egg") || ends_in_word(before, "eggs"))) ||
         ends_in_word(before, "stands for");
}

/// "15 EPG per egg"
bool is_epg_of_one_egg(const NumberWithin& number) {
  constexpr std::array<std::string_view, 6> words{
      "epg per egg", "epg an egg", "epg/egg", "epg for each egg", "epg each egg", "epg for an egg"};
  const std::string_view after = trimmed(number.after);
  return std::ranges::any_of(words, [&](std::string_view word) { return after.starts_with(word); });
}

bool is_limit(const NumberWithin& number) {
  constexpr std::array<std::string_view, 9> words{
      "dl",    "d.l",    "lod",         "limit of detection", "detection limit",
      "limit", "limite", "sensitivity", "nachweisgrenze"};
  const std::string_view before = without_end(number.before, " .:=~");
  return std::ranges::any_of(words,
                             [&](std::string_view word) { return ends_in_word(before, word); });
}

bool speaks_of_counts(std::string_view text) {
  constexpr std::array<std::string_view, 5> words{"egg", "epg", "count", "fec", "mcmaster"};
  return std::ranges::any_of(
      words, [&](std::string_view word) { return text.find(word) != std::string_view::npos; });
}

} // namespace

std::optional<HeadFactor> factor_in_head(std::string_view head) {
  constexpr double least_year = 1900;
  constexpr double most_year = 2200;
  const std::string look = look_of(head);
  std::optional<HeadFactor> bare;
  for (const NumberWithin& number : numbers_within(look)) {
    if (leads_to_factor(number.before) || follows_factor(number.after))
      return HeadFactor{number.value, std::string(number.text), false};
    const bool year = number.value >= least_year && number.value <= most_year;
    if (!bare && !year && is_alone_in_brackets(number.before, number.after))
      bare = HeadFactor{number.value, std::string(number.text), true};
  }
  return bare;
}

std::vector<NoteFactor> factors_in_note(std::string_view note) {
  const std::string look = look_of(note);
  const bool of_counts = speaks_of_counts(look);
  std::vector<NoteFactor> factors;
  bool called = false; // "factor 50 before, 15 after" calls both so
  for (const NumberWithin& number : numbers_within(look)) {
    if (trimmed(number.after).starts_with('%'))
      continue;
    const bool again = called && (trimmed(number.after).starts_with("before") ||
                                  trimmed(number.after).starts_with("after"));
    called = called || is_called_factor(number);
    if (again || is_called_factor(number) || is_epg_of_one_egg(number))
      factors.push_back({number.value, std::string(number.text), false});
    else if (is_limit(number) && of_counts)
      factors.push_back({number.value, std::string(number.text), true});
    else if (of_counts && (leads_to_factor(number.before) || follows_factor(number.after)))
      factors.push_back({number.value, std::string(number.text), false});
  }
  return factors;
}

} // namespace eggfall
