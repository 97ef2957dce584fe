#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// The result as one self-contained HTML page for screen, phone and paper: the panels of
/// coverage_panels() and verdict_panels(), each by itself so that they flow, audit_notes(),
/// summary_tables(), and farm_tables() to be opened.
std::string audit_html_page(const AuditResult& result, std::string_view title);

} // namespace eggfall
