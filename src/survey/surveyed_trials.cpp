#include "survey/surveyed_trials.hpp"

#include "trial/trial_time.hpp"
#include "trial/trials_of.hpp"

#include <utility>

namespace eggfall {

std::optional<NumberedTrial> SurveyedTrials::take(Trial trial, const Source& table) {
  if (several_tables_ && !identities_.insert(identity_of(trial)).second)
    refuse_trial_again(table, trial.name);
  add(in_tables_, trial);
  const std::uint64_t number = in_tables_.trials;
  if (!shard_.takes(trial, number))
    return std::nullopt;
  add(taken_, trial);
  return NumberedTrial{number, std::move(trial)};
}

} // namespace eggfall
