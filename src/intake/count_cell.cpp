#include "intake/count_cell.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace eggfall {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(char c) {
  return static_cast<unsigned char>(c) >= 0x80 || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// A number at the start of a text, with its marks: "1 200" of "1 200 eggs".
std::string_view leading_number(std::string_view text) {
  std::size_t end = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (is_digit(text[i])) {
      end = i + 1;
      continue;
    }
    const bool mark = text[i] == ' ' || text[i] == '.' || text[i] == ',' || text[i] == '\'';
    if (!mark || i == 0 || !is_digit(text[i - 1]) || i + 1 == text.size() || !is_digit(text[i + 1]))
      break;
  }
  return text.substr(0, end);
}

struct Parts {
  std::vector<std::string_view> digits; ///< Between the marks.
  std::string marks;
};

Parts parts_of(std::string_view number) {
  Parts parts;
  std::size_t start = 0;
  for (std::size_t i = 0; i <= number.size(); ++i)
    if (i == number.size() || !is_digit(number[i])) {
      parts.digits.push_back(number.substr(start, i - start));
      if (i < number.size())
        parts.marks += number[i];
      start = i + 1;
    }
  return parts;
}

/// Whether the parts up to `last` are as marks for thousands part a number: 1 to 3 digits and then
/// threes, under one mark.
bool in_thousands(const Parts& parts, std::size_t last) {
  if (parts.digits[0].empty() || parts.digits[0].size() > 3 || parts.digits[0][0] == '0')
    return false;
  for (std::size_t i = 1; i <= last; ++i)
    if (parts.digits[i].size() != 3 || parts.marks[i - 1] != parts.marks[0])
      return false;
  return true;
}

std::optional<double> joined_digits(const Parts& parts, std::size_t whole_parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.digits.size(); ++i) {
    if (i == whole_parts)
      text += '.';
    text += parts.digits[i];
  }
  return parse_number(text);
}

/// Fills value, decimals and thousands; false for no number.
bool read_number(CountCell& cell, std::string_view number) {
  const Parts parts = parts_of(number);
  const std::size_t marks = parts.marks.size();
  const bool decimal_mark = marks > 0 && (parts.marks.back() == '.' || parts.marks.back() == ',');
  std::optional<double> decimal;
  if (marks == 0)
    decimal = joined_digits(parts, parts.digits.size());
  else if (decimal_mark &&
           (marks == 1 || (in_thousands(parts, marks - 1) && parts.marks[0] != parts.marks.back())))
    decimal = joined_digits(parts, marks);
  std::optional<double> thousands;
  if (marks > 0 && in_thousands(parts, marks))
    thousands = joined_digits(parts, parts.digits.size());
  if (!decimal && !thousands)
    return false;
  cell.marked = thousands.has_value();
  cell.value = decimal ? *decimal : *thousands;
  cell.decimals = decimal && marks > 0 ? static_cast<int>(parts.digits.back().size()) : 0;
  if (decimal)
    cell.thousands = thousands;
  return true;
}

/// The unit that words behind a number say, if they say no more than that.
std::optional<CountUnit> unit_in(std::string_view text, const TableWords& words) {
  const std::vector<HeadPiece> pieces = words.pieces_of(text);
  if (pieces.size() != 1)
    return std::nullopt;
  if (pieces[0].means == HeadWord::epg)
    return CountUnit::epg;
  if (pieces[0].means == HeadWord::eggs)
    return CountUnit::eggs;
  return std::nullopt;
}

std::optional<CountCell::Says> word_says(std::string_view text, const Layout& layout) {
  const auto said = layout.cells.find(look_of(text));
  const auto word =
      said != layout.cells.end() ? std::optional(said->second) : layout.words().cell(text);
  if (!word)
    return std::nullopt;
  switch (*word) {
  case CellWord::none_seen:
    return CountCell::Says::none_seen;
  case CellWord::not_sampled:
    return CountCell::Says::not_sampled;
  default:
    return CountCell::Says::two_readings;
  }
}

/// A note may follow a number, but not more of a number: "12/15" and "2 x 50" are none.
bool may_be_a_remark(std::string_view text) {
  if (text.empty())
    return true;
  const char first = text[0];
  if (text == "," || text == ";")
    return false; // "1," may be what is left of 1,200
  const bool starts_one = is_letter(first) || first == '(' || first == '*' || first == '#' ||
                          first == ';' || first == ',';
  return starts_one && text.find_first_of("0123456789") == std::string_view::npos;
}

int decimals_of(double number) {
  const std::string text = fmt::format("{}", number);
  const std::size_t point = text.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(text.size() - point - 1);
}

} // namespace

CountCell read_count_cell(std::string_view text, const Layout& layout) {
  CountCell cell;
  text = trimmed(text);
  if (text.empty())
    return cell;
  const bool digits_alone = std::ranges::all_of(text, is_digit); // as most are, so they come first
  if (const auto says = digits_alone ? std::nullopt : word_says(text, layout)) {
    cell.says = *says;
    return cell;
  }
  cell.says = CountCell::Says::no_count;
  const bool below = text[0] == '<';
  if (below)
    text = trimmed(text.substr(1)); // "<=50" is left as no number: one egg may have been seen
  const std::string_view number = leading_number(text);
  const std::string_view rest = trimmed(text.substr(number.size()));
  if (number.empty() || !may_be_a_remark(rest) || !read_number(cell, number))
    return cell;
  cell.unit = unit_in(rest, layout.words());
  // Letters right behind digits are a unit ("12eggs"), or a slip of the hand: "1oo" is no 1.
  const bool attached = !rest.empty() && text.substr(number.size()).starts_with(rest);
  if (attached && !cell.unit && is_letter(rest[0]))
    return cell;
  if (!cell.unit)
    cell.remark = rest;
  cell.says = below ? CountCell::Says::below : CountCell::Says::number;
  return cell;
}

std::optional<double> eggs_of_rounded(double epg, int decimals, double factor) {
  const double eggs = std::round(epg / factor);
  const int factor_decimals = decimals_of(factor);
  const double hidden_by_epg = factor_decimals == 0 && decimals == 0
                                   ? 0
                                   : 0.5 * std::pow(10.0, -static_cast<double>(decimals));
  const double hidden_by_factor =
      factor_decimals == 0 ? 0 : eggs * 0.5 * std::pow(10.0, -static_cast<double>(factor_decimals));
  const double exact = 1e-9 * std::max(1.0, epg);
  const double hidden = std::max(exact, hidden_by_epg + hidden_by_factor);
  // Of two counts that both could be meant, none is.
  if (2 * hidden >= factor || std::abs(epg - eggs * factor) > hidden)
    return std::nullopt;
  return eggs;
}

} // namespace eggfall
