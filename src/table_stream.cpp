#include "table_stream.hpp"

#include "eggfall/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t longest_cell = 1'000;
constexpr std::size_t most_columns = 1'000;
/// Of a row or line that has not ended; so much is kept in memory.
constexpr std::size_t longest_open = most_columns * (longest_cell + 48);

bool ends_line(char c) {
  return c == '\n' || c == '\r';
}

char delimiter_of(std::string_view header_line) {
  char best = ',';
  for (const char candidate : {';', '\t'})
    if (std::ranges::count(header_line, candidate) > std::ranges::count(header_line, best))
      best = candidate;
  return best;
}

/// "one line an animal"
std::string one_line_each(const std::string& row_is) {
  const bool vowel = std::string_view("aeiou").find(row_is.front()) != std::string_view::npos;
  return fmt::format("one line {} {}", vowel ? "an" : "a", row_is);
}

} // namespace

TableStream::TableStream(std::string source, std::string_view row_is, Problems& problems)
    : source_(std::move(source)), row_is_(row_is), problems_(problems) {
  if (csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) != 0)
    throw CalculationError("the CSV parser could not start");
}

TableStream::~TableStream() {
  csv_free(&parser_);
}

void TableStream::refuse(std::size_t line, std::string found, std::string expected) {
  problems_.give_up({source_, line, 0, {}, std::move(found), std::move(expected)});
}

void TableStream::feed(std::string_view piece, const TakeRow& take) {
  while (!piece.empty()) {
    const auto end = std::ranges::find_if(piece, ends_line);
    if (end == piece.end()) {
      open_line_ += piece;
      if (open_line_.size() > longest_open)
        refuse(lines_ + 1, fmt::format("a line of more than {} bytes", longest_open),
               "lines of a table");
      return;
    }
    const auto size = static_cast<std::size_t>(end - piece.begin()) + 1;
    if (open_line_.empty()) {
      read_line(piece.substr(0, size), take);
    } else {
      open_line_ += piece.substr(0, size);
      read_line(open_line_, take);
      open_line_.clear();
    }
    piece.remove_prefix(size);
  }
}

void TableStream::finish(const TakeRow& take) {
  if (!open_line_.empty())
    read_line(std::exchange(open_line_, {}), take);
  if (!text_seen_)
    refuse(0, "nothing", "a header line and " + one_line_each(row_is_));
  if (csv_fini(&parser_, on_cell, on_row, this) != 0)
    refuse(row_start_, "a double quote that is never closed", "a closing quote");
  rethrow_failure();
  if (row_ended_)
    end_row(take);
  if (!header_checked_)
    refuse(0, "only a header line", one_line_each(row_is_) + " below it");
}

/// A line with its ending; CR LF comes as two.
void TableStream::read_line(std::string_view line, const TakeRow& take) {
  const bool rest_of_ending = std::exchange(after_return_, line.back() == '\r') && line == "\n";
  if (!rest_of_ending) {
    ++lines_;
    line = checked_line(line);
  }
  const bool mid_row = row_start_ != 0;
  if (!mid_row && line.find_first_not_of(" \t\r\n") == std::string_view::npos)
    return;
  if (!mid_row)
    row_start_ = lines_;
  if (!parsing_)
    start_parser(line);
  parse_line(line, take);
}

/// What is left of it to be parsed.
std::string_view TableStream::checked_line(std::string_view line) {
  if (lines_ == 1) {
    if (line.starts_with("\xFF\xFE") || line.starts_with("\xFE\xFF"))
      refuse(1, "a text in UTF-16", "UTF-8; save the table as \"CSV UTF-8\"");
    if (line.starts_with("PK\x03\x04") || line.starts_with("\xD0\xCF\x11\xE0"))
      refuse(0, "a spreadsheet workbook", "a text table; save the sheet as \"CSV UTF-8\"");
    if (line.starts_with("\xEF\xBB\xBF"))
      line.remove_prefix(3);
  }
  if (line.find('\0') != std::string_view::npos)
    refuse(lines_, "a NUL byte", "text");
  if (const auto at = first_invalid_utf8(line)) {
    const auto byte = static_cast<unsigned>(static_cast<unsigned char>(line[*at]));
    refuse(lines_, fmt::format("the byte 0x{:02X}, which is not UTF-8", byte),
           "UTF-8; save the table as \"CSV UTF-8\"");
  }
  text_seen_ = text_seen_ || line.find_first_not_of(" \t\r\n,;\"") != std::string_view::npos;
  // Some spreadsheets name the delimiter in a first line of its own: "sep=;".
  if (lines_ == 1 && line.starts_with("sep="))
    return {};
  return line;
}

