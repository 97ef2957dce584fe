#pragma once

#include "intake/layout.hpp"
#include "intake/reading_log.hpp"
#include "intake/sheet_reading.hpp"

#include <compare>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// Which of an animal's counts a cell holds.
struct CountKey {
  SampleTime time;
  std::string worm; ///< Empty: the main counts.
  int repeat = 0;   ///< 0: the only one.

  std::strong_ordering operator<=>(const CountKey&) const = default;
};

struct KeyedColumn {
  const ColumnReading* column = nullptr;
  CountKey key;
  const ColumnReading* epg_beside = nullptr; ///< Of the same samples, where `column` is of eggs.
};

/// The columns of counts of one group, where groups stand side by side; of any other table, all.
struct CountBlock {
  std::string label; ///< The group's name; empty: rows say the group.
  std::vector<KeyedColumn> counts;
  const ColumnReading* tag = nullptr; ///< That names the animals; null if none does.
};

struct CountBlocks {
  std::vector<CountBlock> blocks; ///< At least one.
  bool time_is_open = false;      ///< One time, which nothing in the heads tells: kept as before.
};

/// Tells the columns of counts of a sheet apart: by time, by worm, by repeat, and by group.
///
/// Eggs seen are read rather than EPG beside them. Columns that differ in words without a meaning
/// are of groups, unless the animals named beside them have counts in several. What differs in a
/// number alone may be repeats, visits or groups, and is asked about.
/// @param groups_in_rows a column, or titles, name the groups.
/// @param has_times false for a table with one row a sample, whose times stand in a column.
/// @throws OpenQuestion.
CountBlocks count_blocks(const SheetReading& reading, bool groups_in_rows, bool has_times,
                         const Layout& layout, std::optional<DateOrder> order, ReadingLog& log);

} // namespace eggfall
