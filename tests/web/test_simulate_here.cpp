#include "web/simulate_here.hpp"

#include "support/support.hpp"

#include "simulation/audit_grid.hpp"

#include <utility>

using namespace eggfall;

TEST_CASE("An audit on one thread tells of its progress and ends at all of it") {
  FarmValues values;
  values.designs = {Design::paired};
  values.numbers["animals"] = {6};
  values.numbers["efficacy_percent"] = {80, 95};
  const std::vector<AuditFarm> farms = combinations(values);
  REQUIRE(farms.size() == 2);
  AuditSettings settings;
  settings.trials = 60;
  settings.methods = {Method::paired_log_ratio};
  std::vector<std::pair<std::size_t, std::size_t>> told;
  const AuditResult result = web::simulate_here(
      farms, settings, [&](std::size_t done, std::size_t all) { told.emplace_back(done, all); });
  REQUIRE(told.size() > 2);
  CHECK(told.front() == std::pair<std::size_t, std::size_t>{0, 120});
  CHECK(told.back() == std::pair<std::size_t, std::size_t>{120, 120});
  CHECK(std::ranges::is_sorted(told));
  for (const AuditedFarm& audited : result.farms)
    CHECK(audited.tally.trials == 60);
  // The very trials of the audit itself, in whatever pieces.
  for (std::size_t i = 0; i < farms.size(); ++i)
    CHECK(result.farms[i].tally == audit_trials(farms[i], settings, 0, 60));
}
