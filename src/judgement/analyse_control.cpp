#include "judgement/analyse_control.hpp"

#include "eggfall/statistics/evidence.hpp"
#include "judgement/own_fall.hpp"
#include "trial/trial_lookup.hpp"
#include "trial/visits.hpp"

#include <optional>
#include <utility>

namespace eggfall {

ControlAnalysis analyse_control(const Group& control, const PosteriorPriors& priors) {
  ControlAnalysis analysis;
  analysis.group = control;
  analysis.before = summarise(counts_when(control.animals, &Animal::before));
  analysis.after = summarise(counts_when(control.animals, &Animal::after));
  if (const auto paired = compare(Design::paired, control, nullptr)) {
    analysis.sampled_twice = paired->arms.front().above.size();
    const auto season = season_told_by(&control, priors);
    analysis.reduction = Evidence(*paired, priors).reduction();
    if (season)
      analysis.season = season->law;
  }
  analysis.animal_results = animal_results(control);
  analysis.days = check_days(control, {}); // untreated, so no day is usual: its dates count
  return analysis;
}

const ControlAnalysis* ControlsByDay::on(std::optional<int> day) {
  if (control_ == nullptr)
    return nullptr;
  if (has_own_after(*control_))
    day.reset();
  const auto found = by_day_.find(day);
  if (found != by_day_.end())
    return &found->second;
  return &by_day_
              .emplace(day, analyse_control(day ? on_visit(*control_, *day) : *control_, priors_))
              .first->second;
}

} // namespace eggfall
