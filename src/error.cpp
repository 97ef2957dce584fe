#include "eggfall/error.hpp"

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

} // namespace

std::string Problem::message() const {
  std::string text = source;
  if (line > 0)
    text += fmt::format(":{}", line);
  if (column > 0)
    text += fmt::format(": column {}", column);
  if (!column_name.empty())
    text += column > 0 ? fmt::format(" ({})", column_name) : fmt::format(": {}", column_name);
  return text + fmt::format(": found {}; expected {}", found, expected);
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(join_messages(problems)), problems_(std::move(problems)) {}

} // namespace eggfall
