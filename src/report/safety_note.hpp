#pragma once

#include <string>

namespace eggfall {

/// The cautions of the trade, in one paragraph: for all that sends someone to the yard or bench.
std::string cautions();

} // namespace eggfall
