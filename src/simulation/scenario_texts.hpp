#pragma once

#include <string_view>
#include <vector>

namespace eggfall {

/// The TOML of the scenarios that are compiled in, in the order they are listed in.
const std::vector<std::string_view>& scenario_texts();

} // namespace eggfall
