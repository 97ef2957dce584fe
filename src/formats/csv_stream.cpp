#include "formats/csv_stream.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

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

} // namespace

CsvStream::CsvStream(TableBuilder& rows) : rows_(rows) {
  if (csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) != 0)
    throw CalculationError("the CSV parser could not start");
}

CsvStream::~CsvStream() {
  csv_free(&parser_);
}

void CsvStream::feed(std::string_view piece, const TableBuilder::Take& take) {
  while (!piece.empty()) {
    const auto end = std::ranges::find_if(piece, ends_line);
    if (end == piece.end()) {
      open_line_ += piece;
      if (open_line_.size() > longest_open)
        rows_.refuse(lines_ + 1, fmt::format("a line of more than {} bytes", longest_open),
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

void CsvStream::finish(const TableBuilder::Take& take) {
  if (!open_line_.empty())
    read_line(std::exchange(open_line_, {}), take);
  if (!text_seen_)
    rows_.refuse_nothing();
  if (csv_fini(&parser_, on_cell, on_row, this) != 0)
    rows_.refuse(row_start_, "a double quote that is never closed", "a closing quote");
  rethrow_failure();
  if (row_ended_)
    end_row(take);
}

/// A line with its ending; CR LF comes as two.
void CsvStream::read_line(std::string_view line, const TableBuilder::Take& take) {
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
std::string_view CsvStream::checked_line(std::string_view line) {
  if (lines_ == 1) {
    if (line.starts_with("\xFF\xFE") || line.starts_with("\xFE\xFF"))
      rows_.refuse(1, "a text in UTF-16", "UTF-8; save the table as \"CSV UTF-8\"");
    if (line.starts_with("\xEF\xBB\xBF"))
      line.remove_prefix(3);
  }
  if (line.find('\0') != std::string_view::npos)
    rows_.refuse(lines_, "a NUL byte", "text");
  if (const auto at = first_invalid_utf8(line)) {
    const auto byte = static_cast<unsigned>(static_cast<unsigned char>(line[*at]));
    rows_.refuse(lines_, fmt::format("the byte 0x{:02X}, which is not UTF-8", byte),
                 "UTF-8; save the table as \"CSV UTF-8\"");
  }
  text_seen_ = text_seen_ || line.find_first_not_of(" \t\r\n,;\"") != std::string_view::npos;
  // Some spreadsheets name the delimiter in a first line of its own: "sep=;".
  if (lines_ == 1 && line.starts_with("sep="))
    return {};
  return line;
}

void CsvStream::start_parser(std::string_view header_line) {
  header_line.remove_prefix(std::min(header_line.find_first_not_of(" \t"), header_line.size()));
  csv_set_delim(&parser_, static_cast<unsigned char>(delimiter_of(header_line)));
  parsing_ = true;
}

void CsvStream::parse_line(std::string_view line, const TableBuilder::Take& take) {
  if (csv_parse(&parser_, line.data(), line.size(), on_cell, on_row, this) != line.size())
    rows_.refuse(lines_, "a double quote in the middle of a cell",
                 "quotes around the whole cell, and doubled inside it");
  rethrow_failure();
  row_size_ += line.size();
  if (row_ended_)
    end_row(take);
  else if (row_size_ > longest_open)
    rows_.refuse(row_start_,
                 fmt::format("a double quote that is not closed in {} bytes", longest_open),
                 "a closing quote");
}

void CsvStream::on_cell(void* cell, std::size_t size, void* self) {
  auto* const stream = static_cast<CsvStream*>(self);
  try {
    stream->add_cell({static_cast<const char*>(cell), size});
  } catch (...) { // must not cross libcsv's C frames
    if (!stream->failure_)
      stream->failure_ = std::current_exception();
  }
}

// The row is looked at later, for the same reason. A line holds the end of one row at most.
void CsvStream::on_row(int /*end_of_line*/, void* self) {
  static_cast<CsvStream*>(self)->row_ended_ = true;
}

void CsvStream::rethrow_failure() const {
  if (failure_)
    std::rethrow_exception(failure_);
}

void CsvStream::add_cell(std::string_view cell) {
  row_.line = row_start_;
  row_.cells.push_back(normalised(cell.substr(0, longest_cell + 1)));
  if (too_long_ == 0 && cell.size() > longest_cell)
    too_long_ = row_.cells.size();
}

void CsvStream::end_row(const TableBuilder::Take& take) {
  row_ended_ = false;
  row_start_ = 0;
  row_size_ = 0;
  if (too_long_ != 0)
    rows_.refuse(row_.line, fmt::format("a cell of more than {} bytes", longest_cell),
                 "a shorter one (is a quote left open?)", too_long_);
  rows_.add(row_, take);
}

} // namespace eggfall
