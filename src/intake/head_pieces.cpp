#include "intake/head_pieces.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

namespace eggfall {
namespace {

/// A word of a header cell, with the keys to look it up by.
struct CellPart {
  std::size_t start = 0;
  std::size_t size = 0;
  std::string key;
  std::string spelt_out;
  std::optional<int> number;

  std::size_t end() const { return start + size; }
};

std::optional<int> small_number(std::string_view digits) {
  constexpr std::size_t most_digits = 9;
  int number = 0;
  if (digits.size() > most_digits ||
      std::from_chars(digits.data(), digits.data() + digits.size(), number).ec != std::errc{})
    return std::nullopt;
  return number;
}

/// What stands behind the digits of an ordinal, in the languages of the words.
bool is_ordinal_ending(std::string_view letters) {
  constexpr std::array<std::string_view, 9> endings{"st", "nd",  "rd",  "th", "er",
                                                    "re", "ere", "eme", "nde"};
  constexpr std::string_view raised_o = "\xC2\xBA";
  constexpr std::string_view raised_a = "\xC2\xAA";
  return letters == raised_o || letters == raised_a ||
         std::ranges::find(endings, word_key(letters)) != endings.end();
}

bool ends_in_hyphen(std::string_view text, std::size_t& size) {
  constexpr std::array<std::string_view, 8> hyphens{"-",
                                                    "\xE2\x80\x90",
                                                    "\xE2\x80\x91",
                                                    "\xE2\x80\x92", // to U+2012
                                                    "\xE2\x80\x93",
                                                    "\xE2\x80\x94",
                                                    "\xE2\x80\x95",
                                                    "\xE2\x88\x92"};
  for (const std::string_view hyphen : hyphens)
    if (text.ends_with(hyphen)) {
      size = hyphen.size();
      return true;
    }
  return false;
}

bool is_one_letter(std::string_view key) {
  return character_count(key) == 1;
}

bool counts_time(std::optional<HeadWord> word) {
  return word == HeadWord::day || word == HeadWord::week;
}

class HeadCell {
public:
  HeadCell(std::string_view cell, const PhraseBook<HeadWord>& book)
      : text_(normalised(cell)), runs_(word_runs(text_)), book_(book) {}

  std::vector<HeadPiece> pieces() {
    if (runs_.empty())
      return of_marks_alone();
    part();
    while (next_ < parts_.size())
      take_next();
    return std::move(pieces_);
  }

private:
  using Splits = std::vector<std::pair<std::size_t, std::size_t>>; ///< At and size of each.

  std::string_view slice(std::size_t start, std::size_t size) const {
    return std::string_view(text_).substr(start, size);
  }

  /// "#", say.
  std::vector<HeadPiece> of_marks_alone() const {
    const HeadWord* const means = book_.by_key(unaccented_look_of(text_));
    if (means == nullptr)
      return {};
    return {{*means, text_, std::nullopt, 0, false}};
  }

  // From runs of letters and digits to words.

  void add_part(std::size_t start, std::size_t size, std::optional<int> number) {
    const std::string_view word = slice(start, size);
    parts_.push_back({start, size, word_key(word), spelt_out_word_key(word), number});
  }

  bool follows_closely(std::size_t run) const {
    return run > 0 && run < runs_.size() && runs_[run - 1].end() == runs_[run].start;
  }

  bool is_ordinal(std::size_t run) const {
    return runs_[run].digits && follows_closely(run + 1) && !follows_closely(run + 2) &&
           is_ordinal_ending(slice(runs_[run + 1].start, runs_[run + 1].size));
  }

  void part() {
    for (std::size_t i = 0; i < runs_.size();) {
      const WordRun& run = runs_[i];
      if (is_ordinal(i)) {
        add_part(run.start, run.size + runs_[i + 1].size, small_number(slice(run.start, run.size)));
        i += 2;
      } else if (run.digits) {
        add_part(run.start, run.size, small_number(slice(run.start, run.size)));
        ++i;
      } else {
        std::size_t end = i + 1;
        while (end < runs_.size() && runs_[end].at_hump)
          ++end;
        part_humps(i, end);
        i = end;
      }
    }
  }

  void part_humps(std::size_t from, std::size_t to) {
    const std::size_t start = runs_[from].start;
    const std::size_t size = runs_[to - 1].end() - start;
    const bool apart = to > from + 1 && book_.by_key(word_key(slice(start, size))) == nullptr &&
                       std::any_of(runs_.begin() + static_cast<std::ptrdiff_t>(from),
                                   runs_.begin() + static_cast<std::ptrdiff_t>(to),
                                   [&](const WordRun& run) { return says_something(run); });
    if (!apart)
      add_part(start, size, std::nullopt);
    else
      for (std::size_t i = from; i < to; ++i)
        add_part(runs_[i].start, runs_[i].size, std::nullopt);
  }

  bool says_something(const WordRun& run) const {
    return can_be_joined(slice(run.start, run.size)) ||
           !joined_words(run.start, run.size, false).empty();
  }

  // Words that are written together.

  bool can_be_joined(std::string_view word) const {
    const std::string key = word_key(word);
    const HeadWord* const means = book_.by_key(key);
    return means != nullptr && *means != HeadWord::filler && !is_one_letter(key);
  }

