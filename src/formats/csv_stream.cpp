#include "formats/csv_stream.hpp"

#include "base/text.hpp"
#include "formats/table_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

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

CsvStream::CsvStream(TableBuilder& rows) : rows_(rows), parser_(CSV_STRICT | CSV_STRICT_FINI) {}

void CsvStream::feed(std::string_view piece, const TableBuilder::Take& take) {
  while (!piece.empty()) {
    const auto end = std::ranges::find_if(piece, ends_line);
    if (end == piece.end()) {
      open_line_ += piece;
      if (open_line_.size() > longest_row)
        rows_.refuse(lines_ + 1, fmt::format("a line of more than {} bytes", longest_row),
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
  if (!parser_.finish())
    rows_.refuse(parser_.row_start(), "a double quote that is never closed", "a closing quote");
  if (parser_.row_ended())
    end_row(take);
}

/// A line with its ending; CR LF comes as two.
void CsvStream::read_line(std::string_view line, const TableBuilder::Take& take) {
  const bool rest_of_ending = std::exchange(after_return_, line.back() == '\r') && line == "\n";
  if (!rest_of_ending) {
    ++lines_;
    line = checked_line(line);
  }
  if (!parser_.is_within_row() && line.find_first_not_of(" \t\r\n") == std::string_view::npos)
    return;
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
  if (const auto position = first_invalid_utf8(line)) {
    const auto byte = static_cast<unsigned>(static_cast<unsigned char>(line[*position]));
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
  parser_.separate_by(delimiter_of(header_line));
  parsing_ = true;
}

void CsvStream::parse_line(std::string_view line, const TableBuilder::Take& take) {
  if (!parser_.feed(line, lines_))
    rows_.refuse(lines_, "a double quote in the middle of a cell",
                 "quotes around the whole cell, and doubled inside it");
  if (parser_.row_ended())
    end_row(take);
  else if (parser_.row_size() > longest_row)
    rows_.refuse(parser_.row_start(),
                 fmt::format("a double quote that is not closed in {} bytes", longest_row),
                 "a closing quote");
}

void CsvStream::end_row(const TableBuilder::Take& take) {
  if (parser_.too_long() != 0)
    rows_.refuse(parser_.row().line, fmt::format("a cell of more than {} bytes", longest_cell),
                 "a shorter one (is a quote left open?)", parser_.too_long());
  parser_.next_row();
  rows_.add(parser_.row(), take);
}

} // namespace eggfall
