#pragma once

#include "intake/layout.hpp"
#include "intake/sheet_reading.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Whether a name has a word such as total or mean in it beside others: "Total for white drench",
/// "Mob total of 12". "Summer" has none.
bool names_a_sum(std::string_view name);

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

  /// What a row with a name in its animal's cell is.
  enum class Named {
    animal,
    sum,
    unclear, ///< Called as a sum is, of numbers that are no sum and no mean of those above.
  };

  /// A sum or a mean by its name (names_a_sum()) and its numbers; or, under a name without a digit
  /// below tags that all have one, by its numbers alone, where they are the sums or the means of
  /// four counts or more.
  Named of_named(const SampleRow& row, std::string_view name);

  /// Whether its numbers are the sums or the means of the rows above, all or those of a block or a
  /// group, of a row that a word calls so; and whether they would be without a word, which takes
  /// four counts or more.
  bool agrees(const SampleRow& row);
  bool agrees_without_a_word(const SampleRow& row);

  /// Whether they are the means of all rows above, in a table of animals without names.
  bool are_means_of_all(const SampleRow& row) const;

  /// Sums stand here: the next are of the rows below.
  void end_block() {
    sums_before_ = reading_.rows.size();
    add_rows_above();
    of_block_.clear();
  }

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

  /// What stands above in one column of counts.
  struct Above {
    double sum = 0;
    std::size_t numbers = 0;
    std::size_t not_zero = 0;
  };
  using AboveByColumn = std::map<std::size_t, Above>;

  void add_rows_above();
  bool are_of_rows_above(const SampleRow& row, bool by_name) const;
  std::string group_name_of(const SampleRow& row) const;
  bool is_sum_of(const SampleRow& row, const AboveByColumn& above, bool by_name) const;
  bool is_mean_of(const SampleRow& row, const AboveByColumn& above, bool by_name) const;

  const SheetReading& reading_;
  const Layout& layout_;
  std::vector<const ColumnReading*> counts_; ///< reading_.counts(), once asked for.
  std::size_t rows_added_ = 0;               ///< To what stands above.
  std::size_t tags_with_digits_ = 0;         ///< Of these rows.
  std::size_t tags_with_short_words_ = 0;    ///< "SD 101", of these rows.
  AboveByColumn of_all_;
  AboveByColumn of_block_;                        ///< Below the last sums.
  std::map<std::string, AboveByColumn> of_group_; ///< By its name.
  std::string last_group_;
  std::size_t sums_before_ = 0; ///< Rows above the last sums.
  std::size_t looked_at_ = 0;   ///< Rows that could have been sums.
};

} // namespace eggfall
