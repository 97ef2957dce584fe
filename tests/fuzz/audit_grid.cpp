// A grid of an audit, and a trial of its first farm.
#include "harness.hpp"

#include "simulation/audit_grid.hpp"

#include <vector>

namespace {

/// Others would take too long, and show no more.
bool is_small(const eggfall::CountModel& model) {
  constexpr std::size_t most = 500;
  return (model.animals + model.control_animals) * model.animals_in_pool <= most;
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const std::vector<eggfall::AuditFarm> farms = eggfall::read_audit_grid(bytes, "grid.toml");
  promise(!farms.empty() && farms.size() <= 10'000, "a grid has 1 to 10,000 cells");
  if (!is_small(farms.front().model))
    return;
  eggfall::AuditSettings settings;
  settings.methods = {eggfall::Method::egg_totals_jeffreys, eggfall::Method::log_ratio_1992,
                      eggfall::Method::paired_log_ratio};
  const eggfall::FarmTally tally = accepted("a cell that was read can be audited", [&] {
    return eggfall::audit_trials(farms.front(), settings, 0, 1);
  });
  promise(tally.trials == 1, "a trial is tallied");
}
