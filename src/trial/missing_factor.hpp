#pragma once

#include "eggfall/base/error.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// What a problem finds where eggs were counted and nobody said for how many EPG one of them
/// stands.
inline constexpr std::string_view count_without_factor = "a count without a multiplication factor";

/// What is expected then: a column of that name, or one number for the whole table. `hint`, which
/// may be empty, stands behind the way to find it out.
Wording expected_factor(std::string_view column, const Wording& hint);

/// Whether a table lacks that factor and nothing else, so that one number is all there is to ask
/// for.
bool lacks_the_factor_alone(const InputError& error);

} // namespace eggfall
