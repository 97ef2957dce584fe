#pragma once

#include "eggfall/base/verbosity.hpp"
#include "eggfall/simulation/audit.hpp"

#include <string>

namespace eggfall {

/// An audit for the screen, 80 columns: one cell in full; of several, what each method is worth
/// over all of them. Verbosity::full also shows every interval method under every criterion.
std::string audit_text(const AuditResult& result, Verbosity verbosity);

/// What is unusual about a cell, such as "k 0.3 after treatment"; empty if nothing is.
std::string unusual(const AuditCell& cell);

/// One row a cell and method, as CSV.
std::string audit_csv(const AuditResult& result);

} // namespace eggfall
