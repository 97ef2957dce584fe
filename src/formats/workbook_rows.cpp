#include "formats/workbook_rows.hpp"

#include "base/cell_reference.hpp"
#include "base/text.hpp"
#include "formats/sheet_cells.hpp"
#include "formats/xml_nodes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <utility>

namespace eggfall {
namespace {

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

class SheetReader {
public:
  SheetReader(const Workbook& workbook, const Source& source)
      : workbook_(workbook), cells_(source) {}

  /// `row` with the cells of a row element, up to the last with a value.
  void read_row(const pugi::xml_node& element, TableRow& row) {
    const std::size_t row_before = at_.row++;
    // All rows beyond the last are one, so that a size of 32 bits holds them.
    if (const auto number = parse_whole_number(element.attribute("r").value()))
      at_.row = static_cast<std::size_t>(std::min<std::uint64_t>(*number, last_cell.row + 1));
    if (at_.row <= row_before)
      refuse(fmt::format("a row {} after the row {}", at_.row, row_before),
             "each row once, in their order");
    at_.column = 0;
    cells_.check_place(at_);
    row.line = at_.row;
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
    put_value(cell, row);
  }

  void put_value(const pugi::xml_node& cell, TableRow& row) {
    const std::string_view type = cell.attribute("t").value();
    if (type == "inlineStr") {
      cells_.put(row, at_, without_escapes(string_item_text(child_named(cell, "is"))));
      return;
    }
    const std::string value = text_within(child_named(cell, "v"));
    if (type != "str" && value.empty() && !child_named(cell, "f").empty())
      cells_.put_formula_without_result(row, at_);
    else if (type == "e")
      cells_.put_error(row, at_, value);
    else
      cells_.put(row, at_, value_text(cell, type, value));
  }

  std::string value_text(const pugi::xml_node& cell, std::string_view type,
                         const std::string& value) const {
    if (type == "str")
      return without_escapes(value);
    if (type == "s")
      return without_escapes(shared_string(value));
    if (type == "b")
      return value == "1" || value == "true" ? "TRUE" : value.empty() ? "" : "FALSE";
    if (type == "d")
      return day_of(value);
    return number_text(cell, value);
  }

  std::string_view shared_string(const std::string& value) const {
    const auto index = parse_size(trimmed(value));
    const auto text = index ? workbook_.shared_string(*index) : std::nullopt;
    if (!text)
      refuse("a text that the workbook does not hold", "a workbook that is not damaged");
    return *text;
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
    return typed_number(*number);
  }

  [[noreturn]] void refuse(std::string found, std::string expected) const {
    cells_.refuse(at_, std::move(found), std::move(expected));
  }

  const Workbook& workbook_;
  SheetCells cells_;
  CellReference at_;
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
