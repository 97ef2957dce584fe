#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// A name without its namespace's prefix: writers of workbooks choose these as they like.
std::string_view local_name(std::string_view name);

bool is_named(const pugi::xml_node& node, std::string_view name);

pugi::xml_node child_named(const pugi::xml_node& parent, std::string_view name);

/// All text directly within a node.
std::string text_within(const pugi::xml_node& node);

} // namespace eggfall
