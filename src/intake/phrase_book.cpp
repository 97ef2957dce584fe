#include "intake/phrase_book.hpp"

#include "base/user_text.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

/// Of what folding makes of a word: no apostrophes, and the o of "n°".
std::string bare_word(std::string_view word) {
  std::string out;
  constexpr std::string_view degrees = "\xC2\xB0";
  for (std::size_t i = 0; i < word.size(); ++i)
    if (word.substr(i).starts_with(degrees)) {
      out += 'o';
      i += degrees.size() - 1;
    } else if (word[i] != '\'' && word[i] != '`')
      out += word[i];
  return out;
}

/// Whether what stands between words only parts them.
bool only_parts_words(std::string_view look) {
  return look.find_first_of("?*#<>=!~^|\\\"{}$@") == std::string_view::npos;
}

void add_once(std::vector<std::string>& keys, std::string key) {
  if (std::ranges::find(keys, key) == keys.end())
    keys.push_back(std::move(key));
}

void add_joined(std::vector<std::string>& keys, const std::vector<std::string>& words) {
  add_once(keys, fmt::format("{}", fmt::join(words, " ")));
  add_once(keys, fmt::format("{}", fmt::join(words, "")));
}

} // namespace

std::string word_key(std::string_view word) {
  return bare_word(unaccented_look_of(word));
}

std::string spelt_out_word_key(std::string_view word) {
  return bare_word(spelt_out_look_of(word));
}

std::vector<std::string> phrase_keys(std::string_view phrase) {
  const std::string text = normalised(phrase);
  std::vector<std::string> keys{unaccented_look_of(text)};
  if (!only_parts_words(keys.front()))
    return keys;
  std::vector<std::string> words;
  std::vector<std::string> spelt_out;
  for (const WordRun& run : word_runs(text)) {
    const std::string_view word = std::string_view(text).substr(run.start, run.size);
    words.push_back(word_key(word));
    spelt_out.push_back(spelt_out_word_key(word));
  }
  if (words.empty())
    return keys;
  add_joined(keys, words);
  add_joined(keys, spelt_out);
  return keys;
}

} // namespace eggfall
