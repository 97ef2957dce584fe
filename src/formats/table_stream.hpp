#pragma once

#include "base/problems.hpp"
#include "eggfall/base/source.hpp"
#include "formats/csv_stream.hpp"
#include "formats/table.hpp"
#include "formats/table_builder.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// Reads a table that comes piece by piece (see read_table() for what a table is). Of a text no
/// more than one row is held; a workbook cannot be read before its end, and is held whole.
class TableStream {
public:
  /// `source` names the table in messages, and the sheet wanted of a workbook (empty: its first);
  /// `row_is` is what a row is. `problems` must outlive the stream.
  TableStream(Source source, std::string_view row_is, Problems& problems);
  ~TableStream() = default;
  TableStream(const TableStream&) = delete;
  TableStream& operator=(const TableStream&) = delete;

  /// Hands over each row that is complete after this piece, which may end anywhere. A row whose
  /// number of cells is not the header's is a problem, and not handed over.
  /// @throws InputError for anything that leaves no table to read on.
  void feed(std::string_view piece, const TableBuilder::Take& take);

  /// The same for what was left at the end of the table.
  /// @throws InputError also if there was no row or a quote is left open.
  void finish(const TableBuilder::Take& take);

  /// These are known once a row is handed over.
  const TableRow& header() const { return rows_.header(); }
  const Source& source() const { return source_; }

private:
  enum class Kind { unknown, text, workbook };

  void look_at_start(const TableBuilder::Take& take);
  void read_workbook(const TableBuilder::Take& take);

  Source source_;
  std::string wanted_sheet_;
  TableBuilder rows_;
  CsvStream text_;
  Kind kind_ = Kind::unknown;
  std::string held_; ///< The first bytes until the kind is known; the whole of a workbook.
};

} // namespace eggfall
