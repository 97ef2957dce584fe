#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/plan/plan.hpp"
#include "eggfall/simulation/audit.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

// Questions, options and plans with chances made up by hand.
namespace invented_plan {

using namespace eggfall;

inline Criteria clinical() {
  return published_cut_offs().criteria.front();
}

inline PlanQuestion question(std::vector<DrugClass> classes = {DrugClass::bz}) {
  PlanQuestion result;
  result.flock.host = "sheep";
  result.flock.classes = std::move(classes);
  result.flock.mean_epg = 600;
  result.choices = {{Design::paired}, {6, 12}, {{MultiplicationFactor(50), 1.5, 5.0}}};
  result.aim = plan_aim(clinical(), result.flock);
  result.aim.efficacies = {0.95};
  return result;
}

inline AuditSettings settings_of(const PlanAim& aim, std::size_t trials) {
  AuditSettings settings = plan_settings(aim, trials, 1);
  return settings;
}

/// An option with so many of 100 right answers each way, at the only efficacies that count.
inline PlannedOption with_power(const PlanQuestion& asked, std::size_t size, double factor,
                                std::optional<double> cost, std::uint64_t good,
                                std::uint64_t poor) {
  PlannedOption result;
  result.option = {Design::paired, size, {MultiplicationFactor(factor), cost, std::nullopt}};
  result.needs = demand(result.option, asked.flock);
  for (const double efficacy : {0.995, 0.95, 0.8}) {
    PlanOutcome outcome;
    outcome.efficacy = efficacy;
    outcome.tally.trials = 100;
    MethodTally tally;
    VerdictTally verdicts{};
    verdicts[static_cast<std::size_t>(VerdictClass::susceptible)] = efficacy > 0.9 ? good : 0;
    verdicts[static_cast<std::size_t>(VerdictClass::low_resistant)] = efficacy < 0.9 ? poor / 2 : 0;
    verdicts[static_cast<std::size_t>(VerdictClass::resistant)] =
        efficacy < 0.9 ? poor - poor / 2 : 0;
    tally.verdicts = {verdicts};
    outcome.tally.methods = {tally};
    result.outcomes.push_back(outcome);
  }
  return result;
}

inline Plan plan_with(std::vector<PlannedOption> all) {
  Plan plan;
  plan.question = question();
  plan.settings = settings_of(plan.question.aim, 100);
  plan.all = std::move(all);
  return plan;
}

} // namespace invented_plan
