#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <map>
#include <optional>

namespace eggfall {

/// What became of the untreated animals of a trial, by themselves.
ControlAnalysis analyse_control(const Group& control, const PosteriorPriors& priors);

/// The untreated animals on the days of the treated groups' tests, which differ where those are
/// judged on visits of different days.
class ControlsByDay {
public:
  /// Both must outlive this. `control` may be nullptr.
  ControlsByDay(const Group* control, const PosteriorPriors& priors)
      : control_(control), priors_(priors) {}

  /// `day` is that of a visit (test_day()), or empty for samples that are the test's own, as those
  /// of a control are that has any. nullptr without a control. What it points to stays.
  const ControlAnalysis* on(std::optional<int> day);

private:
  const Group* control_;
  const PosteriorPriors& priors_;
  std::map<std::optional<int>, ControlAnalysis> by_day_;
};

} // namespace eggfall
