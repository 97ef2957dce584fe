#pragma once

#include "eggfall/base/verbosity.hpp"
#include "eggfall/simulation/audit.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// An audit for the screen, 80 columns: one farm in full; of several, what each method is worth
/// over all of them. Verbosity::full also shows every interval method under every criterion.
std::string audit_text(const AuditResult& result, Verbosity verbosity);

/// "160 settings, 200 trials of each, seed 1."
std::string how_simulated(const AuditResult& result);

/// What a page says besides its tables, a paragraph each: of one farm alone what was seen and what
/// its verdicts are worth; which cut-offs must be checked; or that this is a part of a job.
std::vector<std::string> audit_notes(const AuditResult& result);

/// What is unusual about a farm, such as "k 0.3 after treatment"; empty if nothing is.
std::string unusual(const AuditFarm& farm);

/// A farm in a line: "15 animals, 10 eggs, k 0.7, within 0.5, efficacy 95.0%", and what is unusual.
std::string farm_words(const AuditFarm& farm);

/// One row a farm and method, as CSV.
std::string audit_csv(const AuditResult& result);

} // namespace eggfall
