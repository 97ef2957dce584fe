#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <map>
#include <optional>

namespace eggfall {

/// What became of the untreated animals of a trial, by themselves.
ControlAnalysis analyse_control(const Group& control, const PosteriorPriors& priors);

/// The analyses of the untreated animals, one for each day on which treated groups are judged:
/// these days differ where groups are judged by visits. Each is made on first use, and kept.
class ControlsByDay {
public:
  /// `control`, which may be nullptr, and `priors` must outlive this object.
  ControlsByDay(const Group* control, const PosteriorPriors& priors)
      : control_(control), priors_(priors) {}

  /// The analysis for groups judged on the visit of this `day` (test_day()); an empty `day` stands
  /// for the test's own samples after treatment. A control that has such samples of its own is
  /// always judged by those. nullptr without a control. The pointer stays valid as long as this
  /// object.
  const ControlAnalysis* on(std::optional<int> day);

private:
  const Group* control_;
  const PosteriorPriors& priors_;
  std::map<std::optional<int>, ControlAnalysis> by_day_;
};

} // namespace eggfall
