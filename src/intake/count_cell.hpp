#pragma once

#include "intake/layout.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// What a cell in a column of counts says.
struct CountCell {
  enum class Says {
    nothing,      ///< It is empty: not sampled.
    number,       ///< `value`, and perhaps `thousands`.
    below,        ///< "<50": fewer than `value`.
    none_seen,    ///< A word for no egg.
    not_sampled,  ///< A word for no sample.
    two_readings, ///< A word that stands for either.
    no_count,     ///< None of these.
  };
  Says says = Says::nothing;
  double value = 0;
  int decimals = 0; ///< Behind the mark of `value`, as written.
  /// "1,200" is 1.2 by `value` and 1200 by this; a number that can only be meant in thousands has
  /// that as its value.
  std::optional<double> thousands;
  std::optional<CountUnit> unit; ///< "12 eggs"
  std::string remark;            ///< What stands behind the number and is no part of it.
  bool marked = false;           ///< It has a mark for thousands.
};

/// Reads "12", "1 200", "1,200", "33.3", "<50", "12 eggs", "150 (few)" and words; the owner's own
/// words go before those known.
CountCell read_count_cell(std::string_view text, const Layout& layout);

/// The whole eggs behind an EPG, if it is a multiple of the factor within what the rounding of both
/// can hide: half of the last digit that is written of the EPG, and of the factor for each egg.
/// (33.3 stands for 33 1/3, so 20 eggs are 666 or 667 EPG.) A whole factor is exact. Nothing if it
/// is no multiple, or if rounding hides which.
/// @param decimals that the EPG was written with.
std::optional<double> eggs_of_rounded(double epg, int decimals, double factor);

} // namespace eggfall
