#pragma once

#include "eggfall/plan/plan.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// The words that texts about a plan share.
namespace eggfall {

/// "93", "fewer than 1", "more than 99": a share as a number of 100, but never none or all of them.
std::string how_many_of_100(double share);

/// "93 of 100", never 0 or 100.
std::string of_100(const Share& share);

/// An efficacy as a percentage without needless digits: "99.95%".
std::string efficacy_text(double efficacy);

/// "94/3": of 100 tests, those that call the drench susceptible, and resistant or low resistant.
std::string both_calls(const PlanOutcome& outcome, const AuditCriterion& criterion,
                       std::size_t index);

/// What a minimum asks of the counts: "a mean of 150 EPG", ...
void add_count_minima(std::vector<std::string>& parts, const Minimum& minimum);

std::string_view design_text(Design design);

/// "BZ and ML", or "the drench" if no class is known.
std::string drug_classes_text(const std::vector<DrugClass>& classes);

} // namespace eggfall
