#include "simulation/scenario_text.hpp"

#include "base/text.hpp"
#include "formats/terminal_text.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

std::string group_line(const ScenarioGroup& group) {
  const CountModel& model = group.model;
  const std::string samples =
      model.animals_in_pool > 1 ? fmt::format("pools of {}", model.animals_in_pool) : "animals";
  const std::string treatment = group.role == Role::control ? "untreated"
                                : group.classes.empty()     ? "treated"
                                                            : to_string(group.classes);
  return fmt::format("{}: {} {}, {}", group.name, model.animals, samples, treatment);
}

} // namespace

std::string scenario_text(const Scenario& scenario, std::size_t trials) {
  std::string text = scenario.title;
  text += fmt::format(": {} invented test{}{}{}\n", trials, trials == 1 ? "" : "s",
                      scenario.host.empty() ? "" : ", " + scenario.host,
                      scenario.farm.empty() ? "" : ", " + scenario.farm);
  for (const ScenarioGroup& group : scenario.groups)
    text += paragraph(group_line(group), "  ");
  if (!scenario.ask.empty())
    text += paragraph("Ask: " + scenario.ask, "  ");
  return text;
}

std::string scenario_list(const std::vector<Scenario>& scenarios) {
  std::string text = "Lessons for eggfall simulate --lesson NAME:\n";
  for (const Scenario& scenario : scenarios)
    text += fmt::format("\n{}: {}\n", scenario.name, scenario.title) +
            paragraph(scenario.lesson, "  ") + paragraph("Ask: " + scenario.ask, "  ");
  return text;
}

} // namespace eggfall
