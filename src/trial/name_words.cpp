#include "trial/name_words.hpp"

#include "base/user_text.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

namespace eggfall {
namespace {

/// Left out on purpose: words that animals are called by ("Max"), and "n".
constexpr std::array<std::string_view, 18> sum_words{
    "total",    "totals", "subtotal", "sub-total",      "grand total",
    "sum",      "sums",   "mean",     "means",          "average",
    "averages", "avg",    "median",   "geometric mean", "standard deviation",
    "std dev",  "sd",     "s.d."};

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

bool may_be_one_worm(std::string_view a, std::string_view b) {
  constexpr std::size_t shortest = 3;
  return a.size() >= shortest && b.size() >= shortest && (a.starts_with(b) || b.starts_with(a));
}

} // namespace eggfall
