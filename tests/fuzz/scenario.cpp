// A scenario, and a test of it simulated, written and read back.
#include "counts_checks.hpp"
#include "harness.hpp"

#include "simulation/read_scenario.hpp"
#include "simulation/scenario_text.hpp"
#include "simulation/truth_json.hpp"
#include "trial/counts_table.hpp"

namespace {

/// Others would take too long, and show no more.
bool is_small(const eggfall::Scenario& scenario) {
  constexpr std::size_t most = 500;
  std::size_t animals = 0;
  for (const eggfall::ScenarioGroup& group : scenario.groups)
    animals += group.model.animals * group.model.animals_in_pool;
  return animals <= most;
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Scenario scenario = eggfall::read_scenario(bytes, "scenario.toml");
  promise(!eggfall::scenario_text(scenario, 1).empty() &&
              !eggfall::scenario_list({scenario}).empty(),
          "a scenario can be shown");
  if (!is_small(scenario))
    return;
  const eggfall::SimulatedTrial simulated =
      accepted("a scenario can be simulated", [&] { return eggfall::simulate(scenario, 1, 0); });
  promise(!eggfall::truth_json(scenario, 1, {simulated}).empty(), "its truth can be written");
  // What is left out of a simulated trial, such as the year of its dates, is added on reading.
  const eggfall::TrialTable read = accepted("a simulated trial is read", [&] {
    return eggfall::read_trials(eggfall::counts_table({simulated.trial}), "counts.csv", {});
  });
  check_written_and_read_back(read.trials);
}
