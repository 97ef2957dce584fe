#include "base/cell_reference.hpp"

#include "base/text.hpp"

#include <algorithm>

namespace eggfall {

std::string column_letters(std::size_t column) {
  constexpr std::size_t letters = 26;
  std::string text;
  for (; column > 0; column = (column - 1) / letters)
    text += static_cast<char>('A' + (column - 1) % letters);
  std::ranges::reverse(text);
  return text;
}

std::string to_string(const CellReference& cell) {
  return column_letters(cell.column) + std::to_string(cell.row);
}

std::optional<CellReference> parse_cell_reference(std::string_view text) {
  constexpr std::size_t letters = 26;
  CellReference cell;
  while (!text.empty() && text.front() >= 'A' && text.front() <= 'Z') {
    cell.column = letters * cell.column + static_cast<std::size_t>(text.front() - 'A') + 1;
    if (cell.column > last_cell.column)
      return std::nullopt;
    text.remove_prefix(1);
  }
  const auto row = parse_size(text);
  if (cell.column == 0 || !row || *row == 0 || *row > last_cell.row)
    return std::nullopt;
  cell.row = *row;
  return cell;
}

} // namespace eggfall
