#pragma once

#include "formats/table.hpp"
#include "formats/table_builder.hpp"

#include <csv.h>

#include <cstddef>
#include <exception>
#include <string>
#include <string_view>

namespace eggfall {

/// Reads the rows of a CSV text that comes piece by piece, holding no more than one of them.
class CsvStream {
public:
  /// `rows` makes a table of them, and must outlive the stream.
  explicit CsvStream(TableBuilder& rows);
  ~CsvStream();
  CsvStream(const CsvStream&) = delete;
  CsvStream& operator=(const CsvStream&) = delete;
  CsvStream(CsvStream&&) = delete; // the parser knows where it is
  CsvStream& operator=(CsvStream&&) = delete;

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
  void add_cell(std::string_view cell);
  void rethrow_failure() const;
  void end_row(const TableBuilder::Take& take);

  static void on_cell(void* cell, std::size_t size, void* self);
  static void on_row(int end_of_line, void* self);

  TableBuilder& rows_;
  csv_parser parser_{};
  bool parsing_ = false; ///< The delimiter is known.
  TableRow row_;
  std::string open_line_;     ///< Of the pieces so far, what has no line end yet.
  std::size_t lines_ = 0;     ///< Read so far.
  std::size_t row_start_ = 0; ///< Line on which the open row began; 0 between rows.
  std::size_t row_size_ = 0;  ///< Bytes of the open row.
  bool after_return_ = false; ///< The last line ended in CR: a LF still belongs to it.
  bool text_seen_ = false;    ///< More than separators and blanks.
  std::size_t too_long_ = 0;  ///< Column of the row's first cell that is too long; 0: none is.
  bool row_ended_ = false;
  std::exception_ptr failure_; ///< Of a callback.
};

} // namespace eggfall
