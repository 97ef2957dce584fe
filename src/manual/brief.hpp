#pragma once

#include <algorithm>
#include <string>

namespace eggfall::manual {

/// What of an option's text a list of options has room for: up to the first bracket or semicolon.
std::string brief(const std::string& text);

} // namespace eggfall::manual
