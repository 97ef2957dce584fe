#pragma once

#include "eggfall/base/verbosity.hpp"
#include "eggfall/plan/plan.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// What a plan advises, sentence by sentence: the design to choose and why, the cheapest that will
/// do, or why this flock cannot answer and when to come back.
std::vector<std::string> plan_advice(const Plan& plan);

/// A plan for the screen, 80 columns. Verbosity::full also has the chance of each class with its
/// Monte Carlo error.
std::string plan_text(const Plan& plan, Verbosity verbosity);

/// One row a design, true efficacy and criterion, as CSV.
std::string plan_csv(const Plan& plan);

/// What a plan takes for granted, what guidelines ask for, and what must be checked.
std::vector<std::string> plan_notes(const Plan& plan);

/// The options in runs of one design and way of counting.
std::vector<std::vector<const PlannedOption*>> alike_but_for_size(const Plan& plan);

/// The group sizes that are in a plan, in order of appearance.
std::vector<std::size_t> group_sizes(const Plan& plan);

/// The option that a page shows in full: the recommended() one, or, if none will do, the
/// most_powerful().
const PlannedOption& shown_option(const Plan& plan);

/// "12 animals a group (paired), one egg for 50 EPG".
std::string in_words(const PlanOption& option);

/// The efficacies of a criterion's table, the highest first: at most six.
std::vector<double> shown_efficacies(const Plan& plan, const AuditCriterion& criterion);

} // namespace eggfall
