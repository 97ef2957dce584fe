#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/statistics/interval.hpp"
#include "simulation/read_scenario.hpp"
#include "teach/students/student_pack.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>

// A class of three, whose numbers may be changed to such as are worked out by hand.
namespace invented_students {

using namespace eggfall;

/// Of the first lesson: 10 sheep treated, 10 not, one egg for 50 EPG, a truth of 93%.
inline StudentPack three_students() {
  static const StudentPack made =
      student_pack(built_in_scenario("class"), 3, 3, published_cut_offs());
  return made;
}

inline void set_limits(Worksheet& sheet, Method method, std::optional<double> lower,
                       std::optional<double> upper) {
  Interval& interval =
      *std::ranges::find(sheet.analysis.evidence.intervals, method, &Interval::method);
  interval.lower = lower;
  interval.upper = upper;
}

inline std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t position = 0; (position = text.find(part, position)) != std::string::npos;
       position += part.size())
    ++count;
  return count;
}

} // namespace invented_students
