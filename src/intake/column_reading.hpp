#pragma once

#include "eggfall/base/error.hpp"
#include "intake/layout.hpp"
#include "intake/time_point.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// What a column of a sheet is taken for, by its head.
struct ColumnReading {
  enum class Kind {
    unused,    ///< Nothing that is needed, or not understood.
    attribute, ///< Of an animal, its group or its trial: `name` is ours.
    when,      ///< The times of samples, in a table with one row a sample.
    count,
  };
  std::size_t index = 0;
  std::string head; ///< As written, with what stands above it if that was read too.
  Kind kind = Kind::unused;
  /// Our column of an attribute, such as "weight_kg"; "date" of a sample's day. Of times too where
  /// their head says that they are days_after.
  std::string name;
  bool by_layout = false; ///< Its owner says so.
  /// Of what is not used: why, where that is known (a unit that is not, times that heads tell).
  Wording why;
  /// Its head speaks of a label and says no rate: its cells may.
  bool may_be_label = false;
  /// What the head says of every row whose cell is empty: "Label: 1 mL/10 kg".
  std::string of_every_row;

  // Of counts alone.
  std::optional<CountUnit> unit;
  TimePoint time;
  int repeat = 0; ///< The number of a count of one sample, eggs_before_2; 0: none.
  /// A number behind a time, "pre EPG 2", which may be of a repeated count, a visit or a group.
  int number = 0;
  bool says_count = false; ///< A word in it says counts, and not a time alone.
  bool says_mean = false;  ///< A word says that these are means.
  std::string worm;        ///< canonical_worm(); empty: the main counts.
  std::string label;       ///< Words left over, in their own spelling: a group's name, perhaps.
};

/// Of the head of a column, with what stands above it in a second row of heads ("" if nothing).
ColumnReading read_head(std::size_t index, std::string_view head, std::string_view above,
                        const Layout& layout);

/// "epg_before:nematodirus", as a counts table calls it; of a count without a time "epg",
/// of one of several visits "epg_day:28".
std::string our_name(const ColumnReading& column, const std::optional<SampleTime>& time);

} // namespace eggfall
