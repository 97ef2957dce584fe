#pragma once

#include "base/problems.hpp"
#include "eggfall/base/source.hpp"
#include "formats/table.hpp"
#include "formats/table_limits.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace eggfall {

/// Makes a table of rows as they come, from a text or a sheet: the first that is not blank is the
/// header, and the others are as wide as it.
class TableBuilder {
public:
  using Take = std::function<void(TableRow&&)>;

  /// `row_is` is what a row is. `source` and `problems` must outlive this; the source may learn its
  /// sheet later.
  TableBuilder(const Source& source, std::string_view row_is, Problems& problems)
      : source_(source), row_is_(row_is), problems_(problems) {}

  /// Hands over the row, unless it is blank, the header, or not of the header's width; the last is
  /// a problem. Leaves `row` empty.
  /// @throws InputError if the header is none.
  void add(TableRow& row, const Take& take);

  /// @throws InputError if there was no row below the header.
  void finish();

  /// @param column 0: the whole line.
  [[noreturn]] void refuse(std::size_t line, std::string found, std::string expected,
                           std::size_t column = 0) const;

  /// For a table with nothing in it.
  [[noreturn]] void refuse_nothing() const;

  /// Known once a row is handed over.
  const TableRow& header() const { return header_; }

private:
  void check_header();
  bool has_width_of_header(TableRow& row);
  void tell_cells_beyond(const TableRow& row);
  std::string one_each() const;

  const Source& source_;
  std::string row_is_;
  Problems& problems_;
  TableRow header_;
  bool header_checked_ = false;
};

} // namespace eggfall