  /// Fewest first, of those the longest first word. With a number behind, the last may be the one
  /// letter of a day or week: "epgd14".
  Splits joined_words(std::size_t start, std::size_t size, bool number_follows) const {
    constexpr std::size_t longest = 40; // Each way to take it apart is looked up.
    constexpr std::size_t least = 4;
    if (size < least || size > longest)
      return {};
    for (const int words : {2, 3})
      if (Splits found = joined_words(start, size, words, number_follows); !found.empty())
        return found;
    return {};
  }

  Splits joined_words(std::size_t start, std::size_t size, int words, bool number_follows) const {
    const std::string_view word = slice(start, size);
    if (words == 1) {
      const std::string key = word_key(word);
      const HeadWord* const means = book_.by_key(key);
      const bool letter =
          number_follows && means != nullptr && is_one_letter(key) && counts_time(*means);
      return letter || can_be_joined(word) ? Splits{{start, size}} : Splits{};
    }
    for (std::size_t first = size - 1; first > 0; --first) {
      const bool within_character = (static_cast<unsigned char>(word[first]) & 0xC0U) == 0x80U;
      if (within_character || !can_be_joined(word.substr(0, first)))
        continue;
      Splits rest = joined_words(start + first, size - first, words - 1, number_follows);
      if (!rest.empty()) {
        rest.insert(rest.begin(), {start, first});
        return rest;
      }
    }
    return {};
  }

  // From words to pieces.

  void take_next() {
    const CellPart& part = parts_[next_];
    for (std::size_t words = std::min(book_.most_words(), parts_.size() - next_); words > 0;
         --words)
      if (const HeadWord* const means = phrase(words)) {
        const std::size_t end = parts_[next_ + words - 1].end();
        add_piece(*means, part.start, end - part.start);
        next_ += words;
        return;
      }
    ++next_;
    if (part.number) {
      add_number(part);
      return;
    }
    const Splits splits = joined_words(part.start, part.size, is_number(next_));
    for (const auto& [start, size] : splits)
      add_piece(*book_.by_key(word_key(slice(start, size))), start, size);
    if (splits.empty())
      add_piece(std::nullopt, part.start, part.size);
  }

  bool is_number(std::size_t part) const {
    return part < parts_.size() && parts_[part].number.has_value();
  }

  const HeadWord* phrase(std::size_t words) const {
    const HeadWord* const means = phrase_of(words);
    const bool beside_number = is_number(next_ + 1) || (next_ > 0 && is_number(next_ - 1));
    const bool one_letter = means != nullptr && words == 1 && is_one_letter(parts_[next_].key);
    if (one_letter && counts_time(*means) && !beside_number)
      return nullptr;
    if (one_letter && *means == HeadWord::hour && (next_ == 0 || !is_number(next_ - 1)))
      return nullptr;
    return means;
  }

  const HeadWord* phrase_of(std::size_t words) const {
    std::string key;
    std::string spelt_out;
    std::string letters;
    bool letters_alone = words > 1;
    for (std::size_t i = next_; i < next_ + words; ++i) {
      const std::string_view blank = i == next_ ? "" : " ";
      key.append(blank).append(parts_[i].key);
      spelt_out.append(blank).append(parts_[i].spelt_out);
      letters += parts_[i].key;
      letters_alone = letters_alone && !parts_[i].number && is_one_letter(parts_[i].key);
    }
    if (const HeadWord* const means = book_.by_key(key))
      return means;
    if (const HeadWord* const means = book_.by_key(spelt_out))
      return means;
    return letters_alone ? book_.by_key(letters) : nullptr;
  }

  void add_piece(std::optional<HeadWord> means, std::size_t start, std::size_t size) {
    pieces_.push_back({means, std::string(slice(start, size)), std::nullopt, start, false});
  }

  void add_number(const CellPart& part) {
    const std::size_t from = pieces_.empty() ? 0 : pieces_.back().end();
    const std::string_view gap = slice(from, part.start - from);
    std::size_t hyphen = 0;
    const bool has_hyphen = ends_in_hyphen(gap, hyphen);
    const bool minus =
        has_hyphen && gap.size() > hyphen && !pieces_.empty() && counts_time(pieces_.back().means);
    pieces_.push_back({std::nullopt, std::string(slice(part.start, part.size)),
                       minus ? -*part.number : *part.number, part.start, has_hyphen && !minus,
                       gap.ends_with('+')});
  }

  std::string text_;
  std::vector<WordRun> runs_;
  const PhraseBook<HeadWord>& book_;
  std::vector<CellPart> parts_;
  std::size_t next_ = 0;
  std::vector<HeadPiece> pieces_;
};

} // namespace

std::string_view to_string(HeadWord word) {
  return name_of(head_word_names, word, "a word of a head");
}

std::vector<HeadPiece> head_pieces(std::string_view cell, const PhraseBook<HeadWord>& book) {
  return HeadCell(cell, book).pieces();
}

bool have_word(const std::vector<HeadPiece>& pieces, HeadWord word) {
  return std::ranges::find(pieces, word, &HeadPiece::means) != pieces.end();
}

} // namespace eggfall
