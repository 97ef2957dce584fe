#pragma once

#include <pugixml.hpp>

#include <string>

namespace support {

/// The words of an element that people see, pieces set apart by spaces; without those of figures.
inline std::string words_of(pugi::xml_node node) {
  if (node.type() == pugi::node_pcdata)
    return std::string(node.value()) + " ";
  std::string words;
  if (std::string_view(node.name()) != "svg" && std::string_view(node.name()) != "style")
    for (const pugi::xml_node child : node.children())
      words += words_of(child);
  return words;
}

} // namespace support
