#pragma once

#include "eggfall/trial/trial.hpp"
#include "intake/head_pieces.hpp"
#include "intake/phrase_book.hpp"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

class Section;

/// What stands in the cell of a count in place of a number.
enum class CellWord {
  none_seen,   ///< A sample without an egg.
  not_sampled, ///< No sample, or none that could be counted.
  two_readings ///< No egg in one laboratory, no sample in the next: to be asked about.
};

std::string_view to_string(CellWord word);

/// The words that people head and fill their tables with, in English, German, French, Spanish and
/// Portuguese, from src/data/table_words.toml; and those that a user adds. How they are matched:
/// phrase_keys().
class TableWords {
public:
  /// Those that are compiled in, read once.
  static const TableWords& known();

  /// With a user's own words before them: sections [[head]], [[cell]], [[role]], [[yes-no]],
  /// [[month]] and
  /// [[host-word]] of `root` with the keys means and words, and [[sum]] and [[weekday]] with words
  /// alone. Other keys of `root` are its owner's.
  /// @throws InputError, with line and column, for what cannot be, such as a phrase of two
  /// meanings.
  TableWords with(const Section& root) const;

  /// head_pieces() by these words.
  std::vector<HeadPiece> pieces_of(std::string_view header_cell) const;

  std::optional<CellWord> cell(std::string_view text) const;

  /// Of the whole cell of a column of roles or drenches: "not treated" is control.
  std::optional<Role> role(std::string_view text) const;

  /// What a cell answers to a head that asks, "Treated?"; true: yes.
  std::optional<bool> yes_or_no(std::string_view text) const;

  /// Whether a cell says that its row is a sum, a mean or their kin: by these words or
  /// is_sum_word(), with or without something in brackets behind them ("Mean (n = 15)").
  bool sums_up(std::string_view cell) const;

  /// 1 to 12.
  std::optional<int> month(std::string_view word) const;

  /// Whether a word is a day of the week, such as stands before a date.
  bool is_weekday(std::string_view word) const;

  /// canonical_host() of a word, by these words or by known_host().
  std::optional<std::string> host(std::string_view word) const;

  /// The phrases for heads that one is nearest to, as nearest_words(). For a question.
  std::vector<std::string> nearest_heads(std::string_view head) const;

  /// Whether a phrase that is known stands in lists alone that were written down from memory.
  /// Whoever shows what was read by it says so.
  bool from_memory(std::string_view phrase) const;

private:
  friend class TableWordsReader;
  TableWords() = default;

  PhraseBook<HeadWord> heads_;
  PhraseBook<CellWord> cells_;
  PhraseBook<Role> roles_;
  PhraseBook<bool> answers_;
  PhraseBook<bool> sums_; ///< True, each.
  PhraseBook<int> months_;
  PhraseBook<bool> weekdays_; ///< True, each.
  PhraseBook<std::string> hosts_;
  std::map<std::string, bool, std::less<>> from_memory_; ///< By key.
};

} // namespace eggfall
