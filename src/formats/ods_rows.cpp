#include "formats/ods_rows.hpp"

#include "base/cell_reference.hpp"
#include "base/text.hpp"
#include "formats/sheet_cells.hpp"
#include "formats/table_limits.hpp"
#include "formats/xml_nodes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {
namespace {

/// How often a row or a cell stands one after another: 1, unless the attribute says more.
std::size_t repeats(const pugi::xml_node& node, std::string_view attribute) {
  const auto number = parse_whole_number(attribute_named(node, attribute));
  // Where sizes have 32 bits, a number that none holds is cut to the largest, not to 1.
  constexpr std::uint64_t largest = std::numeric_limits<std::size_t>::max();
  return number && *number > 0 ? static_cast<std::size_t>(std::min(*number, largest)) : 1;
}

/// Beyond the last row or column all places are one: so many times so many rows could not be
/// counted.
std::size_t place_after(std::size_t place, std::size_t repeated, std::size_t last) {
  return std::min(place + std::min(repeated, last + 1), last + 1);
}

/// Comments, drawings, and what only helps to read the text aloud.
bool is_beside_the_text(const pugi::xml_node& node) {
  constexpr std::array<std::string_view, 6> names{"annotation", "annotation-end", "frame",
                                                  "note",       "ruby-text",      "custom-shape"};
  return std::ranges::find(names, local_name(node.name())) != names.end();
}

bool is_blank_element(const pugi::xml_node& node) {
  return is_named(node, "s") || is_named(node, "tab") || is_named(node, "line-break");
}

/// Of one text:p, its spans and links joined.
std::string paragraph_text(const pugi::xml_node& paragraph) {
  std::string text;
  bool into = true;
  for (auto node = next_within(paragraph, paragraph, into); !node.empty();
       node = next_within(paragraph, node, into)) {
    into = !is_beside_the_text(node);
    if (node.type() == pugi::node_pcdata || node.type() == pugi::node_cdata)
      text += node.value();
    else if (is_blank_element(node))
      text += ' ';
  }
  return text;
}

/// What a cell shows: its paragraphs, joined by blanks.
std::string text_shown(const pugi::xml_node& cell) {
  std::string text;
  for (const pugi::xml_node& child : cell)
    if (is_named(child, "p") || is_named(child, "h"))
      text += (text.empty() ? "" : " ") + paragraph_text(child);
  return text;
}

/// "12:30:00" of "PT12H30M00S"; another span of time as it is.
std::string time_of_day(std::string_view duration) {
  std::array<unsigned, 3> parts{};
  const char* position = duration.data();
  const char* const end = position + duration.size();
  if (!duration.starts_with("PT"))
    return std::string(duration);
  position += 2;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto [stop, error] = std::from_chars(position, end, parts[i]);
    if (error != std::errc() || stop == end || *stop != "HMS"[i])
      return std::string(duration);
    position = stop + 1;
  }
  return position == end ? fmt::format("{:02}:{:02}:{:02}", parts[0], parts[1], parts[2])
                         : std::string(duration);
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// "Err:502", in whatever language the spreadsheet wrote it.
bool is_numbered_error(std::string_view shown) {
  constexpr std::size_t digits = 3;
  const std::size_t colon = shown.rfind(':');
  return colon != std::string_view::npos && colon > 0 && shown.size() == colon + 1 + digits &&
         std::ranges::none_of(shown.substr(0, colon), is_digit) &&
         std::ranges::all_of(shown.substr(colon + 1), is_digit);
}

/// Whether the cell has an error instead of a value. Older writers store an error of a formula as
/// the number 0 and show its name alone: never to be taken for a count of no eggs.
bool is_error(const pugi::xml_node& cell, std::string_view shown) {
  constexpr std::array<std::string_view, 7> names{"#N/A",   "#DIV/0!", "#VALUE!", "#REF!",
                                                  "#NAME?", "#NUM!",   "#NULL!"};
  // The extension's attribute has the same local name as the standard's.
  for (const pugi::xml_attribute& each : cell.attributes())
    if (local_name(each.name()) == "value-type" && std::string_view(each.value()) == "error")
      return true;
  if (std::ranges::find(names, shown) != names.end() ||
      (shown.starts_with("Err:") && is_numbered_error(shown)))
    return true;
  const bool like_an_error = is_numbered_error(shown) ||
                             (shown.starts_with('#') && shown.size() > 1 && !is_digit(shown[1]));
  return like_an_error && !attribute_named(cell, "formula").empty() &&
         parse_number(attribute_named(cell, "value")) == 0.0;
}

/// The office:value-type: the standard's attribute comes before the extension's, but for writers
/// that turn them round, and its own prefix is the writer's choice.
std::string_view value_type(const pugi::xml_node& cell) {
  const std::string_view standard = cell.attribute("office:value-type").value();
  return standard.empty() ? attribute_named(cell, "value-type") : standard;
}

class OdsRowReader {
public:
  explicit OdsRowReader(const Source& source) : cells_(source) {}

