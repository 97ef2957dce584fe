#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>

namespace eggfall {

/// The result as Markdown, in words and tables alone, for a place that shows text: audit_notes(),
/// summary_tables() and farm_tables(). (audit_html_page() has the figures, too.)
std::string audit_page(const AuditResult& result, const std::string& title);

} // namespace eggfall
