#pragma once

#include "base/text.hpp"

#include <cstddef>
#include <string>

namespace eggfall {

/// "\"A\", \"B\" and more": at most so many of the names.
template <typename Names> std::string quoted_list(const Names& names, std::size_t most) {
  std::string list;
  std::size_t count = 0;
  for (const std::string& name : names) {
    if (count == most)
      return list + " and more";
    list += (count++ == 0 ? "" : ", ") + in_quotes(name);
  }
  return list;
}

} // namespace eggfall
