#pragma once

#include "formats/table.hpp"

#include <csv.h>

#include <cstddef>
#include <exception>
#include <string_view>

namespace eggfall {

/// libcsv, fed line by line: the row that a line ends, with the line on which it starts.
class CsvParser {
public:
  /// `options` are those of libcsv.
  explicit CsvParser(unsigned char options);
  ~CsvParser();
  CsvParser(const CsvParser&) = delete;
  CsvParser& operator=(const CsvParser&) = delete;
  CsvParser(CsvParser&&) = delete; // libcsv is told where it is
  CsvParser& operator=(CsvParser&&) = delete;

  /// Before the first line.
  void separate_by(char separator);

  /// Takes a line with its ending, the one of this number.
  /// @return false if libcsv refuses a quote in it
  bool feed(std::string_view line, std::size_t number);

  /// After the last line.
  /// @return false if a quote is left open
  bool finish();

  bool is_within_row() const { return row_start_ != 0; }
  std::size_t row_start() const { return row_start_; } ///< Its line; 0 between rows.
  std::size_t row_size() const { return row_size_; }   ///< Bytes of it so far.
  bool row_ended() const { return row_ended_; }        ///< With the last line.

  /// The row that has ended, its cells normalised().
  TableRow& row() { return row_; }

  /// Column of its first cell that is longer than longest_cell (and cut there); 0: none is.
  std::size_t too_long() const { return too_long_; }

  /// Ready for the next row; does not empty row().
  void next_row();

private:
  void add_cell(std::string_view cell);
  void rethrow_failure() const;

  static void on_cell(void* cell, std::size_t size, void* self);
  static void on_row(int end_of_line, void* self);

  csv_parser parser_{};
  TableRow row_;
  std::size_t row_start_ = 0;
  std::size_t row_size_ = 0;
  std::size_t too_long_ = 0;
  bool row_ended_ = false;
  std::exception_ptr failure_; ///< Of a callback.
};

} // namespace eggfall
