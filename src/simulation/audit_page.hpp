#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// What an audit's page says besides the result.
struct AuditPage {
  std::string title;
  std::vector<std::string> figures; ///< Names of SVG files beside the page.
};

/// The result as Markdown: the figures, audit_notes(), summary_tables() and farm_tables().
std::string audit_page(const AuditResult& result, const AuditPage& page);

} // namespace eggfall
