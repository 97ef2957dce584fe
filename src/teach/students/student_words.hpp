#pragma once

#include "teach/students/student_pack.hpp"

#include <pugixml.hpp>

#include <string>
#include <string_view>

// Words that the pages of a class share.
namespace eggfall {

/// "sheep", or "animals" where the host is not known.
std::string host_words(const Scenario& scenario);

/// "white drench (BZ)", or the group's name.
std::string drench_words(const ScenarioGroup& group);

/// To four significant digits, as one would write it down.
std::string written(double value);

/// A proportion as "93.0%".
std::string percent_written(double proportion);

/// "88.1% to 97.5%", or "no limits".
std::string limits_written(const Interval& interval);

/// The class, or "none" where a criterion could give none.
std::string verdict_written(const Verdict& verdict);

/// CSS of mark_misses().
inline constexpr std::string_view miss_style = R"css(
.miss { color: var(--miss); font-weight: bold; }
)css";

/// Cells of a table that say "misses" stand out.
void mark_misses(pugi::xml_node table);

} // namespace eggfall
