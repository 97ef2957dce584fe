#pragma once

#include "manual/command_tree.hpp"

#include <string>
#include <string_view>

namespace eggfall::manual {

/// The page of section 1, in the man macros of roff. `date` is that of the page, YYYY-MM-DD.
std::string man_page(const CommandTree& tree, std::string_view date);

} // namespace eggfall::manual
