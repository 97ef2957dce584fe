#include "eggfall/base/error.hpp"

#include "base/cell_reference.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

std::string join_messages(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty())
      text += '\n';
    text += problem.message();
  }
  return text;
}

std::string place_in_sheet(const Problem& problem) {
  std::string text = problem.source.shown();
  if (problem.line > 0)
    text += ", " + (problem.column > 0 ? to_string(CellReference{problem.line, problem.column})
                                       : problem.source.line(problem.line));
  if (!problem.column_name.empty())
    text += fmt::format(" ({})", problem.column_name);
  return text;
}

std::string place_in_text(const Problem& problem) {
  std::string text = problem.source.shown();
  if (problem.line > 0)
    text += fmt::format(":{}", problem.line);
  if (problem.column > 0)
    text += fmt::format(": column {}", problem.column);
  if (!problem.column_name.empty())
    text += problem.column > 0 ? fmt::format(" ({})", problem.column_name)
                               : fmt::format(": {}", problem.column_name);
  return text;
}

} // namespace

std::string Problem::message() const {
  return fmt::format("{}: found {}; expected {}",
                     source.is_sheet() ? place_in_sheet(*this) : place_in_text(*this), found,
                     expected);
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(join_messages(problems)), problems_(std::move(problems)) {}

} // namespace eggfall
