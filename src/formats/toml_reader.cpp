#include "formats/toml_reader.hpp"

#include <algorithm>

namespace eggfall {
namespace {

/// Bytes of the text that starts at the quotes in front of `rest`, up to its closing quotes, or to
/// the end of the line (or, of one in three quotes, of everything) if they are missing.
std::size_t size_of_text(std::string_view rest) {
  const char quote = rest.front();
  const bool over_lines = rest.starts_with("\"\"\"") || rest.starts_with("'''");
  const std::string_view quotes = rest.substr(0, over_lines ? 3 : 1);
  for (std::size_t position = quotes.size(); position < rest.size(); ++position) {
    if (rest.substr(position).starts_with(quotes))
      return position + quotes.size();
    if (rest[position] == '\n' && !over_lines)
      return position;
    if (rest[position] == '\\' && quote == '"')
      ++position;
  }
  return rest.size();
}

} // namespace

std::optional<std::size_t> line_of_long_key(std::string_view toml, std::size_t most) {
  std::size_t line = 1;
  std::size_t parts = 1;
  while (!toml.empty()) {
    const char c = toml.front();
    std::size_t size = 1;
    if (c == '"' || c == '\'') {
      size = size_of_text(toml);
      line += static_cast<std::size_t>(std::ranges::count(toml.substr(0, size), '\n'));
    } else if (c == '#') {
      size = std::min(toml.find('\n'), toml.size());
    } else if (c == '.') {
      if (++parts > most)
        return line;
    } else if (std::string_view("=,[]{}\n").find(c) != std::string_view::npos) {
      parts = 1;
      line += c == '\n' ? 1 : 0;
    }
    toml.remove_prefix(size);
  }
  return std::nullopt;
}

} // namespace eggfall
