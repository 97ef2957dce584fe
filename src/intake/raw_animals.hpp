#pragma once

#include "base/problems.hpp"
#include "eggfall/base/source.hpp"
#include "intake/count_blocks.hpp"
#include "intake/layout.hpp"
#include "intake/reading_log.hpp"
#include "intake/sheet_reading.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {

/// A cell and where it stands, so that whatever is wrong with it can be told there.
struct RawCell {
  std::string text;
  Source source;
  std::size_t line = 0;
  std::size_t column = 0; ///< From 1.
  std::string head;       ///< Of its column, as written.

  Problem problem(std::string found, Wording expected) const {
    return {source, line, column, head, std::move(found), std::move(expected)};
  }
};

struct RawCount {
  RawCell cell;
  std::optional<CountUnit> unit;          ///< If its head says so.
  std::optional<RawCell> epg_beside = {}; ///< Of the same sample, where `cell` is of eggs.
};

/// An animal as the sheets have it, its cells not read yet.
struct RawAnimal {
  std::string group;
  RawCell tag;
  std::map<std::string, RawCell> attributes; ///< By our name of the column.
  std::map<CountKey, RawCount> counts;
};

/// Gives each count of an animal the time that `moved` makes of its own.
template <typename Moved> void move_counts(RawAnimal& animal, const Moved& moved) {
  std::map<CountKey, RawCount> counts;
  for (auto& [key, count] : animal.counts) {
    CountKey of_time = key;
    of_time.time = moved(key.time);
    counts.emplace(std::move(of_time), std::move(count));
  }
  animal.counts = std::move(counts);
}

/// The animals of one sheet.
struct SheetAnimals {
  Source source;
  std::vector<RawAnimal> animals;
  std::set<Occasion> occasions; ///< Of which it has counts.
  bool time_is_open = false;    ///< One time, which nothing in the sheet tells: kept as before.
  bool has_tags = false;        ///< Animals have names of their own.
  bool has_groups = false;      ///< The sheet says which group an animal is in.
  bool tells_dates = false;     ///< A column, or its heads, have the dates of its samples.
  /// Its one date without a year, of its heads.
  std::optional<TimePoint> yearless;
  std::vector<std::string> around;
  std::vector<RawCell> notes; ///< What stands around, row by row, and where.
};

/// Puts the rows of a sheet together: one row an animal; or one row a sample, folded by animal; or
/// columns for each group side by side, unfolded.
///
/// Where no column names groups, the drench does, or else the role, or titles above the rows, or
/// heads above the columns; or else all animals are one group. Where none names animals, they are
/// called by their rows.
/// @throws OpenQuestion where two columns could name the groups, or there are more times of
/// sampling
///   than two.
SheetAnimals animals_of(const SheetReading& reading, const Layout& layout,
                        std::optional<DateOrder> order, Problems& problems, ReadingLog& log);

} // namespace eggfall
