#include "cli/guarded_values.hpp"

#include "cli/values.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <string>
#include <string_view>

namespace eggfall::cli {
namespace {

/// What an option's value is, by the name that CLI11 gives its type, as "FLOAT:INT bounded to ...".
enum class ValueKind { flag, path, whole_number, number, text };

ValueKind kind_of(const CLI::Option& option) {
  if (option.get_items_expected_max() == 0)
    return ValueKind::flag;
  const std::string checked = option.get_type_name();
  const std::string_view type = std::string_view(checked).substr(0, checked.find(':'));
  if (type == file_value || type == folder_value)
    return ValueKind::path;
  if (type == "INT" || type == "UINT")
    return ValueKind::whole_number;
  return type == "FLOAT" ? ValueKind::number : ValueKind::text;
}

std::string refusal(std::string_view found, std::string_view expected) {
  return fmt::format("found {}; expected {}", in_quotes(found), expected);
}

/// Puts the value into its plain form; what is wrong with it, or nothing.
std::string make_plain(ValueKind kind, std::string& value) {
  if (trimmed(value).empty())
    return "found an empty value; expected one (is a variable not set?), or no such option";
  switch (kind) {
  case ValueKind::flag:
  case ValueKind::path:
    return "";
  case ValueKind::whole_number: {
    const auto number = parse_whole_number(value);
    if (!number)
      return refusal(value, "a whole number, in digits alone");
    value = fmt::format("{}", *number);
    return "";
  }
  case ValueKind::number: {
    const auto number = value.find(',') == std::string::npos ? parse_number(value) : std::nullopt;
    if (!number)
      return refusal(value, "a number such as 12 or 0.5");
    value = fmt::format("{}", *number);
    return "";
  }
  case ValueKind::text:
    if (first_invalid_utf8(value))
      return refusal(value, "a text in UTF-8");
    value = normalised(value);
    return "";
  }
  return "";
}

} // namespace

void guard_values(CLI::App& app) {
  for (CLI::Option* const option : app.get_options()) {
    const ValueKind kind = kind_of(*option);
    if (kind != ValueKind::flag)
      option->transform(
          CLI::Validator([kind](std::string& value) { return make_plain(kind, value); }, ""));
  }
  for (CLI::App* const command : app.get_subcommands([](const CLI::App*) { return true; }))
    guard_values(*command);
}

} // namespace eggfall::cli
