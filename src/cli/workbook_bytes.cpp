#include "cli/workbook_bytes.hpp"

#include "cli/descriptor.hpp"
#include "cli/files.hpp"
#include "cli/refuse_file.hpp"
#include "cli/scratch.hpp"
#include "cli/workbook_check.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/workbook_text.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <limits>
#include <system_error>

namespace eggfall::cli {
namespace {

[[noreturn]] void cannot(const std::string& reason) {
  throw CalculationError("the workbook could not be made: " + reason);
}

void check(lxw_error error) {
  if (error != LXW_NO_ERROR)
    cannot(lxw_strerror(error));
}

[[noreturn]] void did_not_fit(const std::filesystem::path& folder, const std::string& reason) {
  refuse_file(folder.empty() ? std::string("TMPDIR") : folder.string(),
              fmt::format("no way to make the workbook in this folder ({})", reason),
              "room for it, or another folder in the environment variable TMPDIR");
}

/// A folder for the library, which writes files alone.
Scratch scratch_folder() {
  return Scratch([] {
    std::error_code error;
    const std::filesystem::path place = std::filesystem::temp_directory_path(error);
    if (error)
      did_not_fit(place, error.message());
    std::string pattern = (place / scratch_prefix).string() + "XXXXXX";
    if (mkdtemp(pattern.data()) == nullptr)
      did_not_fit(place, std::strerror(errno));
    return std::filesystem::path(pattern);
  });
}

/// While one lives, nothing comes onto standard error: the library tells there what it returns.
class Silence {
public:
  Silence() { dup2(nowhere_.number(), STDERR_FILENO); }
  ~Silence() { dup2(errors_.number(), STDERR_FILENO); }
  Silence(const Silence&) = delete;
  Silence& operator=(const Silence&) = delete;

private:
  Descriptor errors_{dup(STDERR_FILENO)};
  Descriptor nowhere_{open("/dev/null", O_WRONLY | O_CLOEXEC)};
};

lxw_error close_silently(lxw_workbook* workbook) {
  const Silence silence;
  return workbook_close(workbook);
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
    check(worksheet_write_string(sheet, row, column, sheet_text(text).c_str(), nullptr));
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
    throw InputError(fmt::format("--xlsx: found {} rows of {}; expected at most {}, the most that "
                                 "a sheet holds (--json and --csv have no such limit)",
                                 sheet.rows.size(), sheet.name, LXW_ROW_MAX - 1));
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

std::string workbook_bytes(const std::vector<ResultSheet>& sheets) {
  const Scratch folder = scratch_folder();
  std::string folder_name = folder.path();
  const std::string file = folder.path() / "results.xlsx";
  lxw_workbook_options options{};
  options.tmpdir = folder_name.data();
  lxw_workbook* const workbook = workbook_new_opt(file.c_str(), &options);
  if (workbook == nullptr)
    cannot("no memory");
  std::vector<std::size_t> cells;
  try {
    // The same results give the same bytes: no date of today.
    lxw_doc_properties properties{};
    constexpr std::time_t start_of_2000 = 946'684'800;
    properties.created = start_of_2000;
    check(workbook_set_properties(workbook, &properties));
    lxw_format* const bold = workbook_add_format(workbook);
    format_set_bold(bold);
    for (const ResultSheet& sheet : sheets)
      cells.push_back(write_sheet(workbook, sheet, bold));
  } catch (...) {
    lxw_workbook_free(workbook);
    throw;
  }
  if (const lxw_error error = close_silently(workbook); error != LXW_NO_ERROR) // and frees it
    did_not_fit(folder.path().parent_path(), lxw_strerror(error));
  constexpr std::size_t any = std::numeric_limits<std::size_t>::max();
  std::string bytes = read_file(file, any);
  if (!is_whole(bytes, cells))
    did_not_fit(folder.path().parent_path(), "a part of it is cut short");
  return bytes;
}

} // namespace eggfall::cli
