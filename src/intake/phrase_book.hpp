#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Texts by which a phrase is found; the first is how it looks: unaccented_look_of(). If it is of
/// words, no mark beside them says more ("neg?", "#n/a"), there follow its words with a blank
/// between them, and written together; each also with umlauts spelt out, so that "März" is found by
/// "Marz", "Maerz" and "MÄRZ", and "ear tag" by "Ear-Tag" and "eartag".
std::vector<std::string> phrase_keys(std::string_view phrase);

/// A word for looking it up: unaccented, in lower case, without apostrophes.
std::string word_key(std::string_view word);

/// The same with umlauts spelt out: "maerz".
std::string spelt_out_word_key(std::string_view word);

/// Phrases and what each means. Value: of any type that can be compared.
template <typename Value> class PhraseBook {
public:
  /// @returns What the phrase, or one that is matched as it is, meant before, if that was another;
  ///   then nothing is added.
  std::optional<Value> add(const std::string& phrase, const Value& value) {
    const std::vector<std::string> keys = phrase_keys(phrase);
    for (const std::string& key : keys)
      if (const Value* const other = by_key(key); other != nullptr && !(*other == value))
        return *other;
    for (const std::string& key : keys) {
      meanings_.emplace(key, value);
      most_words_ =
          std::max(most_words_, 1 + static_cast<std::size_t>(std::ranges::count(key, ' ')));
    }
    phrases_.push_back(phrase);
    return std::nullopt;
  }

  /// These phrases, and those of `others` that are not among them.
  PhraseBook over(const PhraseBook& others) const {
    PhraseBook both = *this;
    for (const auto& [key, value] : others.meanings_)
      both.meanings_.emplace(key, value);
    both.phrases_.insert(both.phrases_.end(), others.phrases_.begin(), others.phrases_.end());
    both.most_words_ = std::max(most_words_, others.most_words_);
    return both;
  }

  /// Of one of phrase_keys(); null if it is none.
  const Value* by_key(std::string_view key) const {
    const auto found = meanings_.find(key);
    return found == meanings_.end() ? nullptr : &found->second;
  }

  /// What the whole of a text means.
  std::optional<Value> meaning(std::string_view text) const {
    for (const std::string& key : phrase_keys(text))
      if (const Value* const value = by_key(key))
        return *value;
    return std::nullopt;
  }

  /// As they were added.
  const std::vector<std::string>& phrases() const { return phrases_; }

  /// Of the longest phrase; 0 without any.
  std::size_t most_words() const { return most_words_; }

private:
  std::map<std::string, Value, std::less<>> meanings_;
  std::vector<std::string> phrases_;
  std::size_t most_words_ = 0;
};

} // namespace eggfall
