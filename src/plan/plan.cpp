#include "eggfall/plan/plan.hpp"

#include "eggfall/base/error.hpp"
#include "judgement/field_practice.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <tuple>

namespace eggfall {
namespace {

const PlanOutcome& outcome_at(const PlannedOption& planned, double efficacy) {
  const auto found = std::ranges::find_if(planned.outcomes, [&](const PlanOutcome& outcome) {
    return same_efficacy(outcome.efficacy, efficacy);
  });
  if (found == planned.outcomes.end())
    throw CalculationError("a plan was not simulated at an efficacy it needs");
  return *found;
}

const VerdictTally& classes_of(const PlanOutcome& outcome, const AuditCriterion& criterion,
                               std::size_t index) {
  const MethodTally* tally = tally_of(outcome.tally, judging_method(criterion));
  if (tally == nullptr || index >= tally->verdicts.size())
    throw CalculationError("a plan was not judged by a criterion it needs");
  return tally->verdicts[index];
}

/// Costs of some options only, or hours of some, do not compare.
bool comparable(const std::vector<PlannedOption>& all, std::optional<double> PlanDemand::*what) {
  return std::ranges::all_of(
      all, [&](const PlannedOption& planned) { return (planned.needs.*what).has_value(); });
}

bool less_demanding(const PlannedOption& a, const PlannedOption& b,
                    const std::vector<PlannedOption>& all) {
  for (const auto what : {&PlanDemand::cost, &PlanDemand::hours})
    if (comparable(all, what) && *(a.needs.*what) != *(b.needs.*what))
      return *(a.needs.*what) < *(b.needs.*what);
  return std::tie(a.needs.animals, a.needs.samples) < std::tie(b.needs.animals, b.needs.samples);
}

} // namespace

Share chance(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t index,
             VerdictClass verdict_class) {
  return verdict_share(outcome.tally, classes_of(outcome, criterion, index), verdict_class);
}

Share called_resistant(const PlanOutcome& outcome, const AuditCriterion& criterion,
                       std::size_t index) {
  return claim_share(outcome.tally, classes_of(outcome, criterion, index), Claim::resistance);
}

double unclear(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t index) {
  return std::max(0.0, 1 - chance(outcome, criterion, index, VerdictClass::susceptible).value -
                           called_resistant(outcome, criterion, index).value);
}

RightAnswers right_answers(const PlannedOption& planned, const PlanAim& aim, std::size_t index) {
  const AuditCriterion& criterion = aim.criteria.at(index);
  RightAnswers answers{clearly_works(criterion), clearly_fails(criterion), {}, {}};
  answers.good =
      chance(outcome_at(planned, answers.works), criterion, index, VerdictClass::susceptible);
  answers.poor = called_resistant(outcome_at(planned, answers.fails), criterion, index);
  return answers;
}

Share power(const PlannedOption& planned, const PlanAim& aim, std::size_t index) {
  const RightAnswers answers = right_answers(planned, aim, index);
  return answers.poor.value < answers.good.value ? answers.poor : answers.good;
}

Share power(const PlannedOption& planned, const PlanAim& aim) {
  Share least = power(planned, aim, 0);
  for (std::size_t c = 1; c < aim.criteria.size(); ++c)
    if (const Share next = power(planned, aim, c); next.value < least.value)
      least = next;
  return least;
}

std::vector<PlannedOption> planned(const PlanQuestion& question, const AuditResult& audit) {
  const std::vector<PlanOption> all = options(question);
  const std::vector<double> efficacies = simulated_efficacies(question.aim);
  if (audit.farms.size() != all.size() * efficacies.size())
    throw CalculationError("a plan was given the audit of other designs");
  std::vector<PlannedOption> result;
  auto farm = audit.farms.begin();
  for (const PlanOption& option : all) {
    PlannedOption next{option, demand(option, question.flock), {}};
    for (const double efficacy : efficacies)
      next.outcomes.push_back({efficacy, (farm++)->tally});
    result.push_back(std::move(next));
  }
  return result;
}

bool meets_minima(const PlannedOption& planned, const PlanQuestion& question) {
  return std::ranges::all_of(question.aim.minima, [&](const Minimum& minimum) {
    return static_cast<double>(planned.option.group_size) >= minimum.animals.value_or(0) &&
           question.flock.mean_epg >= minimum.mean_epg.value_or(0) &&
           planned.needs.eggs_a_sample >= minimum.eggs_counted_per_animal.value_or(0);
  });
}

bool can_be_judged(const PlanOption& option) {
  return option.group_size >= field_practice().fewest_animals;
}

const PlannedOption* least_demanding(const std::vector<PlannedOption>& all, const PlanAim& aim) {
  const PlannedOption* best = nullptr;
  for (const PlannedOption& next : all) {
    if (!can_be_judged(next.option) || power(next, aim).value < aim.power)
      continue;
    const bool less = best == nullptr || less_demanding(next, *best, all);
    const bool as_little = best != nullptr && !less && !less_demanding(*best, next, all) &&
                           power(next, aim).value > power(*best, aim).value;
    if (less || as_little)
      best = &next;
  }
  return best;
}

const PlannedOption* most_powerful(const std::vector<PlannedOption>& all, const PlanAim& aim) {
  const bool some_can_be_judged = std::ranges::any_of(all, can_be_judged, &PlannedOption::option);
  const PlannedOption* best = nullptr;
  for (const PlannedOption& next : all) {
    if (some_can_be_judged && !can_be_judged(next.option))
      continue;
    const double gain = best == nullptr ? 1 : power(next, aim).value - power(*best, aim).value;
    if (gain > 0 || (gain == 0 && less_demanding(next, *best, all)))
      best = &next;
  }
  return best;
}

namespace {

/// So many animals, or as many as a plan may put in a group.
std::size_t in_a_group(std::size_t animals) {
  return std::min(animals, PlanChoices::most_in_group);
}

} // namespace

std::vector<PlanCase> remedies(const PlanOption& best, const PlannedFlock& flock) {
  std::vector<PlanCase> cases;
  for (const double times : {1.5, 2.0, 3.0, 5.0, 10.0, 20.0}) {
    PlanCase more{PlanCase::Kind::more_eggs, flock, best};
    more.flock.mean_epg *= times;
    cases.push_back(std::move(more));
  }
  std::size_t largest = best.group_size;
  for (const double times : {1.5, 2.0, 3.0, 5.0}) {
    PlanCase more{PlanCase::Kind::more_animals, flock, best};
    more.option.group_size = in_a_group(
        static_cast<std::size_t>(std::ceil(times * static_cast<double>(best.group_size))));
    if (more.option.group_size > std::exchange(largest, more.option.group_size))
      cases.push_back(std::move(more));
  }
  if (flock.animals && flock.classes.size() > 1) {
    PlanCase one{PlanCase::Kind::one_drench, flock, best};
    one.flock.classes.resize(1);
    one.option.group_size = in_a_group(*flock.animals / (best.design == Design::paired ? 1 : 2));
    cases.push_back(std::move(one));
  }
  return cases;
}

PlanCase poor_flock(const PlanOption& option, const PlannedFlock& flock, const Pilot& pilot) {
  PlanCase poor{PlanCase::Kind::poor_flock, flock, option};
  poor.flock.mean_epg = pilot.lower_mean_epg;
  poor.flock.k = pilot.lower_k;
  return poor;
}

PlanQuestion question_of(const PlanCase& plan_case, const PlanAim& aim) {
  PlanQuestion question{
      plan_case.flock,
      {{plan_case.option.design}, {plan_case.option.group_size}, {plan_case.option.counting}},
      aim};
  question.flock.animals.reset();
  question.aim.efficacies.clear();
  return question;
}

const PlannedOption* recommended(const Plan& plan) {
  std::vector<PlannedOption> meeting;
  std::ranges::copy_if(plan.all, std::back_inserter(meeting), [&](const PlannedOption& planned) {
    return meets_minima(planned, plan.question);
  });
  const PlannedOption* best = least_demanding(meeting, plan.question.aim);
  if (best == nullptr)
    return least_demanding(plan.all, plan.question.aim);
  return &*std::ranges::find(plan.all, best->option, &PlannedOption::option);
}

std::vector<PlanCase> cases_to_try(const Plan& plan) {
  if (plan.all.empty())
    throw CalculationError("a plan of no design");
  const PlannedOption* const best = recommended(plan);
  const PlanOption& option =
      (best != nullptr ? best : most_powerful(plan.all, plan.question.aim))->option;
  std::vector<PlanCase> cases;
  if (best == nullptr)
    cases = remedies(option, plan.question.flock);
  if (plan.pilot)
    cases.push_back(poor_flock(option, plan.question.flock, *plan.pilot));
  return cases;
}

} // namespace eggfall
