#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// Whether a cell of counts says that there were eggs, and not how many: "TNTC", "positive", "++",
/// "a few". It is no zero, and to leave such an animal out would flatter the drench.
bool says_some_eggs(std::string_view cell);

/// The number of a cell that says "at least": "1000" of ">1000", "> 1000 epg" and "1000+".
std::optional<std::string> least_of(std::string_view cell);

} // namespace eggfall
