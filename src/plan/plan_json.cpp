#include "plan/plan_json.hpp"

#include "base/six_digits.hpp"
#include "eggfall/base/version.hpp"
#include "plan/plan_text.hpp"
#include "simulation/share_json.hpp"

#include <algorithm>

namespace eggfall {
namespace {

constexpr std::string_view plan_schema = "eggfall.plan/1";

Json classes_json(const std::vector<DrugClass>& classes) {
  Json json = Json::array();
  for (const DrugClass drug_class : classes)
    json.push_back(to_string(drug_class));
  return json;
}

Json flock_json(const PlannedFlock& flock) {
  return {{"host", flock.host},
          {"worm", flock.worm.empty() ? Json(nullptr) : Json(flock.worm)},
          {"classes", classes_json(flock.classes)},
          {"mean_epg", six_digits(flock.mean_epg)},
          {"k", six_digits(flock.k)},
          {"within_cv", flock.within_cv},
          {"season_change", flock.season_change},
          {"animals", or_null(flock.animals)}};
}

Json pilot_json(const Pilot& pilot) {
  return {{"animals", pilot.animals},
          {"eggs", pilot.eggs},
          {"mean_epg", pilot.mean_epg},
          {"mean_epg_lower", six_digits(pilot.lower_mean_epg)},
          {"mean_epg_upper", six_digits(pilot.upper_mean_epg)},
          {"k", six_digits(pilot.k)},
          {"k_lower", six_digits(pilot.lower_k)},
          {"k_upper", six_digits(pilot.upper_k)}};
}

Json aim_json(const PlanAim& aim, std::size_t c) {
  const AuditCriterion& criterion = aim.criteria[c];
  return {{"criteria", criterion.name},
          {"classes", classes_json(aim.classes[c])},
          {"expected_percent", in_percent(criterion.cut_off.expected)},
          {"lower_percent", in_percent(criterion.cut_off.lower)},
          {"clearly_works_percent", in_percent(clearly_works(criterion))},
          {"clearly_fails_percent", in_percent(clearly_fails(criterion))},
          {"source", criterion.cut_off.citation.source},
          {"provenance", to_string(criterion.cut_off.citation.provenance)}};
}

Json outcome_json(const PlanOutcome& outcome, const PlanAim& aim, std::size_t c) {
  Json json{{"true_efficacy_percent", in_percent(outcome.efficacy)},
            {"trials", outcome.tally.trials}};
  for (std::size_t v = 0; v < verdict_classes; ++v) {
    const auto verdict_class = static_cast<VerdictClass>(v);
    std::string key(to_string(verdict_class));
    std::ranges::replace(key, ' ', '_');
    json[key] = to_json(chance(outcome, aim.criteria[c], c, verdict_class));
  }
  return json;
}

Json planned_json(const PlannedOption& planned, const PlanAim& aim) {
  Json by_criteria = Json::array();
  for (std::size_t c = 0; c < aim.criteria.size(); ++c) {
    Json outcomes = Json::array();
    for (const PlanOutcome& outcome : planned.outcomes)
      outcomes.push_back(outcome_json(outcome, aim, c));
    by_criteria.push_back({{"classes", classes_json(aim.classes[c])},
                           {"power", to_json(power(planned, aim, c))},
                           {"outcomes", std::move(outcomes)}});
  }
  const PlanDemand& needs = planned.needs;
  return {{"design", to_string(planned.option.design)},
          {"animals_a_group", planned.option.group_size},
          {"factor", planned.option.counting.factor.value()},
          {"animals", needs.animals},
          {"samples", needs.samples},
          {"eggs_a_sample", needs.eggs_a_sample},
          {"eggs_a_group", needs.eggs_a_group},
          {"cost", or_null(needs.cost)},
          {"hours", or_null(needs.hours)},
          {"power", to_json(power(planned, aim))},
          {"by_criteria", std::move(by_criteria)}};
}

std::string_view to_string(PlanCase::Kind kind) {
  switch (kind) {
  case PlanCase::Kind::more_eggs:
    return "more-eggs";
  case PlanCase::Kind::more_animals:
    return "more-animals";
  case PlanCase::Kind::one_drench:
    return "one-drench";
  case PlanCase::Kind::poor_flock:
    break;
  }
  return "poor-flock";
}

Json case_json(const PlannedCase& each, const PlanAim& aim) {
  return {{"kind", to_string(each.plan_case.kind)},
          {"flock", flock_json(each.plan_case.flock)},
          {"design", planned_json(each.planned, aim)}};
}

} // namespace

std::string plan_json(const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  Json criteria = Json::array();
  for (std::size_t c = 0; c < aim.criteria.size(); ++c)
    criteria.push_back(aim_json(aim, c));
  Json designs = Json::array();
  for (const PlannedOption& planned : plan.all)
    designs.push_back(planned_json(planned, aim));
  Json cases = Json::array();
  for (const PlannedCase& each : plan.cases)
    cases.push_back(case_json(each, aim));
  const PlannedOption* const best = recommended(plan);
  const PlannedOption* const cheapest = least_demanding(plan.all, aim);
  const auto index = [&](const PlannedOption* planned) {
    return planned == nullptr ? Json(nullptr) : Json(planned - plan.all.data());
  };
  const Json json{{"schema", plan_schema},
                  {"version", version()},
                  {"seed", plan.settings.seed},
                  {"trials_at_most", plan.settings.trials},
                  {"wanted_percent", in_percent(aim.power)},
                  {"flock", flock_json(plan.question.flock)},
                  {"pilot", plan.pilot ? pilot_json(*plan.pilot) : Json(nullptr)},
                  {"criteria", std::move(criteria)},
                  {"designs", std::move(designs)},
                  {"recommended", index(best)},
                  {"cheapest", index(cheapest)},
                  {"cases", std::move(cases)},
                  {"advice", plan_advice(plan)}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace eggfall
