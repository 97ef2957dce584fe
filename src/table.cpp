#include "eggfall/table.hpp"

#include "eggfall/error.hpp"
#include "eggfall/text.hpp"

#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t largest_text = 64U << 20U;
constexpr std::size_t most_rows = 1'000'000;
constexpr std::size_t longest_cell = 1'000;
constexpr std::size_t most_columns = 1'000;
constexpr std::size_t most_problems = 20;

[[noreturn]] void refuse(const std::string& source, std::size_t line, std::string found,
                         std::string expected) {
  throw InputError({Problem{source, line, 0, {}, std::move(found), std::move(expected)}});
}

std::size_t line_of(std::string_view text, std::size_t offset) {
  return 1 + static_cast<std::size_t>(std::ranges::count(text.substr(0, offset), '\n'));
}

std::string_view checked_text(std::string_view text, const std::string& source) {
  if (text.size() > largest_text)
    refuse(source, 0, fmt::format("{} bytes", text.size()),
           fmt::format("a table of at most {} bytes", largest_text));
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
    refuse(source, 1, "a text in UTF-16", "UTF-8; save the table as \"CSV UTF-8\"");
  if (text.starts_with("PK\x03\x04") || text.starts_with("\xD0\xCF\x11\xE0"))
    refuse(source, 0, "a spreadsheet workbook", "a text table; save the sheet as \"CSV UTF-8\"");
  if (text.starts_with("\xEF\xBB\xBF"))
    text.remove_prefix(3);
  if (const auto at = text.find('\0'); at != std::string_view::npos)
    refuse(source, line_of(text, at), "a NUL byte", "text");
  if (const auto at = first_invalid_utf8(text)) {
    const auto byte = static_cast<unsigned>(static_cast<unsigned char>(text[*at]));
    refuse(source, line_of(text, *at), fmt::format("the byte 0x{:02X}, which is not UTF-8", byte),
           "UTF-8; save the table as \"CSV UTF-8\"");
  }
  if (text.find_first_not_of(" \t\r\n,;\"") == std::string_view::npos)
    refuse(source, 0, "nothing", "a header line and one line an animal");
  return text;
}

char delimiter_of(std::string_view header_line) {
  char best = ',';
  for (const char candidate : {';', '\t'})
    if (std::ranges::count(header_line, candidate) > std::ranges::count(header_line, best))
      best = candidate;
  return best;
}

/// Feeds libcsv line by line, so that each cell's line is known.
class TableReader {
public:
  TableReader(char delimiter, const std::string& source, std::size_t lines_before)
      : source_(source), line_(lines_before) {
    if (csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) != 0)
      throw CalculationError("the CSV parser could not start");
    csv_set_delim(&parser_, static_cast<unsigned char>(delimiter));
    table_.delimiter = delimiter;
  }
  TableReader(const TableReader&) = delete;
  TableReader& operator=(const TableReader&) = delete;
  ~TableReader() { csv_free(&parser_); }

  void feed(std::string_view line_with_ending) {
    ++line_;
    const bool mid_row = row_start_ != 0;
    if (!mid_row && line_with_ending.find_first_not_of(" \t\r\n") == std::string_view::npos)
      return;
    if (!mid_row)
      row_start_ = line_;
    row_ended_ = false;
    if (csv_parse(&parser_, line_with_ending.data(), line_with_ending.size(), on_cell, on_row,
                  this) != line_with_ending.size())
      refuse(source_, line_, "a double quote in the middle of a cell",
             "quotes around the whole cell, and doubled inside it");
    if (row_ended_)
      row_start_ = 0;
  }

  Table finish() {
    if (csv_fini(&parser_, on_cell, on_row, this) != 0)
      refuse(source_, row_start_, "a double quote that is never closed", "a closing quote");
    return std::move(table_);
  }

  std::size_t oversize_line() const { return oversize_line_; }

