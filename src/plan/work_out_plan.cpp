#include "plan/work_out_plan.hpp"

namespace eggfall {

Plan work_out_plan(const PlanWish& wish, const CutOffs& cut_offs, const SimulateAudit& simulate) {
  Plan plan;
  plan.pilot = wish.pilot;
  plan.question.flock = wish.flock;
  plan.question.choices = wish.choices;
  plan.question.aim = plan_aim(cut_offs.criteria.front(), wish.flock);
  plan.question.aim.efficacies = wish.efficacies;
  plan.question.aim.power = wish.power;
  check(plan.question);
  plan.settings = plan_settings(plan.question.aim, wish.trials, wish.seed);
  plan.published = published_minima(cut_offs, wish.flock);
  const auto simulated = [&](const PlanQuestion& question) {
    return planned(question, simulate(farms(question), plan.settings));
  };
  plan.all = simulated(plan.question);
  for (const PlanCase& each : cases_to_try(plan))
    plan.cases.push_back({each, simulated(question_of(each, plan.question.aim)).front()});
  return plan;
}

} // namespace eggfall
