#include "intake/unlabelled_sums.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/count_cell.hpp"
#include "trial/name_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace eggfall {
namespace {

/// Without accents; those of other languages than English from memory.
constexpr std::array<std::string_view, 35> words_of_sums{
    "total",   "totals",   "subtotal",   "subtotals", "sum",        "sums",         "mean",
    "means",   "average",  "averages",   "avg",       "avge",       "median",       "medians",
    "stdev",   "summe",    "gesamt",     "insgesamt", "mittelwert", "durchschnitt", "somme",
    "moyenne", "moyennes", "mediane",    "suma",      "promedio",   "promedios",    "mediana",
    "soma",    "totaal",   "gemiddelde", "gemiddeld", "totaux",     "gesamtsumme",  "totale"};

/// Short ones, which names of animals may have among other words: "SD 101". With them the numbers
/// alone decide, where no animal above has one.
constexpr std::array<std::string_view, 10> short_words_of_sums{
    "ave", "av", "moy", "prom", "media", "medias", "std", "sd", "sem", "cv"};

bool has_figure(std::string_view text) {
  return text.find_first_of("0123456789") != std::string_view::npos;
}

/// Whether one of the words is among others in a name.
template <std::size_t N>
bool has_word_of(std::string_view name, const std::array<std::string_view, N>& sought) {
  // Most names are one word; looking closer takes longer than reading a row.
  if (name.find_first_of(" -_/().,:;+&") == std::string_view::npos)
    return false;
  const std::string words = plain_words(unaccented_look_of(name));
  for (std::size_t start = 0; start < words.size();) {
    const std::size_t end = std::min(words.find(' ', start), words.size());
    const bool alone = start == 0 && end == words.size();
    if (!alone && std::ranges::find(sought, std::string_view(words).substr(start, end - start)) !=
                      sought.end())
      return true;
    start = end + 1;
  }
  return false;
}

} // namespace

bool names_a_sum(std::string_view name) {
  return has_word_of(name, words_of_sums);
}

UnlabelledSums::Named UnlabelledSums::of_named(const SampleRow& row, std::string_view name) {
  add_rows_above();
  const bool called_a_sum = names_a_sum(name);
  const bool by_name = called_a_sum || (rows_added_ > 1 && tags_with_short_words_ == 0 &&
                                        has_word_of(name, short_words_of_sums));
  const bool unlike_tags =
      !name.empty() && !has_figure(name) && tags_with_digits_ == rows_added_ && rows_added_ > 0;
  // By numbers alone an animal is left out too easily: one in thousands has just the eggs of all
  // above it, or their mean.
  if (!by_name && !unlike_tags)
    return Named::animal;
  return are_of_rows_above(row, by_name) ? Named::sum
         : called_a_sum                  ? Named::unclear
                                         : Named::animal;
}

bool UnlabelledSums::agrees(const SampleRow& row) {
  add_rows_above();
  return are_of_rows_above(row, true);
}

bool UnlabelledSums::agrees_without_a_word(const SampleRow& row) {
  add_rows_above();
  return are_of_rows_above(row, false);
}

bool UnlabelledSums::are_of_rows_above(const SampleRow& row, bool by_name) const {
  std::vector<const AboveByColumn*> sets{&of_all_, &of_block_};
  for (const std::string& group : {group_name_of(row), last_group_})
    if (const auto found = of_group_.find(group); found != of_group_.end())
      sets.push_back(&found->second);
  return std::ranges::any_of(sets, [&](const AboveByColumn* above) {
    return is_sum_of(row, *above, by_name) || is_mean_of(row, *above, by_name);
  });
}

/// Running sums, or each row would be compared with all above it.
void UnlabelledSums::add_rows_above() {
  if (counts_.empty())
    counts_ = reading_.counts();
  const ColumnReading* const tag = reading_.attribute("animal");
  for (; rows_added_ < reading_.rows.size(); ++rows_added_) {
    const SampleRow& row = reading_.rows[rows_added_];
    tags_with_digits_ += tag != nullptr && has_figure(row.cell(tag->index)) ? 1 : 0;
    tags_with_short_words_ +=
        tag != nullptr && has_word_of(row.cell(tag->index), short_words_of_sums) ? 1 : 0;
    last_group_ = group_name_of(row);
    for (const ColumnReading* column : counts_)
      if (const auto number = number_of(row, *column))
        for (AboveByColumn* above : {&of_all_, &of_block_, &of_group_[last_group_]}) {
          Above& each = (*above)[column->index];
          each.sum += *number;
          ++each.numbers;
          each.not_zero += *number > 0 ? 1 : 0;
        }
  }
}

std::string UnlabelledSums::group_name_of(const SampleRow& row) const {
  return std::string(group_of(row));
}

/// By its numbers alone a row is a sum of no fewer than four counts.
bool UnlabelledSums::is_sum_of(const SampleRow& row, const AboveByColumn& above,
                               bool by_name) const {
  constexpr std::size_t enough = 4;
  const std::size_t fewest = by_name ? 1 : 2;
  std::size_t most_summed = 0;
  for (const ColumnReading* column : counts_) {
    const auto said = number_of(row, *column);
    if (!said)
      continue;
    const auto found = above.find(column->index);
    if (found == above.end() || found->second.numbers < fewest)
      return false;
    const int decimals = read_count_cell(row.cell(column->index), layout_).decimals;
    const double rounding = by_name ? 0.501 * std::pow(10.0, -decimals) : 1e-6;
    if (std::abs(*said - found->second.sum) > rounding)
      return false;
    most_summed = std::max(most_summed, found->second.not_zero);
  }
  return by_name ? most_summed > 0 : most_summed >= enough;
}

/// An animal's counts may be the rounded means of those above it by luck.
bool UnlabelledSums::is_mean_of(const SampleRow& row, const AboveByColumn& above,
                                bool by_name) const {
  constexpr std::size_t enough = 4;
  std::size_t fewest = 0;
  std::size_t columns = 0;
  for (const ColumnReading* column : counts_) {
    const auto said = number_of(row, *column);
    if (!said)
      continue;
    const auto found = above.find(column->index);
    if (found == above.end() || found->second.numbers < 1)
      return false;
    const int decimals = read_count_cell(row.cell(column->index), layout_).decimals;
    const double mean = found->second.sum / static_cast<double>(found->second.numbers);
    if (std::abs(*said - mean) > 0.501 * std::pow(10.0, -decimals))
      return false;
    fewest = columns == 0 ? found->second.numbers : std::min(fewest, found->second.numbers);
    ++columns;
  }
  return by_name ? columns > 0 : columns > 1 && fewest >= enough;
}

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
