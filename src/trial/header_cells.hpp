#pragma once

#include "base/problems.hpp"
#include "formats/table.hpp"
#include "trial/possible_values.hpp"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Eggs per gram, 0 or more. Nothing for "1.250", which may be a thousand and more, as "1,250" may.
std::optional<double> parse_epg(std::string_view cell);

/// A header as columns are compared: "Eggs before", "Eggs_Before:" and "EGGS-BEFORE" are
/// eggs_before. What comes after a colon is no name of ours, and keeps its blanks; a colon at the
/// end is a mark of whoever wrote the header.
std::string header_key(std::string_view text);

/// A column by the name that messages give it, and where it stands; nowhere if the table lacks it.
struct Column {
  std::string name;
  std::optional<std::size_t> index;

  explicit operator bool() const { return index.has_value(); }
};

/// A column whose name starts with something known, such as eggs_before_2, and the rest of the
/// name.
struct NamesakeColumn {
  Column column;
  std::string rest;
};

class RowCells;

/// The cells of a header line, claimed one by one by who knows their meaning.
class HeaderCells {
public:
  /// All three must outlive this.
  HeaderCells(const TableRow& row, const Source& source, Problems& problems);

  /// Claims the column of this name, if there is one: "eggs before", "Eggs_Before" and
  /// "EGGS-BEFORE" are eggs_before. A second one is a problem.
  Column column(std::string_view name);

  /// Claims every column whose name starts with `start` and goes on with what `fits`. Of a name
  /// with a colon, "Eggs before: Nematodirus" is eggs_before:nematodirus.
  std::vector<NamesakeColumn> columns_starting(std::string_view start,
                                               const std::function<bool(std::string_view)>& fits);

  /// Columns whose names start so and that nobody has claimed yet, without claiming them.
  std::vector<NamesakeColumn> unclaimed_starting(std::string_view start);

  /// As column(), and its absence is a problem. `or_else` names what may stand in its place.
  Column needed(std::string_view name, std::string_view or_else = {});
  void missing(std::string_view name, std::string_view or_else = {});

  /// For a column whose absence nobody would notice, but that turns a result round: a problem if it
  /// is not there and one that nobody asked for has almost its name.
  void refuse_misspelt(const Column& column);

  /// The same of one that nobody asked for and that has this word in its name: "Days after
  /// treatment" where `days_after` is not there.
  void refuse_word(const Column& column, std::string_view word);

  void problem(const Column& column, std::string found, std::string expected);

  /// "column 3", or "column C" of a sheet, of a column that there is.
  std::string place(const Column& column) const { return source_.column(*column.index + 1); }

  /// The cells of a row below, of which those that are unreadable in claimed columns are problems.
  RowCells cells_of(const TableRow& row) const;

  /// "t.csv: not used: column ...", if any was not claimed; one much like a column that was asked
  /// for in vain says so.
  std::optional<std::string> note() const;

private:
  std::string meant_by(std::string_view key) const;
  std::string without_header(std::size_t column) const;

  const TableRow& row_;
  const Source& source_;
  Problems& problems_;
  std::vector<std::string> keys_;
  std::vector<bool> claimed_;
  std::vector<Column> asked_for_;
  std::vector<std::string> starts_asked_for_;
};

/// One row's cells by column; the first problem of a cell is recorded, and its value is then
/// missing.
class RowCells {
public:
  /// All three must outlive this.
  RowCells(const TableRow& row, const Source& source, Problems& problems)
      : row_(row), source_(source), problems_(problems) {}

  std::size_t line() const { return row_.line; }

  /// "line 3", or "row 3" of a sheet.
  std::string name_of_line(std::size_t line) const { return source_.line(line); }

  /// Empty if there is no such column.
  std::string_view text(const Column& column) const {
    return column ? std::string_view(row_.cells[*column.index]) : std::string_view();
  }

  /// Not told of an unreadable cell, of which that is told already.
  void problem(const Column& column, std::string found, Wording expected) const;

  /// For what is wrong in every row alike: `what` is told once only.
  void problem_once(const std::string& what, const Column& column, std::string found,
                    Wording expected) const;

  /// An empty cell is a problem.
  std::string needed(const Column& column) const;

  /// Nothing for an empty cell.
  std::optional<double> number(const Column& column, const ValueRange& possible,
                               std::string_view what) const;

  /// A whole number in digits; nothing for an empty cell.
  std::optional<std::uint32_t> whole_number(const Column& column, std::uint32_t smallest,
                                            std::uint32_t largest, std::string_view what) const;

  /// A date as parse_date() reads it.
  std::optional<std::chrono::year_month_day> date(const Column& column) const;

private:
  bool is_unreadable(const Column& column) const;
  Problem told(const Column& column, std::string found, Wording expected) const;

  const TableRow& row_;
  const Source& source_;
  Problems& problems_;
};

} // namespace eggfall
