#include "judgement/analyse_control.hpp"

#include "eggfall/statistics/evidence.hpp"
#include "trial/trial_lookup.hpp"

#include <optional>
#include <utility>

namespace eggfall {

ControlAnalysis analyse_control(const Group& control) {
  ControlAnalysis analysis;
  analysis.group = control;
  analysis.before = summarise(counts_when(control.animals, &Animal::before));
  analysis.after = summarise(counts_when(control.animals, &Animal::after));
  if (const auto paired = compare(Design::paired, control, nullptr)) {
    analysis.sampled_twice = paired->arms.front().above.size();
    const Evidence evidence(*paired, {}, {});
    analysis.reduction = evidence.reduction();
    // So sure that of sound trials no more than 3 of 100 are barred by all bars (docs/bars.md).
    constexpr double level = 0.925;
    if (Interval change = evidence.interval(Method::paired_posterior, level); change.usable())
      analysis.change = std::move(change);
  }
  analysis.animal_results = animal_results(control);
  analysis.days = check_days(control, {}); // untreated, so no day is usual: its dates count
  return analysis;
}

} // namespace eggfall
