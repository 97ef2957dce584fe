#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace eggfall {

/// The line, from 1, of the first key of more than `most` parts (a.b.c has three); nothing if there
/// is none. Texts and comments are passed over; what is no TOML may be read in any way.
std::optional<std::size_t> line_of_long_key(std::string_view toml, std::size_t most);

} // namespace eggfall
