#include "cli/carry_out.hpp"

#include "cli/progress.hpp"

#include <tbb/parallel_for.h>

#include <mutex>

namespace eggfall::cli {

void carry_out(AuditResult& result, const std::vector<AuditTask>& tasks) {
  Progress progress(tasks.size());
  std::mutex mutex;
  tbb::parallel_for(std::size_t{0}, tasks.size(), [&](std::size_t i) {
    const AuditTask& task = tasks[i];
    const FarmTally tally =
        audit_trials(result.farms[task.farm].farm, result.settings, task.first, task.trials);
    {
      const std::lock_guard lock(mutex);
      add(result.farms[task.farm].tally, tally);
    }
    progress.step();
  });
}

AuditResult simulated(const std::vector<AuditFarm>& farms, const AuditSettings& settings) {
  AuditResult result = empty_result(farms, settings, {});
  for (auto tasks = next_tasks(result); !tasks.empty(); tasks = next_tasks(result))
    carry_out(result, tasks);
  return result;
}

std::vector<std::vector<AuditExample>> examples_of(const AuditResult& audit, std::size_t trials) {
  Progress progress(audit.farms.size());
  std::vector<std::vector<AuditExample>> examples(audit.farms.size());
  tbb::parallel_for(std::size_t{0}, audit.farms.size(), [&](std::size_t c) {
    examples[c] = audit_examples(audit.farms[c].farm, audit.settings, trials);
    progress.step();
  });
  return examples;
}

} // namespace eggfall::cli
