#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// A cell of a table of an audit.
struct AuditValue {
  std::string text;
  std::string after = {};    ///< Of less weight, such as a Monte Carlo error.
  bool below_target = false; ///< A coverage below coverage_target().
};

struct AuditTable {
  std::string heading;
  std::string note; ///< The same of tables of one kind, and to be said once.
  std::vector<std::string> heads;
  std::vector<std::vector<AuditValue>> rows; ///< As long as the heads.
};

/// What an audit says of its methods and criteria, each number in one table alone. Design by
/// design in each kind of table: coverage and width of every interval; the worst cells by what is
/// unusual about them, if there are several kinds; on which side intervals miss; false claims by
/// criterion; and classes by true efficacy.
std::vector<AuditTable> summary_tables(const AuditResult& result);

/// Coverage and width in each cell, a table a design.
std::vector<AuditTable> farm_tables(const AuditResult& result);

} // namespace eggfall
