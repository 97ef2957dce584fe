#include "formats/xml_nodes.hpp"

namespace eggfall {

std::string_view local_name(std::string_view name) {
  return name.substr(name.find(':') + 1);
}

bool is_named(const pugi::xml_node& node, std::string_view name) {
  return local_name(node.name()) == name;
}

pugi::xml_node child_named(const pugi::xml_node& parent, std::string_view name) {
  return parent.find_child([&](const pugi::xml_node& child) { return is_named(child, name); });
}

std::string_view attribute_named(const pugi::xml_node& node, std::string_view name) {
  return node
      .find_attribute(
          [&](const pugi::xml_attribute& each) { return local_name(each.name()) == name; })
      .value();
}

pugi::xml_node next_within(const pugi::xml_node& root, const pugi::xml_node& node, bool into) {
  if (into && !node.first_child().empty())
    return node.first_child();
  pugi::xml_node here = node;
  while (here != root && here.next_sibling().empty())
    here = here.parent();
  return here == root ? pugi::xml_node() : here.next_sibling();
}

std::string text_within(const pugi::xml_node& node) {
  std::string text;
  for (const pugi::xml_node& child : node)
    if (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata)
      text += child.value();
  return text;
}

} // namespace eggfall