private:
  static void on_cell(void* cell, std::size_t size, void* self) {
    static_cast<TableReader*>(self)->add_cell({static_cast<const char*>(cell), size});
  }
  static void on_row(int, void* self) { static_cast<TableReader*>(self)->end_row(); }

  void add_cell(std::string_view cell) {
    row_.line = row_start_;
    if (cell.size() > longest_cell && oversize_line_ == 0)
      oversize_line_ = row_.line;
    row_.cells.push_back(without_controls(trimmed(cell.substr(0, longest_cell + 1))));
  }

  void end_row() {
    row_ended_ = true;
    const TableRow row = std::exchange(row_, TableRow{});
    if (std::ranges::all_of(row.cells, &std::string::empty))
      return;
    // Exceptions must not cross libcsv's C frames: too many rows is told later.
    if (table_.header.cells.empty())
      table_.header = row;
    else if (table_.rows.size() <= most_rows)
      table_.rows.push_back(row);
  }

  const std::string& source_;
  csv_parser parser_{};
  Table table_;
  TableRow row_;
  std::size_t line_ = 0;
  std::size_t row_start_ = 0; ///< Line on which the open row began; 0 between rows.
  std::size_t oversize_line_ = 0;
  bool row_ended_ = true;
};

void check_shape(Table& table, const std::string& source) {
  if (table.header.cells.size() > most_columns)
    refuse(source, table.header.line, fmt::format("{} columns", table.header.cells.size()),
           fmt::format("at most {}", most_columns));
  if (table.rows.size() > most_rows)
    refuse(source, 0, fmt::format("more than {} rows", most_rows), "fewer");
  if (table.rows.empty())
    refuse(source, 0, "only a header line", "one line an animal below it");
  while (!table.header.cells.empty() && table.header.cells.back().empty())
    table.header.cells.pop_back();
  if (table.header.cells.size() == 1)
    refuse(source, table.header.line,
           "a header with one column, " + in_quotes(table.header.cells[0]),
           "the names of the columns, separated by commas, semicolons or tabs, in the first line");

  std::vector<Problem> problems;
  const std::size_t columns = table.header.cells.size();
  for (TableRow& row : table.rows) {
    while (row.cells.size() > columns && row.cells.back().empty())
      row.cells.pop_back();
    if (row.cells.size() > columns && problems.size() < most_problems)
      problems.push_back({source,
                          row.line,
                          0,
                          {},
                          fmt::format("{} cells", row.cells.size()),
                          fmt::format("{}, as in the header (a decimal comma needs semicolons "
                                      "between cells, or quotes)",
                                      columns)});
    else if (row.cells.size() < columns && problems.size() < most_problems)
      problems.push_back({source,
                          row.line,
                          0,
                          {},
                          fmt::format("{} cells", row.cells.size()),
                          fmt::format("{}, as in the header", columns)});
  }
  if (!problems.empty())
    throw InputError(std::move(problems));
}

} // namespace

Table read_table(std::string_view text, const std::string& source) {
  text = checked_text(text, source);
  std::string normalised;
  // Old Macintosh line endings: a lone CR would otherwise make the file one line.
  if (text.find('\n') == std::string_view::npos && text.find('\r') != std::string_view::npos) {
    normalised = text;
    std::ranges::replace(normalised, '\r', '\n');
    text = normalised;
  }
  // Some spreadsheets name the delimiter in a first line of its own: "sep=;".
  std::size_t lines_before = 0;
  if (text.starts_with("sep=")) {
    text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    lines_before = 1;
  }
  const auto header_start = std::min(text.find_first_not_of("\r\n \t"), text.size());
  const char delimiter =
      delimiter_of(text.substr(header_start, text.find('\n', header_start) - header_start));

  TableReader reader(delimiter, source, lines_before);
  while (!text.empty()) {
    const auto newline = text.find('\n');
    const std::size_t size = newline == std::string_view::npos ? text.size() : newline + 1;
    reader.feed(text.substr(0, size));
    text.remove_prefix(size);
  }
  Table table = reader.finish();
  if (reader.oversize_line() != 0)
    refuse(source, reader.oversize_line(),
           fmt::format("a cell of more than {} bytes", longest_cell),
           "a shorter one (is a quote left open?)");
  check_shape(table, source);
  return table;
}

} // namespace eggfall