void TableStream::start_parser(std::string_view header_line) {
  header_line.remove_prefix(std::min(header_line.find_first_not_of(" \t"), header_line.size()));
  delimiter_ = delimiter_of(header_line);
  csv_set_delim(&parser_, static_cast<unsigned char>(delimiter_));
  parsing_ = true;
}

void TableStream::parse_line(std::string_view line, const TakeRow& take) {
  if (csv_parse(&parser_, line.data(), line.size(), on_cell, on_row, this) != line.size())
    refuse(lines_, "a double quote in the middle of a cell",
           "quotes around the whole cell, and doubled inside it");
  rethrow_failure();
  row_size_ += line.size();
  if (row_ended_)
    end_row(take);
  else if (row_size_ > longest_open)
    refuse(row_start_, fmt::format("a double quote that is not closed in {} bytes", longest_open),
           "a closing quote");
}

void TableStream::on_cell(void* cell, std::size_t size, void* self) {
  auto* const stream = static_cast<TableStream*>(self);
  try {
    stream->add_cell({static_cast<const char*>(cell), size});
  } catch (...) { // must not cross libcsv's C frames
    if (!stream->failure_)
      stream->failure_ = std::current_exception();
  }
}

// The row is looked at later, for the same reason. A line holds the end of one row at most.
void TableStream::on_row(int, void* self) {
  static_cast<TableStream*>(self)->row_ended_ = true;
}

void TableStream::rethrow_failure() const {
  if (failure_)
    std::rethrow_exception(failure_);
}

void TableStream::add_cell(std::string_view cell) {
  row_.line = row_start_;
  cell_too_long_ = cell_too_long_ || cell.size() > longest_cell;
  row_.cells.push_back(without_controls(trimmed(cell.substr(0, longest_cell + 1))));
}

void TableStream::end_row(const TakeRow& take) {
  row_ended_ = false;
  row_start_ = 0;
  row_size_ = 0;
  if (cell_too_long_)
    refuse(row_.line, fmt::format("a cell of more than {} bytes", longest_cell),
           "a shorter one (is a quote left open?)");
  if (std::ranges::all_of(row_.cells, &std::string::empty)) {
    row_.cells.clear();
    return;
  }
  if (header_.cells.empty()) {
    header_ = std::exchange(row_, TableRow{});
    return;
  }
  if (!header_checked_)
    check_header();
  if (has_width_of_header(row_))
    take(std::move(row_));
  row_.cells.clear(); // keeps its memory unless the row was taken away
}

void TableStream::check_header() {
  header_checked_ = true;
  if (header_.cells.size() > most_columns)
    refuse(header_.line, fmt::format("{} columns", header_.cells.size()),
           fmt::format("at most {}", most_columns));
  while (header_.cells.back().empty())
    header_.cells.pop_back();
  if (header_.cells.size() == 1)
    refuse(header_.line, "a header with one column, " + in_quotes(header_.cells[0]),
           "the names of the columns, separated by commas, semicolons or tabs, in the first line");
}

bool TableStream::has_width_of_header(TableRow& row) {
  const std::size_t columns = header_.cells.size();
  while (row.cells.size() > columns && row.cells.back().empty())
    row.cells.pop_back();
  if (row.cells.size() == columns)
    return true;
  std::string expected = fmt::format("{}, as in the header", columns);
  if (row.cells.size() > columns)
    expected += " (a decimal comma needs semicolons between cells, or quotes)";
  problems_.add(
      {source_, row.line, 0, {}, fmt::format("{} cells", row.cells.size()), std::move(expected)});
  return false;
}

} // namespace eggfall
