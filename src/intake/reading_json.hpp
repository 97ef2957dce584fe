#pragma once

#include "intake/understand.hpp"

#include <string>

namespace eggfall {

/// What tables were taken for, schema "eggfall.reading/1" (docs/data-format.md).
std::string reading_json(const UnderstoodTables& tables);

} // namespace eggfall
