#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// A name without its namespace's prefix: writers of workbooks choose these as they like.
inline std::string_view local_name(std::string_view name) {
  return name.substr(name.find(':') + 1);
}

inline bool is_named(const pugi::xml_node& node, std::string_view name) {
  return local_name(node.name()) == name;
}

inline pugi::xml_node child_named(const pugi::xml_node& parent, std::string_view name) {
  return parent.find_child([&](const pugi::xml_node& child) { return is_named(child, name); });
}

/// All text directly within a node.
inline std::string text_within(const pugi::xml_node& node) {
  std::string text;
  for (const pugi::xml_node& child : node)
    if (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata)
      text += child.value();
  return text;
}

} // namespace eggfall
