#pragma once

#include <string_view>

namespace eggfall {

/// The version of the library and program, for example "0.2.0".
std::string_view version() noexcept;

} // namespace eggfall
