#include "formats/workbook_rows.hpp"

#include "base/cell_reference.hpp"
#include "base/date.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/table_builder.hpp"
#include "formats/xml_nodes.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <utility>

namespace eggfall {
namespace {

/// A number as a person would type it. A spreadsheet shows no more than 15 digits either, and
/// stores 0.1 + 0.2 as 0.30000000000000004.
std::string typed(double value) {
  constexpr double whole_below = 1e15;
  if (std::abs(value) < whole_below && value == std::floor(value))
    return fmt::format("{}", static_cast<long long>(value));
  return fmt::format("{:.15g}", value);
}

/// A character that XML cannot hold is stored as _xHHHH_ (and so is an underscore before what looks
/// so). All but the underscore are controls, which no cell keeps.
std::string without_escapes(std::string_view text) {
  constexpr std::size_t size = 7;
  std::string out;
  while (!text.empty()) {
    unsigned code = 0;
    const char* const digits = text.data() + 2;
    if (text.size() >= size && text.starts_with("_x") && text[size - 1] == '_' &&
        std::from_chars(digits, digits + 4, code, 16).ptr == digits + 4 && code < 0x80) {
      out += static_cast<char>(code);
      text.remove_prefix(size);
    } else {
      out += text.front();
      text.remove_prefix(1);
    }
  }
  return out;
}

constexpr std::size_t largest_sheet = std::size_t{64} << 20U; ///< Bytes of text in its cells.

class SheetReader {
public:
  SheetReader(const Workbook& workbook, const Source& source)
      : workbook_(workbook), source_(source) {}

  /// `row` with the cells of a row element, up to the last with a value.
  void read_row(const pugi::xml_node& element, TableRow& row) {
    const std::size_t row_before = at_.row++;
    if (const auto number = parse_whole_number(element.attribute("r").value()))
      at_.row = *number;
    if (at_.row <= row_before)
      refuse(fmt::format("a row {} after the row {}", at_.row, row_before),
             "each row once, in their order");
    if (at_.row == 0 || at_.row > last_cell.row)
      refuse(fmt::format("a row {}", at_.row), fmt::format("rows from 1 to {}", last_cell.row));
    row.line = at_.row;
    at_.column = 0;
    for (const pugi::xml_node& cell : element)
      if (is_named(cell, "c"))
        read_cell(cell, row);
  }

private:
  void read_cell(const pugi::xml_node& cell, TableRow& row) {
    const std::size_t column_before = at_.column++;
    if (const auto reference = parse_cell_reference(cell.attribute("r").value()))
      at_.column = reference->column;
    if (at_.column <= column_before)
      refuse("a cell again, or out of its order", "each cell once, in their order");
    if (at_.column > last_cell.column)
      refuse(fmt::format("a column {}", at_.column),
             fmt::format("columns from 1 to {}", last_cell.column));
    std::string text = checked(cell_text(cell, row));
    if (text.empty())
      return;
    bytes_ += text.size();
    if (bytes_ > largest_sheet) // one text may stand in all of a small workbook's cells
      refuse(fmt::format("more than {} MiB of text in the cells so far", largest_sheet >> 20U),
             "a smaller sheet");
    if (row.cells.size() < at_.column)
      row.cells.resize(at_.column);
    row.cells[at_.column - 1] = std::move(text);
  }

  std::string cell_text(const pugi::xml_node& cell, TableRow& row) {
    const std::string_view type = cell.attribute("t").value();
    if (type == "inlineStr")
      return without_escapes(string_item_text(child_named(cell, "is")));
    std::string value = text_within(child_named(cell, "v"));
    if (type == "str")
      return without_escapes(value);
    if (value.empty() && !child_named(cell, "f").empty()) {
      unreadable(row, "a formula without a result",
                 "its result (open the workbook in a spreadsheet and save it again)");
      return "formula";
    }
    if (type == "e") {
      unreadable(row, "the error " + value, "a value, or an empty cell");
      return value;
    }
    if (type == "s")
      return without_escapes(shared_string(value));
    if (type == "b")
      return value == "1" || value == "true" ? "TRUE" : value.empty() ? "" : "FALSE";
    if (type == "d")
      return day_of(value);
    return number_text(cell, value);
  }

  std::string_view shared_string(const std::string& value) const {
    const auto index = parse_whole_number(trimmed(value));
    const auto text = index ? workbook_.shared_string(*index) : std::nullopt;
    if (!text)
      refuse("a text that the workbook does not hold", "a workbook that is not damaged");
    return *text;
  }

  /// Of a date and time as ISO 8601 writes them.
  static std::string day_of(const std::string& value) {
    const std::string day = value.substr(0, value.find('T'));
    return parse_date(day) ? day : value;
  }

  std::string number_text(const pugi::xml_node& cell, const std::string& value) const {
    const std::string_view text = trimmed(value);
    const auto number =
        text.find(',') == std::string_view::npos ? parse_number(text) : std::nullopt;
    if (!number)
      return value;
    if (workbook_.shows_date(cell.attribute("s").as_uint()))
      if (auto date = date_of_serial(*number, workbook_.date_system()))
        return std::move(*date);
    return typed(*number);
  }

  std::string checked(const std::string& text) const {
    if (text.size() > longest_cell)
      refuse(fmt::format("a cell of more than {} bytes", longest_cell), "a shorter one");
    if (first_invalid_utf8(text))
      refuse("a text that is not UTF-8", "a workbook that is not damaged");
    return normalised(text);
  }

  void unreadable(TableRow& row, std::string found, std::string expected) const {
    row.unreadable.push_back({at_.column - 1, std::move(found), std::move(expected)});
  }

  [[noreturn]] void refuse(std::string found, std::string expected) const {
    throw InputError(
        {Problem{source_, at_.row, at_.column, {}, std::move(found), std::move(expected)}});
  }

  const Workbook& workbook_;
  const Source& source_;
  CellReference at_;
  std::size_t bytes_ = 0; ///< Of all cells so far.
};

} // namespace

void read_sheet(const Workbook& workbook, const Source& source,
                const std::function<void(TableRow&)>& take) {
  const pugi::xml_document document = workbook.sheet(source.sheet);
  SheetReader reader(workbook, source);
  TableRow row;
  for (const pugi::xml_node& element : child_named(document.document_element(), "sheetData")) {
    if (!is_named(element, "row"))
      continue;
    row.cells.clear();
    row.unreadable.clear();
    reader.read_row(element, row);
    if (!row.cells.empty())
      take(row);
  }
}

} // namespace eggfall
