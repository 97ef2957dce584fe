#pragma once

#include "eggfall/table.hpp"
#include "problems.hpp"

#include <csv.h>

#include <cstddef>
#include <exception>
#include <functional>
#include <string>
#include <string_view>

namespace eggfall {

/// Reads a table that comes piece by piece (see read_table() for what a table is), holding no more
/// than one row of it.
class TableStream {
public:
  using TakeRow = std::function<void(TableRow&&)>;

  /// `source` names the text in messages, `row_is` what a row is. `problems` must outlive the
  /// stream.
  TableStream(std::string source, std::string_view row_is, Problems& problems);
  ~TableStream();
  TableStream(const TableStream&) = delete;
  TableStream& operator=(const TableStream&) = delete;

  /// Hands over each row that is complete after this piece, which may end anywhere. A row whose
  /// number of cells is not the header's is a problem, and not handed over.
  /// @throws InputError for anything that leaves no table to read on.
  void feed(std::string_view piece, const TakeRow& take);

  /// The same for what was left at the end of the text.
  /// @throws InputError also if there was no row or a quote is left open.
  void finish(const TakeRow& take);

  /// Known once a row is handed over.
  const TableRow& header() const { return header_; }
  char delimiter() const { return delimiter_; }

private:
  void read_line(std::string_view line, const TakeRow& take);
  std::string_view checked_line(std::string_view line);
  void parse_line(std::string_view line, const TakeRow& take);
  void start_parser(std::string_view header_line);
  void add_cell(std::string_view cell);
  void rethrow_failure() const;
  void end_row(const TakeRow& take);
  void check_header();
  bool has_width_of_header(TableRow& row);
  [[noreturn]] void refuse(std::size_t line, std::string found, std::string expected);

  static void on_cell(void* cell, std::size_t size, void* self);
  static void on_row(int, void* self);

  std::string source_;
  std::string row_is_;
  Problems& problems_;
  csv_parser parser_{};
  bool parsing_ = false; ///< The delimiter is known.
  char delimiter_ = ',';
  TableRow header_;
  bool header_checked_ = false;
  TableRow row_;
  std::string open_line_;     ///< Of the pieces so far, what has no line end yet.
  std::size_t lines_ = 0;     ///< Read so far.
  std::size_t row_start_ = 0; ///< Line on which the open row began; 0 between rows.
  std::size_t row_size_ = 0;  ///< Bytes of the open row.
  bool after_return_ = false; ///< The last line ended in CR: a LF still belongs to it.
  bool text_seen_ = false;    ///< More than separators and blanks.
  bool cell_too_long_ = false;
  bool row_ended_ = false;
  std::exception_ptr failure_; ///< Of a callback.
};

} // namespace eggfall