  /// Hands over what a row element stands for.
  void read_row(const pugi::xml_node& element, const std::function<void(TableRow&)>& take) {
    const std::size_t repeated = repeats(element, "number-rows-repeated");
    const std::size_t row_before = at_.row;
    at_.row = place_after(row_before, 1, last_cell.row);
    TableRow row = row_of(element);
    if (row.cells.empty()) { // as below most tables, to the end of the sheet
      at_.row = place_after(row_before, repeated, last_cell.row);
      return;
    }
    for (std::size_t i = 1; i < repeated; ++i) {
      TableRow copy = row;
      take(copy);
      at_.row = place_after(at_.row, 1, last_cell.row);
      row = cells_.again(row, at_.row);
    }
    take(row);
  }

private:
  TableRow row_of(const pugi::xml_node& element) {
    TableRow row;
    row.line = at_.row;
    at_.column = 0;
    for (const pugi::xml_node& cell : element)
      if (is_named(cell, "table-cell") || is_named(cell, "covered-table-cell"))
        read_cell(cell, row);
    return row;
  }

  void read_cell(const pugi::xml_node& cell, TableRow& row) {
    const std::size_t repeated = repeats(cell, "number-columns-repeated");
    const std::size_t column_before = at_.column;
    at_.column = place_after(column_before, 1, last_cell.column);
    const std::size_t cells_before = row.cells.size();
    put_value(cell, row);
    if (row.cells.size() == cells_before) {
      at_.column = place_after(column_before, repeated, last_cell.column);
      return;
    }
    if (repeated > most_columns)
      cells_.refuse(at_, fmt::format("a cell repeated {} times", repeated),
                    fmt::format("at most {} columns", most_columns));
    for (std::size_t i = 1; i < repeated; ++i) {
      at_.column = place_after(at_.column, 1, last_cell.column);
      cells_.put_last_again(row, at_);
    }
  }

  void put_value(const pugi::xml_node& cell, TableRow& row) {
    const std::string shown = text_shown(cell);
    const std::string_view type = value_type(cell);
    if (is_error(cell, trimmed(shown)))
      cells_.put_error(row, at_, std::string(trimmed(shown)));
    else if (const auto text = value_text(cell, type, shown))
      cells_.put(row, at_, *text);
    else if (!attribute_named(cell, "formula").empty())
      cells_.put_formula_without_result(row, at_);
    else
      cells_.put_unreadable(row, at_, shown.empty() ? "value" : shown,
                            fmt::format("a {} without its value", in_quotes(type)),
                            "a value (open the workbook in a spreadsheet and save it again)");
  }

  /// Nothing for a cell that should have a value, and has none.
  static std::optional<std::string> value_text(const pugi::xml_node& cell, std::string_view type,
                                               const std::string& shown) {
    if (type == "float" || type == "percentage" || type == "currency")
      return number_text(attribute_named(cell, "value"));
    if (type == "date")
      return some(day_of(std::string(attribute_named(cell, "date-value"))));
    if (type == "time")
      return some(time_of_day(attribute_named(cell, "time-value")));
    if (type == "boolean")
      return truth(attribute_named(cell, "boolean-value"));
    if (type.empty() && shown.empty() && !attribute_named(cell, "formula").empty())
      return std::nullopt;
    const std::string_view stored = attribute_named(cell, "string-value");
    return stored.empty() ? shown : std::string(stored);
  }

  static std::optional<std::string> some(std::string text) {
    return text.empty() ? std::nullopt : std::optional(std::move(text));
  }

  static std::optional<std::string> truth(std::string_view value) {
    if (value.empty())
      return std::nullopt;
    return value == "true" ? "TRUE" : "FALSE";
  }

  static std::optional<std::string> number_text(std::string_view value) {
    const std::string_view text = trimmed(value);
    if (text.empty())
      return std::nullopt;
    const auto number =
        text.find(',') == std::string_view::npos ? parse_number(text) : std::nullopt;
    return number ? typed_number(*number) : std::string(text);
  }

  SheetCells cells_;
  CellReference at_;
};

/// Rows may stand in groups, and those that are printed on every page in one of their own.
bool holds_rows(const pugi::xml_node& node) {
  return is_named(node, "table-header-rows") || is_named(node, "table-row-group") ||
         is_named(node, "table-rows");
}

} // namespace

void read_sheet(const OdsWorkbook& workbook, const Source& source,
                const std::function<void(TableRow&)>& take) {
  const pugi::xml_node table = workbook.sheet(source.sheet);
  OdsRowReader reader(source);
  for (auto node = next_within(table, table, true); !node.empty();
       node = next_within(table, node, holds_rows(node)))
    if (is_named(node, "table-row"))
      reader.read_row(node, take);
}

} // namespace eggfall
