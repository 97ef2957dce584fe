#include "support/written_grid.hpp"

#include "support/made_ods.hpp"

#include <cstddef>

namespace {

/// In Windows-1252 or UTF-16; what is read has no other characters than these.
std::u32string characters_of(const std::string& text) {
  std::u32string characters;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto lead = static_cast<unsigned char>(text[i]);
    if (lead < 0x80)
      characters += lead;
    else
      characters += ((lead & 0x1FU) << 6U) | (static_cast<unsigned char>(text[++i]) & 0x3FU);
  }
  return characters;
}

} // namespace

std::string in_windows_1252(const std::string& text) {
  std::string bytes;
  for (const char32_t character : characters_of(text))
    bytes += character == U'œ' ? '\x9C' : character == U'Œ' ? '\x8C' : static_cast<char>(character);
  return bytes;
}

std::string in_utf_16(const std::string& text) {
  std::string bytes = "\xFF\xFE";
  for (const char32_t character : characters_of(text)) {
    bytes += static_cast<char>(character & 0xFFU);
    bytes += static_cast<char>(character >> 8U);
  }
  return bytes;
}

std::string csv_of(const Grid& grid, char separator) {
  std::string text;
  for (const Row& row : grid) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i > 0)
        text += separator;
      const bool quotes = row[i].find(separator) != std::string::npos;
      text += quotes ? '"' + row[i] + '"' : row[i];
    }
    text += '\n';
  }
  return text;
}

std::string ods_table(const Grid& grid, const std::string& name) {
  std::string rows;
  for (const Row& row : grid) {
    rows += "<table:table-row>";
    for (std::string cell : row) {
      const bool digits = !cell.empty() && cell.size() < 9 && // and no leading zeros
                          cell.find_first_not_of("0123456789") == std::string::npos;
      if (const std::size_t below = cell.find('<'); below != std::string::npos)
        cell.replace(below, 1, "&lt;");
      rows += cell.empty() ? "<table:table-cell/>" : digits ? ods_number(cell) : ods_text(cell);
    }
    rows += "</table:table-row>";
  }
  return "<table:table table:name=\"" + name + "\">" + rows + "</table:table>";
}
