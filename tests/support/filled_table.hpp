#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

namespace support {

/// The cells of a line without quotes.
inline std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::size_t from = 0;
  for (std::size_t comma = line.find(','); comma != std::string::npos;
       comma = line.find(',', from)) {
    cells.push_back(line.substr(from, comma - from));
    from = comma + 1;
  }
  cells.push_back(line.substr(from));
  return cells;
}

/// A CSV table without quotes, in which `value` puts cells by the name of their column and by row
/// (from 0); what it gives nothing for stays as it is.
inline std::string
filled(const std::string& csv,
       const std::function<std::optional<std::string>(const std::string&, std::size_t)>& value) {
  std::istringstream lines(csv);
  std::string line;
  std::getline(lines, line);
  const auto without_return = [](std::string text) {
    return text.ends_with('\r') ? text.substr(0, text.size() - 1) : text;
  };
  const std::vector<std::string> heads = cells_of(without_return(line));
  std::string text = line + '\n';
  for (std::size_t row = 0; std::getline(lines, line); ++row) {
    std::vector<std::string> cells = cells_of(without_return(line));
    for (std::size_t i = 0; i < cells.size(); ++i)
      text += (i == 0 ? "" : ",") + value(heads.at(i), row).value_or(cells[i]);
    text += '\n';
  }
  return text;
}

} // namespace support
