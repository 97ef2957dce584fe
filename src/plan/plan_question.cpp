#include "eggfall/plan/plan_question.hpp"

#include "base/check_range.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <string_view>

namespace eggfall {
namespace {

std::size_t treated_groups(const PlannedFlock& flock) {
  return std::max<std::size_t>(1, flock.classes.size());
}

std::size_t groups(Design design, const PlannedFlock& flock) {
  return treated_groups(flock) + (design == Design::paired ? 0 : 1);
}

} // namespace

PlanAim plan_aim(const Criteria& criteria, const PlannedFlock& flock) {
  PlanAim aim;
  std::vector<std::vector<DrugClass>> groups;
  for (const DrugClass drug_class : flock.classes)
    groups.push_back({drug_class});
  if (groups.empty())
    groups.emplace_back();
  for (const std::vector<DrugClass>& classes : groups) {
    Group group;
    group.host = flock.host;
    group.worm = flock.worm;
    group.classes = classes;
    const CutOffChoice choice = choose_cut_off(criteria, group);
    // As in an analysis, only a rule of the user's own covers what is no roundworm.
    if (const auto other = not_a_roundworm(flock.worm);
        other &&
        (choice.cut_off == nullptr || choice.cut_off->citation.provenance != Provenance::user))
      throw InputError(fmt::format("the worm {}: no rule here is for {}. {} Expected a roundworm, "
                                   "such as strongyles, or cut-offs of your own for {}",
                                   in_quotes(flock.worm), other->called, other->why,
                                   other->called));
    if (choice.cut_off == nullptr)
      throw InputError(fmt::format("{}{}{}: {}", criteria.title, classes.empty() ? "" : ", ",
                                   to_string(classes), choice.why_not));
    const auto known = std::ranges::find_if(aim.criteria, [&](const AuditCriterion& criterion) {
      return criterion.cut_off.expected == choice.cut_off->expected &&
             criterion.cut_off.lower == choice.cut_off->lower;
    });
    const auto position = static_cast<std::size_t>(known - aim.criteria.begin());
    if (known == aim.criteria.end()) {
      aim.criteria.push_back(audit_criteria({criteria}, group).front());
      aim.classes.emplace_back();
    }
    aim.classes[position].insert(aim.classes[position].end(), classes.begin(), classes.end());
    for (const Minimum* minimum : minima_for(criteria, group))
      if (std::ranges::find(aim.minima, *minimum) == aim.minima.end())
        aim.minima.push_back(*minimum);
  }
  return aim;
}

double clearly_works(const AuditCriterion& criterion) {
  return std::max(0.995, (1 + criterion.cut_off.expected) / 2);
}

double clearly_fails(const AuditCriterion& criterion) {
  return std::min(0.80, criterion.cut_off.lower.value_or(criterion.cut_off.expected) - 0.10);
}

PlanDemand demand(const PlanOption& option, const PlannedFlock& flock) {
  PlanDemand needs;
  needs.animals = option.group_size * groups(option.design, flock);
  needs.samples = needs.animals * (option.design == Design::two_group ? 1 : 2);
  const auto samples = static_cast<double>(needs.samples);
  if (option.counting.cost)
    needs.cost = samples * *option.counting.cost;
  if (option.counting.minutes)
    needs.hours = samples * *option.counting.minutes / 60;
  needs.eggs_a_sample = flock.mean_epg / option.counting.factor.value();
  needs.eggs_a_group = needs.eggs_a_sample * static_cast<double>(option.group_size);
  return needs;
}

void check(const PlanQuestion& question) {
  const auto& [flock, choices, aim] = question;
  if (aim.criteria.empty())
    throw InputError("a plan without criteria; expected one for each class");
  if (choices.designs.empty() || choices.group_sizes.empty() || choices.counting.empty())
    throw InputError("a plan without a choice; expected a design, a group size and a way of "
                     "counting, or several of each");
  check_range("the wanted chance", aim.power, PlanAim::powers_percent.least / 100,
              PlanAim::powers_percent.most / 100);
  for (const double efficacy : aim.efficacies)
    check_range("a true efficacy", efficacy, 0, 1);
  for (const std::size_t size : choices.group_sizes)
    check_range("a group size", static_cast<double>(size), PlanChoices::least_in_group,
                PlanChoices::most_in_group);
  for (const Design design : choices.designs)
    if (design == Design::baseline)
      throw InputError("the design baseline; expected paired, two-group or controlled");
  const std::vector<PlanOption> all = options(question);
  if (all.empty()) {
    const std::size_t least = *std::ranges::min_element(choices.group_sizes);
    throw InputError(
        fmt::format("{} animals; expected {} or more: a group size of {} for each of {} groups",
                    flock.animals.value_or(0), least * groups(choices.designs.front(), flock),
                    least, groups(choices.designs.front(), flock)));
  }
  for (const AuditFarm& farm : farms(question))
    check(farm);
}

std::vector<PlanOption> options(const PlanQuestion& question) {
  std::vector<PlanOption> all;
  for (const Design design : question.choices.designs)
    for (const CountingChoice& counting : question.choices.counting)
      for (const std::size_t size : question.choices.group_sizes)
        if (const PlanOption option{design, size, counting};
            !question.flock.animals ||
            demand(option, question.flock).animals <= *question.flock.animals)
          all.push_back(option);
  return all;
}

std::vector<double> simulated_efficacies(const PlanAim& aim) {
  std::vector<double> all = aim.efficacies;
  for (const AuditCriterion& criterion : aim.criteria)
    all.insert(all.end(), {clearly_works(criterion), clearly_fails(criterion)});
  std::ranges::sort(all, std::ranges::greater());
  // Clang 14 cannot compile the subrange that std::ranges::unique of libstdc++ 12 returns.
  all.erase(std::unique(all.begin(), all.end(), same_efficacy), all.end());
  return all;
}

std::vector<AuditFarm> farms(const PlanOption& option, const PlanQuestion& question) {
  const PlannedFlock& flock = question.flock;
  std::vector<AuditFarm> result;
  for (const double efficacy : simulated_efficacies(question.aim)) {
    CountModel model;
    model.animals = option.group_size;
    model.control_animals = option.design == Design::paired ? 0 : option.group_size;
    model.mean_eggs = flock.mean_epg / option.counting.factor.value();
    model.efficacy = efficacy;
    model.k = flock.k;
    model.within_cv = flock.within_cv;
    model.season_change = flock.season_change;
    model.factor_before = model.factor_after = option.counting.factor;
    result.push_back({option.design, model});
  }
  return result;
}

std::vector<AuditFarm> farms(const PlanQuestion& question) {
  std::vector<AuditFarm> all;
  for (const PlanOption& option : options(question))
    std::ranges::move(farms(option, question), std::back_inserter(all));
  return all;
}

AuditSettings plan_settings(const PlanAim& aim, std::size_t trials, std::uint64_t seed) {
  AuditSettings settings;
  settings.trials = trials;
  settings.seed = seed;
  settings.quadrature = coarse_quadrature;
  settings.methods = {judging_method(aim.criteria.front())};
  settings.criteria = aim.criteria;
  return settings;
}

std::vector<NamedMinimum> published_minima(const CutOffs& cut_offs, const PlannedFlock& flock) {
  Group group;
  group.host = flock.host;
  group.worm = flock.worm;
  group.classes = flock.classes;
  std::vector<NamedMinimum> minima;
  for (const Criteria& criteria : cut_offs.criteria)
    for (const Minimum* minimum : minima_for(criteria, group))
      minima.push_back({minimum->citation.source == criteria.citation.source
                            ? criteria.title
                            : minimum->citation.source,
                        *minimum});
  return minima;
}

bool same_efficacy(double one, double other) {
  return std::abs(one - other) < 1e-9;
}

} // namespace eggfall
