#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// All criteria, a line each, as plain text of at most 80 columns.
std::string cut_offs_list(const CutOffs& cut_offs);

/// One criterion with its rule, rows, minima and sources, at most 80 columns.
std::string criteria_explained(const Criteria& criteria);

/// The cut-offs as JSON, schema "eggfall.cut-offs-list/1".
std::string cut_offs_json(const CutOffs& cut_offs);

/// Which criteria's numbers a reader must check, because they are from memory, in lines of at most
/// 80 columns; empty for none.
std::string check_note(const std::vector<std::string>& titles);

} // namespace eggfall
