#include "formats/csv_separator.hpp"

#include "base/text.hpp"
#include "formats/csv_quotes.hpp"
#include "formats/text_lines.hpp"

#include <algorithm>
#include <cstddef>
#include <map>

namespace eggfall {
namespace {

constexpr std::size_t rows_looked_at = 100;

bool is_decimal_digit(std::string_view text, std::size_t position) {
  return position < text.size() && text[position] >= '0' && text[position] <= '9';
}

/// What one row says of a candidate.
class SeparatorTally {
public:
  explicit SeparatorTally(char candidate) : candidate_(candidate), quotes_(candidate) {}

  /// Whether the row goes on in the next line.
  bool take_line(std::string_view line) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (quotes_.separates(line[i])) {
        ++separators_;
        decimals_ +=
            is_decimal_digit(line, i + 1) && i > 0 && is_decimal_digit(line, i - 1) ? 1 : 0;
      } else if (!quotes_.is_open() && (line[i] == '\t' || line[i] == ';')) {
        other_ = true;
      }
    }
    return quotes_.is_open();
  }

  void end_row() {
    const bool decimal = candidate_ == ',' && other_ && decimals_ == separators_;
    if (separators_ > 0 && !decimal)
      ++rows_[separators_];
    separators_ = 0;
    decimals_ = 0;
    other_ = false;
  }

  std::size_t rows_that_agree() const {
    std::size_t most = 0;
    for (const auto& [separators, rows] : rows_)
      most = std::max(most, rows);
    return most;
  }

private:
  char candidate_;
  CsvQuotes quotes_;
  std::size_t separators_ = 0; ///< Of the row so far.
  std::size_t decimals_ = 0;   ///< Of these, between two digits.
  bool other_ = false;
  std::map<std::size_t, std::size_t> rows_; ///< By their number of separators.
};

std::size_t rows_that_agree(std::string_view text, char candidate) {
  SeparatorTally tally(candidate);
  std::size_t rows = 0;
  bool open = false;
  each_line(text, [&](std::string_view line) {
    if (!open && line.find_first_not_of(" \t\r\n") == std::string_view::npos)
      return true;
    open = tally.take_line(line);
    if (!open) {
      tally.end_row();
      ++rows;
    }
    return rows < rows_looked_at;
  });
  return tally.rows_that_agree();
}

} // namespace

char named_separator(std::string_view first_line) {
  constexpr std::string_view names = "sep=";
  const std::string_view line = first_line.substr(0, first_line.find_first_of("\r\n"));
  if (line.size() != names.size() + 1 || lower_case(line.substr(0, names.size())) != names)
    return '\0';
  const char separator = line.back();
  return separator == '"' || separator == ' ' ? '\0' : separator;
}

char separator_of(std::string_view text) {
  char best = ',';
  std::size_t most = 0;
  for (const char candidate : {'\t', ';', ','})
    if (const std::size_t rows = rows_that_agree(text, candidate); rows > most) {
      most = rows;
      best = candidate;
    }
  return best;
}

} // namespace eggfall
