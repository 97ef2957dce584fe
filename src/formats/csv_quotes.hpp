#pragma once

#include <cstddef>

namespace eggfall {

/// Follows a CSV text character by character, and knows what is within quotes: as RFC 4180 has it,
/// but that a quote in the middle of an unquoted cell is a character like others. Blanks around a
/// quoted cell are not part of it.
class CsvQuotes {
public:
  explicit CsvQuotes(char separator) : separator_(separator) {}

  /// Takes the next character. Whether it is a separator, outside quotes.
  bool separates(char c);

  /// Whether the last character was within quotes, or opened them.
  bool is_open() const { return state_ == State::quoted; }

  /// Whether the last character was the quote that a quoted cell starts with.
  bool opened() const { return opened_; }

  /// Whether the last character stood behind the quote that closed its cell, where none may.
  bool is_beside_quotes() const { return beside_quotes_; }

  /// Of the cell, from 1.
  std::size_t column() const { return column_; }

private:
  enum class State { before_cell, plain, quoted, after_quote };

  void take_in_cell(char c);

  char separator_;
  State state_ = State::before_cell;
  std::size_t column_ = 1;
  bool opened_ = false;
  bool beside_quotes_ = false;
  bool may_double_ = false; ///< The last character was a quote that may have closed the cell.
};

} // namespace eggfall
