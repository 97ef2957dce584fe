#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/base/verbosity.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <string>

namespace eggfall {

/// One trial's result as plain text of at most 80 columns, without colour.
std::string analysis_summary(const TrialAnalysis& trial, Verbosity verbosity,
                             const SettingNames& names = library_names);

} // namespace eggfall
