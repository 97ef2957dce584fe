#include "formats/csv_quotes.hpp"

#include <utility>

namespace eggfall {

bool CsvQuotes::separates(char c) {
  opened_ = false;
  beside_quotes_ = false;
  if (state_ != State::quoted && (c == separator_ || c == '\n' || c == '\r')) {
    state_ = State::before_cell;
    may_double_ = false;
    column_ = c == separator_ ? column_ + 1 : 1;
    return c == separator_;
  }
  take_in_cell(c);
  return false;
}

void CsvQuotes::take_in_cell(char c) {
  const bool blank = c == ' ' || c == '\t';
  const bool doubled = std::exchange(may_double_, false) && c == '"';
  switch (state_) {
  case State::before_cell:
    opened_ = c == '"';
    if (!blank)
      state_ = opened_ ? State::quoted : State::plain;
    break;
  case State::quoted:
    if (c == '"') {
      state_ = State::after_quote;
      may_double_ = true;
    }
    break;
  case State::after_quote:
    if (doubled)
      state_ = State::quoted;
    else
      beside_quotes_ = !blank;
    break;
  case State::plain:
    break;
  }
}

} // namespace eggfall
