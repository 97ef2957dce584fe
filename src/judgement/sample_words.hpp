#pragma once

#include "eggfall/judgement/group_evidence.hpp"

#include <string>
#include <string_view>

// Samples in words.
namespace eggfall {

/// "14 animals", "5 pools of 50 animals", "4 pools and 1 single animal, 41 animals in all". `kind`
/// is of the animals: "treated ", ...
std::string sampled_in_words(const SampleSummary& sample, std::string_view kind = "");

/// "pool", "animal", or "sample" where there are both.
std::string_view sampled_unit(const SampleSummary& sample);

} // namespace eggfall
