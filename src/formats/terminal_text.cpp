#include "formats/terminal_text.hpp"

#include "base/text.hpp"

#include <algorithm>

namespace eggfall {
namespace {

constexpr std::size_t entry_label_width = 12; ///< With its indent; an entry's text starts after it.

std::string blanks(std::size_t count) {
  return std::string(count, ' ');
}

/// The blanks that `text` lacks to be `width` characters long.
std::string padding(std::string_view text, std::size_t width) {
  return blanks(width - std::min(width, character_count(text)));
}

std::string cells_text(const std::vector<TerminalColumn>& columns,
                       const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const TerminalColumn& column = columns.at(i);
    const std::string missing = padding(cells[i], column.width);
    out += blanks(column.gap);
    out += column.side == Side::right ? missing + cells[i] : cells[i] + missing;
  }
  return out;
}

} // namespace

std::string paragraph(std::string_view text, std::string_view indent) {
  std::string out;
  for (const std::string& line : wrapped(text, terminal_width - indent.size()))
    out.append(indent).append(line) += '\n';
  return out;
}

std::string hanging(std::string_view lead, std::string_view text) {
  const std::size_t width = character_count(lead);
  std::string out;
  for (const std::string& line : wrapped(text, terminal_width - std::min(width, terminal_width)))
    out.append(out.empty() ? std::string(lead) : blanks(width)).append(line) += '\n';
  return out;
}

std::string entry(std::string_view label, std::string_view text, std::string_view bullet) {
  const std::string indented = "  " + std::string(label);
  return hanging(indented + padding(indented, entry_label_width) + std::string(bullet), text);
}

std::string heading(std::string_view text, std::string_view indent) {
  return '\n' + paragraph(text, indent);
}

std::string dashed_line() {
  return std::string(terminal_width, '-') + '\n';
}

std::string shortened(std::string_view name, std::size_t width) {
  constexpr std::string_view dots = "...";
  return character_count(name) <= width
             ? std::string(name)
             : wrapped(name, width - dots.size()).front() + std::string(dots);
}

std::string TerminalTable::row(std::string_view name, const std::vector<std::string>& cells) const {
  const std::string rest = cells_text(columns, cells);
  const std::string first_indent = blanks(indent);
  if (character_count(name) <= name_width)
    return first_indent + std::string(name) + padding(name, name_width) + rest + '\n';
  const std::string next_indent = blanks(indent + 2);
  std::string out;
  if (long_name == LongName::goes_on_below) {
    for (const std::string& line : wrapped(name, name_width))
      out += out.empty() ? first_indent + line + padding(line, name_width) + rest + '\n'
                         : next_indent + line + '\n';
    return out;
  }
  std::size_t used = 0;
  for (const std::string& line : wrapped(name, terminal_width - next_indent.size())) {
    const std::string& before = out.empty() ? first_indent : next_indent;
    out += (out.empty() ? "" : "\n") + before + line;
    used = before.size() + character_count(line);
  }
  const std::size_t start = indent + name_width;
  if (used > start)
    return out + '\n' + blanks(start) + rest + '\n';
  return out + blanks(start - used) + rest + '\n';
}

} // namespace eggfall
