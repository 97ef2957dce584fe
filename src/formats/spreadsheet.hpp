#pragma once

#include "eggfall/base/source.hpp"
#include "formats/ods_workbook.hpp"
#include "formats/table.hpp"
#include "formats/workbook.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace eggfall {

/// What people are told to do with a table that cannot be read as it is.
inline constexpr const char* save_as_table =
    "open it in a spreadsheet and save it as .xlsx, .ods or \"CSV UTF-8\"";

/// So many bytes tell a workbook from a text.
inline constexpr std::size_t bytes_that_tell = 4;

/// Whether a file that starts so is a workbook (a zip file), and no text. `source` names it, and
/// the sheet that is wanted of it, if any.
/// @throws InputError for the old .xls format, and for a text of which a sheet is wanted.
bool is_spreadsheet(std::string_view start, const Source& source);

/// A workbook of either kind, .xlsx or .ods: the one door to its sheets.
class Spreadsheet {
public:
  /// `source` names it in messages; `bytes` must outlive this.
  /// @throws InputError if it is damaged, too large, has a password, or is no such workbook.
  Spreadsheet(std::string_view bytes, const std::string& source);

  /// At least one, in their order.
  std::vector<std::string> sheet_names() const;

  /// The name of the sheet wanted, as the workbook writes it, or of the first if `wanted` is empty.
  /// @throws InputError, listing the sheets, if there is none of that name.
  std::string sheet_name(const std::string& wanted) const;

  /// Reads the sheet that `source` names, row by row, without the blank ones: numbers as they would
  /// be typed, dates as YYYY-MM-DD, of a formula its stored value (formats/workbook_rows,
  /// formats/ods_rows).
  /// @throws InputError if the sheet is damaged, or a cell too long or no UTF-8.
  void read_sheet(const Source& source, const std::function<void(TableRow&)>& take) const;

private:
  std::string source_;
  std::variant<Workbook, OdsWorkbook> workbook_;
};

} // namespace eggfall
