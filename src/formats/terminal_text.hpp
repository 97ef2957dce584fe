#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// The pieces that all text for a terminal is made of. Each function gives whole lines, the last one
// ended by a newline, so that pieces are joined by `+`. Widths count characters (code points).
namespace eggfall {

/// Columns of a terminal, into which every line fits.
inline constexpr std::size_t terminal_width = 80;

/// `text` wrapped, each line behind `indent`. An empty text gives no line.
std::string paragraph(std::string_view text, std::string_view indent = "");

/// `text` wrapped behind `lead`, the lines after the first hanging under the first one's start. An
/// empty text gives no line, not even its lead.
std::string hanging(std::string_view lead, std::string_view text);

/// "  Label     text", hanging: what is said of a thing, behind its name, which is empty where the
/// entry above goes on. `bullet` ("- ") marks one of several texts under the same label.
std::string entry(std::string_view label, std::string_view text, std::string_view bullet = "");

/// A paragraph that names what stands below it, with an empty line above.
std::string heading(std::string_view text, std::string_view indent = "");

/// A line across the terminal, which closes the head of an output.
std::string dashed_line();

/// `name`, or as much of it as fits into `width` with dots behind it.
std::string shortened(std::string_view name, std::size_t width);

enum class Side { left, right };

struct TerminalColumn {
  std::size_t width = 0; ///< A longer cell moves those behind it.
  Side side = Side::right;
  std::size_t gap = 0; ///< Blanks before it, on top of its width.
};

/// Where a name longer than its column goes.
enum class LongName {
  goes_on_below, ///< The cells stand behind the name's first line.
  stands_above,  ///< The cells stand below the name, on a line of their own.
};

/// The columns of a table: a name at the left, then cells.
struct TerminalTable {
  std::size_t indent = 2;     ///< Of all rows; a name's further lines have two blanks more.
  std::size_t name_width = 0; ///< Without the indent.
  std::vector<TerminalColumn> columns;
  LongName long_name = LongName::goes_on_below;

  /// A line of the table, or its head. A row of fewer cells than columns ends with its last cell.
  std::string row(std::string_view name, const std::vector<std::string>& cells) const;
};

} // namespace eggfall
