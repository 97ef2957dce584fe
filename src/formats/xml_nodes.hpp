#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// A name without its namespace's prefix: writers of workbooks choose these as they like.
std::string_view local_name(std::string_view name);

bool is_named(const pugi::xml_node& node, std::string_view name);

pugi::xml_node child_named(const pugi::xml_node& parent, std::string_view name);

/// The value of an attribute, whatever its prefix; empty if there is none.
std::string_view attribute_named(const pugi::xml_node& node, std::string_view name);

/// The node after `node` in the order of the document, of those within `root` (at whatever depth,
/// and without recursion: a file may nest them as deep as it likes); nothing after the last.
/// `into` says whether the children of `node` come next, or are passed over.
pugi::xml_node next_within(const pugi::xml_node& root, const pugi::xml_node& node, bool into);

/// All text directly within a node.
std::string text_within(const pugi::xml_node& node);

} // namespace eggfall
