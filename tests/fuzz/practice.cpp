// An invented practice, its trials simulated, written and read back.
#include "counts_checks.hpp"
#include "harness.hpp"

#include "simulation/practice.hpp"
#include "trial/counts_table.hpp"

#include <cstddef>

namespace {

/// Others would take too long, and show no more.
bool is_small(const eggfall::Practice& practice) {
  constexpr std::size_t most = 500;
  std::size_t animals = 0;
  for (const eggfall::ScenarioGroup& group : practice.test.groups)
    animals += group.model.animals * group.model.animals_in_pool;
  return animals * practice.farms.size() * static_cast<std::size_t>(practice.years) <= most;
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Practice practice = eggfall::read_practice(bytes, "practice.toml");
  promise(!eggfall::practice_truth_json(practice, 1).empty(), "its truth can be written");
  if (!is_small(practice))
    return;
  const auto simulated =
      accepted("a practice can be simulated", [&] { return eggfall::simulate(practice, 1); });
  std::vector<eggfall::Trial> trials;
  for (const eggfall::SimulatedTrial& each : simulated)
    trials.push_back(each.trial);
  const eggfall::TrialTable read = accepted("simulated trials are read", [&] {
    return eggfall::read_trials(eggfall::counts_table(trials), "counts.csv", {});
  });
  promise(read.trials.size() == trials.size(), "a farm's test of a year is a trial");
  check_written_and_read_back(read.trials);
}
