#pragma once

#include "base/problems.hpp"
#include "intake/layout.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// Animals that belong to one trial, or to those its column of trials names.
struct JoinedAnimals {
  std::string name; ///< Of the trial, where no column has it.
  Source source;
  std::vector<RawAnimal> animals;
  std::vector<std::string> around;
  std::vector<RawCell> notes; ///< What stands around, row by row, and where.
};

/// A sheet with the name that its trial has if nothing else gives it one.
struct NamedSheet {
  std::string name;  ///< Of its file.
  std::string table; ///< What its owner calls it: a sheet's name, or the file's.
  SheetAnimals sheet;
};

/// Sheets with counts of both times stand for themselves. A sheet with counts before and one with
/// counts after become one trial, joined by the names of their animals (and of their groups, where
/// both say them), never by the order of rows.
///
/// Which time a sheet is of, its heads say, or its name, its titles, its dates, or the layout. A
/// day after treatment in a name or a title ("Day 3") is kept as a visit's, and a date in a title
/// ("Sampled 13/5/2031") is that of the samples, where columns have none and nothing else is said
/// in that title. Dates without a year are refused where the days between them matter.
/// @throws OpenQuestion if none does, or more than two sheets have counts of one time.
std::vector<JoinedAnimals> joined_sheets(std::vector<NamedSheet> sheets, const Layout& layout,
                                         std::optional<DateOrder> order, Problems& problems,
                                         ReadingLog& log);

} // namespace eggfall
