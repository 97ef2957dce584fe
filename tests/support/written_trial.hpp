#pragma once

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include "support/support.hpp"

namespace support {

/// A trial for the writers of results: Trial A beside a control, and a group whose names are hard
/// to print and whose counts cannot be compared.
inline eggfall::TrialAnalysis written_trial() {
  eggfall::Group control = group("C", {}, trial_a::control, 15, 15);
  control.role = eggfall::Role::control;
  eggfall::Group odd = group("a \"quoted\", long-named group of animals \xC3\xA9", {0, 0}, {1, 0});
  odd.drench = "a drench with a name that goes on and on until it does not fit the line at all";
  return eggfall::analyse({"t", {group("T", trial_a::before, trial_a::after, 15, 5), odd, control}},
                          eggfall::published_cut_offs(), {});
}

} // namespace support
