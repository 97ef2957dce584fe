#include "xlsx/fill_workbook.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/workbook_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <ctime>
#include <limits>

namespace eggfall {
namespace {

[[noreturn]] void cannot(const std::string& reason) {
  throw CalculationError("the workbook could not be made: " + reason);
}

void check(lxw_error error) {
  if (error != LXW_NO_ERROR)
    cannot(lxw_strerror(error));
}

struct Place {
  lxw_worksheet* sheet;
  lxw_row_t row;
  lxw_col_t column;
  std::size_t& written; ///< Cells of the sheet, so far.

  void write(std::monostate) const {}
  void write(const std::string& text) const {
    if (text.empty()) // the library writes no cell for it
      return;
    ++written;
    check(worksheet_write_string(sheet, row, column, workbook_text(text).c_str(), nullptr));
  }
  void write(bool value) const {
    ++written;
    check(worksheet_write_boolean(sheet, row, column, value ? 1 : 0, nullptr));
  }
  void write(double value) const {
    if (!std::isfinite(value))
      return;
    ++written;
    check(worksheet_write_number(sheet, row, column, value, nullptr));
  }
  void write(InPercent value) const { write(value.percent()); }
  void write(std::uint64_t value) const {
    // A larger one, such as a seed, would be rounded.
    constexpr std::uint64_t exact_to = std::uint64_t{1} << std::numeric_limits<double>::digits;
    if (value <= exact_to)
      write(static_cast<double>(value));
    else
      write(std::to_string(value));
  }
};

/// In characters: wide enough for the header and most cells, and no wider than a screen can bear.
double width_of(const ResultSheet& sheet, std::size_t column) {
  constexpr std::size_t narrowest = 10;
  constexpr std::size_t widest = 60;
  std::size_t width = std::max(narrowest, character_count(sheet.columns[column]) + 2);
  for (const std::vector<ResultCell>& row : sheet.rows)
    if (const auto* const text = std::get_if<std::string>(&row[column]))
      width = std::max(width, character_count(*text) + 2);
  return static_cast<double>(std::min(width, widest));
}

/// How many cells it has then.
std::size_t write_sheet(lxw_workbook* workbook, const ResultSheet& sheet, lxw_format* bold) {
  if (sheet.rows.size() >= LXW_ROW_MAX)
    throw InputError(
        fmt::format("{}: found {} rows; expected at most {}, the most that a sheet of a "
                    "workbook holds (JSON and CSV have no such limit)",
                    sheet.name, sheet.rows.size(), LXW_ROW_MAX - 1));
  lxw_worksheet* const worksheet = workbook_add_worksheet(workbook, sheet.name.c_str());
  if (worksheet == nullptr)
    cannot("no sheet " + sheet.name);
  worksheet_freeze_panes(worksheet, 1, 0);
  for (std::size_t i = 0; i < sheet.columns.size(); ++i) {
    const auto column = static_cast<lxw_col_t>(i);
    check(worksheet_set_column(worksheet, column, column, width_of(sheet, i), nullptr));
    check(worksheet_write_string(worksheet, 0, column, sheet.columns[i].c_str(), bold));
  }
  std::size_t written = sheet.columns.size();
  for (std::size_t r = 0; r < sheet.rows.size(); ++r)
    for (std::size_t c = 0; c < sheet.columns.size(); ++c) {
      const Place place{worksheet, static_cast<lxw_row_t>(r + 1), static_cast<lxw_col_t>(c),
                        written};
      std::visit([&](const auto& value) { place.write(value); }, sheet.rows[r].at(c));
    }
  return written;
}

} // namespace

std::vector<std::size_t> fill_workbook(lxw_workbook* workbook,
                                       const std::vector<ResultSheet>& sheets) {
  // The same results give the same bytes: no date of today.
  lxw_doc_properties properties{};
  constexpr std::time_t start_of_2000 = 946'684'800;
  properties.created = start_of_2000;
  check(workbook_set_properties(workbook, &properties));
  lxw_format* const bold = workbook_add_format(workbook);
  format_set_bold(bold);
  std::vector<std::size_t> cells;
  for (const ResultSheet& sheet : sheets)
    cells.push_back(write_sheet(workbook, sheet, bold));
  return cells;
}

} // namespace eggfall
