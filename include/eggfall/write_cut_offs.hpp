#pragma once

#include "eggfall/cut_offs.hpp"

#include <string>

namespace eggfall {

/// All criteria, a line each, as plain text of at most 80 columns.
std::string cut_offs_list(const CutOffs& cut_offs);

/// One criterion with its rule, rows, minima and sources, at most 80 columns.
std::string criteria_explained(const Criteria& criteria);

/// The cut-offs as JSON, schema "eggfall.cut-offs-list/1".
std::string cut_offs_json(const CutOffs& cut_offs);

} // namespace eggfall
