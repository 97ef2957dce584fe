#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// The result, or a part of one, as JSON with the schema "eggfall.audit/3": its settings and all
/// tallies, as whole numbers, on a line for each cell and one for each of its methods. No share
/// stands in it, since every share is made of the tallies.
std::string audit_json(const AuditResult& result);

/// Reads back what audit_json() wrote.
/// @throws InputError for what is none, and for what an earlier version wrote.
AuditResult read_audit_json(std::string_view json, const std::string& source);

} // namespace eggfall
