#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// One cell of an audit's table.
struct AuditValue {
  std::string text;
  std::string after = {}; ///< What stands behind it in lighter type, such as a Monte Carlo error.
  bool below_target = false; ///< A coverage below coverage_target().
};

struct AuditTable {
  std::string heading;
  std::string note; ///< The same for all tables of one kind, so that it is said once.
  std::vector<std::string> heads;
  std::vector<std::vector<AuditValue>> rows; ///< As long as the heads.
};

/// What an audit says of its methods and criteria, each number in one table alone. Design by
/// design in each kind of table: coverage and width of every interval; the worst farms by what is
/// unusual about them, if there are several kinds; on which side intervals miss; false claims by
/// criterion; and classes by true efficacy.
std::vector<AuditTable> summary_tables(const AuditResult& result);

/// Coverage and width on each farm, in one table for each design.
std::vector<AuditTable> farm_tables(const AuditResult& result);

} // namespace eggfall
