#include "teach/slider/slider_audit.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "simulation/audit_grid.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

std::vector<AuditFarm> lesson_grid() {
  const auto grid = std::ranges::find(built_in_grids(), "lesson", &BuiltInGrid::name);
  REQUIRE(grid != built_in_grids().end());
  return read_audit_grid(grid->toml, "lesson");
}

} // namespace

TEST_CASE("The lesson's audit is of the built-in grid", "[lesson]") {
  const AuditResult audit = slider_audit();
  std::vector<std::string> keys;
  for (const AuditedFarm& audited : audit.farms)
    keys.push_back(farm_key(audited.farm));
  std::vector<std::string> grid;
  for (const AuditFarm& farm : lesson_grid())
    grid.push_back(farm_key(farm));
  CHECK(keys == grid);
  CHECK(audit.settings.level == 0.95);
  CHECK(audit.shard.count == 1);
  Group sheep;
  sheep.host = "sheep";
  for (const AuditCriterion& used : audit.settings.criteria) {
    CAPTURE(used.name);
    const auto published = audit_criteria(published_cut_offs().criteria, sheep);
    const auto today = std::ranges::find(published, used.name, &AuditCriterion::name);
    REQUIRE(today != published.end());
    CHECK(used.title == today->title);
    CHECK(used.rule == today->rule);
    CHECK(used.level == today->level);
    CHECK(used.cut_off.expected == today->cut_off.expected);
    CHECK(used.cut_off.lower == today->cut_off.lower);
  }
  for (const AuditedFarm& audited : audit.farms)
    CHECK(audited.farm.model.mean_eggs * audited.farm.model.factor_before.value() == 400);
}

TEST_CASE("The lesson's audit is what the program finds today", "[lesson]") {
  const AuditResult audit = slider_audit();
  std::set<double> factors;
  for (const AuditedFarm& stored : audit.farms) {
    const CountModel& model = stored.farm.model;
    // One farm of each factor: few animals, so that some trials are without interval.
    if (model.animals != 5 || model.k != 0.3 || model.efficacy != 0.99)
      continue;
    factors.insert(model.factor_before.value());
    CAPTURE(farm_key(stored.farm));
    FarmTally today = audit_trials(stored.farm, audit.settings, 0, audit.settings.trials);
    for (std::size_t m = 0; m < today.methods.size(); ++m) {
      // A width may differ by its rounding, 1 millionth of a point a trial, on another machine.
      const auto stored_width = static_cast<double>(stored.tally.methods[m].width);
      CHECK(static_cast<double>(today.methods[m].width) ==
            Approx(stored_width).margin(static_cast<double>(audit.settings.trials)).epsilon(0));
      today.methods[m].width = stored.tally.methods[m].width;
    }
    CHECK(std::abs(today.reduction - stored.tally.reduction) <=
          static_cast<std::int64_t>(audit.settings.trials));
    today.reduction = stored.tally.reduction;
    CHECK(today == stored.tally);
  }
  CHECK(factors == std::set<double>{10, 25, 50});
}

TEST_CASE("The lesson's audit counts 95% intervals by hand and by the posterior", "[lesson]") {
  const AuditResult audit = slider_audit();
  std::set<Method> methods;
  std::set<std::string> criteria;
  for (const AuditCriterion& criterion : audit.settings.criteria)
    criteria.insert(criterion.name);
  CHECK(criteria == std::set<std::string>{"waavp-1992", "waavp-2023-clinical"});
  REQUIRE_FALSE(audit.farms.empty());
  for (const AuditedFarm& audited : audit.farms) {
    methods.clear();
    for (const MethodTally& tally : audited.tally.methods)
      methods.insert(tally.method);
    CHECK(methods == std::set<Method>{Method::log_ratio_1992, Method::guarded_posterior});
    CHECK(audited.tally.trials == audit.settings.trials);
  }
}
