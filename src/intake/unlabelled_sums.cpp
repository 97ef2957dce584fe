#include "intake/unlabelled_sums.hpp"

#include "intake/count_cell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace eggfall {

bool UnlabelledSums::has(const SampleRow& row) {
  // Sums are few; looking above each of many rows without a name would take their square.
  constexpr std::size_t most_looked_at = 200;
  if (!could_be_a_sum(row) || ++looked_at_ > most_looked_at)
    return false;
  const auto is_of = [&](const Rows& rows) {
    return are_sums(row, rows) || (reading_.attribute("animal") != nullptr && are_means(row, rows));
  };
  const Rows all = all_rows();
  // The last row of a table without names is looked at when sums below it have been passed over.
  const std::size_t passed = std::min(sums_before_, all.size());
  const Rows block(all.begin() + static_cast<std::ptrdiff_t>(passed), all.end());
  Rows group;
  if (const std::string_view name = group_of(row); !name.empty())
    std::ranges::copy_if(all, std::back_inserter(group),
                         [&](const SampleRow* above) { return group_of(*above) == name; });
  return is_of(all) || is_of(block) || is_of(group);
}

bool UnlabelledSums::are_means_of_all(const SampleRow& row) const {
  constexpr std::size_t fewest = 3;
  return reading_.rows.size() >= fewest && could_be_a_sum(row) && are_means(row, all_rows());
}

UnlabelledSums::Rows UnlabelledSums::all_rows() const {
  Rows rows;
  for (const SampleRow& row : reading_.rows)
    rows.push_back(&row);
  return rows;
}

std::string_view UnlabelledSums::group_of(const SampleRow& row) const {
  const ColumnReading* const column = reading_.attribute("group");
  return column != nullptr ? row.cell(column->index) : std::string_view();
}

/// A sample of the animal above it (merged cells) has its time or its date besides counts. Of
/// groups side by side each has names of its own, and some have more animals.
bool UnlabelledSums::could_be_a_sum(const SampleRow& row) const {
  constexpr std::array<std::string_view, 4> summed{"group", "weight_kg", "dose_ml", "factor"};
  bool counts = false;
  for (const ColumnReading& column : reading_.columns) {
    if (row.cell(column.index).empty())
      continue;
    const bool count = column.kind == ColumnReading::Kind::count;
    if (!count && std::ranges::find(summed, column.name) == summed.end() && !is_ignored(column))
      return false;
    counts = counts || count;
  }
  return counts;
}

/// "Reduction %" and the like.
bool UnlabelledSums::is_ignored(const ColumnReading& column) const {
  return std::ranges::any_of(layout_.words().pieces_of(column.head), [](const HeadPiece& piece) {
    return piece.means == HeadWord::ignored;
  });
}

std::optional<double> UnlabelledSums::number_of(const SampleRow& row,
                                                const ColumnReading& column) const {
  const CountCell cell = read_count_cell(row.cell(column.index), layout_);
  if (cell.says != CountCell::Says::number)
    return std::nullopt;
  return cell.thousands.value_or(cell.value);
}

bool UnlabelledSums::are_sums(const SampleRow& row, const Rows& rows) const {
  constexpr std::size_t enough = 4;
  std::size_t most_summed = 0;
  const bool sums = each_number_is(
      row, rows, [&](double sum, std::size_t numbers, std::size_t not_zero, double said, double) {
        most_summed = std::max(most_summed, not_zero);
        return numbers > 1 && said == sum;
      });
  return sums && (reading_.attribute("animal") != nullptr || most_summed >= enough);
}

bool UnlabelledSums::are_means(const SampleRow& row, const Rows& rows) const {
  return each_number_is(
      row, rows, [](double sum, std::size_t numbers, std::size_t, double said, double rounding) {
        return numbers > 1 && std::abs(said - sum / static_cast<double>(numbers)) <= rounding;
      });
}

/// Whether `fits` holds for each number of the row, with what stands above it.
template <typename Fits>
bool UnlabelledSums::each_number_is(const SampleRow& row, const Rows& rows,
                                    const Fits& fits) const {
  bool any = false;
  for (const ColumnReading* column : reading_.counts()) {
    const auto said = number_of(row, *column);
    if (!said)
      continue;
    double sum = 0;
    std::size_t numbers = 0;
    std::size_t not_zero = 0;
    for (const SampleRow* above : rows)
      if (const auto number = number_of(*above, *column)) {
        sum += *number;
        ++numbers;
        not_zero += *number > 0 ? 1 : 0;
      }
    const int decimals = read_count_cell(row.cell(column->index), layout_).decimals;
    const double rounding = 0.501 * std::pow(10.0, -decimals);
    if (!fits(sum, numbers, not_zero, *said, rounding))
      return false;
    any = true;
  }
  return any;
}

} // namespace eggfall
