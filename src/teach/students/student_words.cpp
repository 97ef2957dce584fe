#include "teach/students/student_words.hpp"

#include "formats/drawing/svg_drawing.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string host_words(const Scenario& scenario) {
  return scenario.host.empty() ? "animals" : scenario.host;
}

std::string drench_words(const ScenarioGroup& group) {
  const std::string& name = group.drench.empty() ? group.name : group.drench;
  return group.classes.empty() ? name : fmt::format("{} ({})", name, to_string(group.classes));
}

std::string written(double value) {
  return fmt::format("{:.4g}", value);
}

std::string percent_written(double proportion) {
  return fmt::format("{:.1f}%", 100 * proportion);
}

std::string limits_written(const Interval& interval) {
  return interval.usable() ? fmt::format("{} to {}", percent_written(*interval.lower),
                                         percent_written(*interval.upper))
                           : "no limits";
}

std::string verdict_written(const Verdict& verdict) {
  return verdict.verdict_class == VerdictClass::not_applicable
             ? "none"
             : std::string(to_string(verdict.verdict_class));
}

void mark_misses(pugi::xml_node table) {
  for (pugi::xml_node row : table.child("tbody").children())
    for (pugi::xml_node cell : row.children("td"))
      if (std::string_view(cell.text().get()) == "misses")
        set(cell, "class", "miss");
}

} // namespace eggfall
