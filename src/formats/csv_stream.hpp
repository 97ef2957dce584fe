#pragma once

#include "formats/csv_parser.hpp"
#include "formats/table_builder.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace eggfall {

/// Reads the rows of a CSV text that comes piece by piece, holding no more than one of them.
class CsvStream {
public:
  /// `rows` makes a table of them, and must outlive the stream.
  explicit CsvStream(TableBuilder& rows);
  ~CsvStream() = default;
  CsvStream(const CsvStream&) = delete;
  CsvStream& operator=(const CsvStream&) = delete;

  /// Adds each row that is complete after this piece, which may end anywhere.
  /// @throws InputError for anything that leaves no table to read on.
  void feed(std::string_view piece, const TableBuilder::Take& take);

  /// The same for what was left at the end of the text.
  /// @throws InputError also if there was nothing or a quote is left open.
  void finish(const TableBuilder::Take& take);

private:
  void read_line(std::string_view line, const TableBuilder::Take& take);
  std::string_view checked_line(std::string_view line);
  void parse_line(std::string_view line, const TableBuilder::Take& take);
  void start_parser(std::string_view header_line);
  void end_row(const TableBuilder::Take& take);

  TableBuilder& rows_;
  CsvParser parser_;
  bool parsing_ = false;      ///< The delimiter is known.
  std::string open_line_;     ///< Of the pieces so far, what has no line end yet.
  std::size_t lines_ = 0;     ///< Read so far.
  bool after_return_ = false; ///< The last line ended in CR: a LF still belongs to it.
  bool text_seen_ = false;    ///< More than separators and blanks.
};

} // namespace eggfall
