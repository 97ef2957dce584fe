#pragma once

#include <cstddef>
#include <string_view>

namespace eggfall {

/// `use(line)` of each line of a text, with its ending (LF, CR LF or CR), until it says false.
template <typename Use> void each_line(std::string_view text, Use use) {
  while (!text.empty()) {
    const std::size_t position = text.find_first_of("\r\n");
    std::size_t size = position == std::string_view::npos ? text.size() : position + 1;
    if (size < text.size() && text[size - 1] == '\r' && text[size] == '\n')
      ++size;
    if (!use(text.substr(0, size)))
      return;
    text.remove_prefix(size);
  }
}

} // namespace eggfall
