#include "simulation/audit_page.hpp"

#include "base/user_text.hpp"
#include "simulation/audit_tables.hpp"
#include "simulation/audit_text.hpp"

#include <fmt/format.h>

#include <string_view>

namespace eggfall {
namespace {

/// Marks of Markdown, and of HTML in it.
constexpr std::string_view all_marks = R"(\`*_{}[]()<>#&!|~)";
/// Those that mean something in a cell of a table. Brackets alone do not: a link needs square ones
/// before them.
constexpr std::string_view marks_in_cells = R"(\`*_{}[]<>#&!|~)";

/// Words that Markdown is to show as they are.
std::string markdown_words(std::string_view text, std::string_view marks = all_marks) {
  std::string out;
  for (const char c : without_controls(text)) {
    if (marks.find(c) != std::string_view::npos)
      out += '\\';
    out += c;
  }
  return out;
}

std::string markdown_row(const std::vector<std::string>& cells) {
  return fmt::format("| {} |\n", fmt::join(cells, " | "));
}

std::string markdown_cell(const AuditValue& value) {
  const std::string_view bold = value.below_target ? "**" : "";
  return fmt::format("{0}{1}{0}{2}", bold, markdown_words(value.text, marks_in_cells),
                     markdown_words(value.after, marks_in_cells));
}

std::string markdown_table(const AuditTable& table) {
  std::string out =
      markdown_row(table.heads) + markdown_row(std::vector<std::string>(table.heads.size(), "---"));
  for (const std::vector<AuditValue>& row : table.rows) {
    std::vector<std::string> cells;
    for (const AuditValue& value : row)
      cells.push_back(markdown_cell(value));
    out += markdown_row(cells);
  }
  return out;
}

/// Tables that follow each other; what those of a kind have to say stands before the first.
std::string markdown_tables(const std::vector<AuditTable>& tables) {
  std::string out;
  std::string_view said;
  for (const AuditTable& table : tables) {
    out += fmt::format("\n## {}\n\n", markdown_words(table.heading, marks_in_cells));
    if (table.note != said)
      out += markdown_words(table.note, marks_in_cells) + "\n\n";
    said = table.note;
    out += markdown_table(table);
  }
  return out;
}

} // namespace

std::string audit_page(const AuditResult& result, const std::string& title) {
  std::string out = fmt::format("# {}\n\nMade by `eggfall audit --page`, version {}: {} "
                                "Do not edit; docs/audit.md says how to read it.\n\n",
                                markdown_words(title), result.version, how_simulated(result));
  for (const std::string& note : audit_notes(result))
    out += markdown_words(note, marks_in_cells) + "\n\n";
  out.pop_back(); // each table starts with an empty line of its own
  out += markdown_tables(summary_tables(result)) + markdown_tables(farm_tables(result));
  return out;
}

} // namespace eggfall
