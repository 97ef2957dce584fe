#include "trial/name_words.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

namespace eggfall {
namespace {

/// Left out on purpose: words that animals are called by ("Max"), and "n". One is an x with a bar;
/// the last two are Dutch, which has no lists of its own (from memory).
constexpr std::array<std::string_view, 24> sum_words{
    "total",    "totals",    "subtotal", "sub-total",      "grand total",
    "sum",      "sums",      "mean",     "means",          "average",
    "averages", "avg",       "median",   "geometric mean", "standard deviation",
    "std dev",  "sd",        "s.d.",     "std. dev",       "std. dev.",
    "avge",     "x\xCC\x84", "totaal",   "gemiddelde"};

} // namespace

bool is_sum_word(std::string_view cell) {
  std::string word = look_of(cell);
  while (word.ends_with(':') || word.ends_with(' '))
    word.pop_back();
  return std::ranges::find(sum_words, word) != sum_words.end();
}

bool sounds_untreated(std::string_view name) {
  std::string words = " " + look_of(name) + " ";
  std::ranges::replace_if(
      words, [](char c) { return std::string_view("-_/().,:;").find(c) != std::string_view::npos; },
      ' ');
  constexpr std::array<std::string_view, 12> phrases{
      " control ",     " controls ",     " untreated ",    " undrenched ",
      " undosed ",     " keepers ",      " placebo ",      " not treated ",
      " non treated ", " not drenched ", " no treatment ", " no drench "};
  return std::ranges::any_of(
      phrases, [&](std::string_view phrase) { return words.find(phrase) != std::string::npos; });
}

std::string plain_words(std::string_view name) {
  constexpr std::string_view curly_apostrophe = "\xE2\x80\x99";
  constexpr std::string_view marks = " \t-_/().,:;+&*#\"[]";
  std::string words;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if (name[i] == '\'' || name[i] == '`')
      continue;
    if (name.substr(i).starts_with(curly_apostrophe))
      i += curly_apostrophe.size() - 1;
    else if (marks.find(name[i]) == std::string_view::npos)
      words += name[i];
    else if (!words.empty() && words.back() != ' ')
      words += ' ';
  }
  return lower_case(trimmed(words));
}

bool may_be_one_worm(std::string_view a, std::string_view b) {
  // Teladorsagia was a part of the genus Ostertagia, and many laboratories still write it so.
  constexpr std::array<std::string_view, 4> brown_stomach_worm{
      "teladorsagia", "ostertagia", "brown stomach worm", "brown stomach worms"};
  const auto is_brown = [&](std::string_view name) {
    return std::ranges::find(brown_stomach_worm, name) != brown_stomach_worm.end();
  };
  if (is_brown(a) && is_brown(b))
    return true;
  constexpr std::size_t shortest = 3;
  return a.size() >= shortest && b.size() >= shortest && (a.starts_with(b) || b.starts_with(a));
}

} // namespace eggfall
