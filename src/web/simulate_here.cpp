#include "web/simulate_here.hpp"

namespace eggfall::web {

AuditResult simulate_here(const std::vector<AuditFarm>& farms, const AuditSettings& settings,
                          const std::function<void(std::size_t, std::size_t)>& progress) {
  AuditResult result = empty_result(farms, settings, {});
  const std::size_t most = farms.size() * settings.trials;
  std::size_t done = 0;
  progress(done, most);
  for (auto tasks = next_tasks(result); !tasks.empty(); tasks = next_tasks(result))
    for (const AuditTask& task : tasks) {
      AuditedFarm& audited = result.farms[task.farm];
      add(audited.tally, audit_trials(audited.farm, settings, task.first, task.trials));
      done += task.trials;
      progress(done, most);
    }
  progress(most, most); // it may have known enough before
  return result;
}

} // namespace eggfall::web
