#pragma once

#include "intake/layout.hpp"
#include "intake/sheet_reading.hpp"

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace eggfall {

/// Finds rows below the animals that sum them up without a word that says so.
class UnlabelledSums {
public:
  /// Both must outlive this; the reading grows as rows are found to be samples.
  UnlabelledSums(const SheetReading& reading, const Layout& layout)
      : reading_(reading), layout_(layout) {}

  /// Whether the numbers of a row without an animal are the sums, or the means, of those above it:
  /// of all of them, of those below the sums before, or of those of its group. Rows of a table that
  /// names no animals could be animals: there, four counts must make up a sum.
  bool has(const SampleRow& row);

  /// Whether they are the means of all rows above, in a table of animals without names.
  bool are_means_of_all(const SampleRow& row) const;

  /// Sums stand here: the next are of the rows below.
  void end_block() { sums_before_ = reading_.rows.size(); }

private:
  using Rows = std::vector<const SampleRow*>;

  Rows all_rows() const;
  std::string_view group_of(const SampleRow& row) const;
  bool could_be_a_sum(const SampleRow& row) const;
  bool is_ignored(const ColumnReading& column) const;
  std::optional<double> number_of(const SampleRow& row, const ColumnReading& column) const;
  bool are_sums(const SampleRow& row, const Rows& rows) const;
  bool are_means(const SampleRow& row, const Rows& rows) const;
  template <typename Fits>
  bool each_number_is(const SampleRow& row, const Rows& rows, const Fits& fits) const;

  const SheetReading& reading_;
  const Layout& layout_;
  std::size_t sums_before_ = 0; ///< Rows above the last sums.
  std::size_t looked_at_ = 0;   ///< Rows that could have been sums.
};

} // namespace eggfall
