#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// The result, or a part of one, as JSON with the schema "eggfall.audit/2": all tallies as whole
/// numbers, and the shares made of them.
std::string audit_json(const AuditResult& result);

/// Reads back what audit_json() wrote; of the shares nothing is read.
/// @throws InputError for what is none.
AuditResult read_audit_json(std::string_view json, const std::string& source);

} // namespace eggfall
