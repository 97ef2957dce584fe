#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// All criteria, a line each, as plain text of at most 80 columns.
std::string cut_offs_list(const CutOffs& cut_offs);

/// One criterion with its rule, rows, minima and sources, at most 80 columns.
std::string criteria_explained(const Criteria& criteria);

/// The thresholds of field practice, each with its unit, what it decides and whose it is, at most
/// 80 columns.
std::string field_practice_explained();

/// The same as a table of Markdown, for docs/cut-offs.md.
std::string field_practice_table();

/// The cut-offs and the thresholds of field practice as JSON, schema "eggfall.cut-offs-list/1".
std::string cut_offs_json(const CutOffs& cut_offs);

/// Which criteria's numbers a reader must check, because they are from memory, in lines of at most
/// 80 columns; empty for none.
std::string check_note(const std::vector<std::string>& titles);

} // namespace eggfall
