#include "cli/help.hpp"

#include "cli/values.hpp"

#include "base/text.hpp"
#include "formats/terminal_text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstddef>
#include <string>

namespace eggfall::cli {
namespace {

constexpr std::size_t text_column = 22;

std::string two_columns(const std::string& name, const std::string& text) {
  const std::string lead = fmt::format("  {:<{}} ", name, text_column - 3);
  if (text.empty())
    return lead + '\n';
  return lead.size() > text_column
             ? fmt::format("  {}\n", name) + hanging(std::string(text_column, ' '), text)
             : hanging(lead, text);
}

} // namespace

std::string option_text(const CLI::Option& option) {
  std::string text = option.get_description();
  if (!option.get_default_str().empty())
    text += fmt::format(" (default: {})", option.get_default_str());
  if (option.get_required())
    text += " (needed)";
  return text;
}

std::string value_name(const CLI::Option& option) {
  if (option.get_items_expected_max() == 0)
    return "";
  const std::string checked = option.get_type_name(); // as "FLOAT:POSITIVE"
  std::string type = checked.substr(0, checked.find(':'));
  if (type == file_value || type == folder_value)
    return type;
  return type == "INT" || type == "UINT" || type == "FLOAT" ? "N" : "X";
}

std::string HelpFormatter::make_option(const CLI::Option* option, bool is_positional) const {
  std::string name = option->get_name(is_positional, true);
  if (const std::string value = value_name(*option); !is_positional && !value.empty())
    name += " " + value;
  return two_columns(name, option_text(*option));
}

std::string HelpFormatter::make_subcommand(const CLI::App* command) const {
  return two_columns(command->get_name(), command->get_description());
}

namespace {

/// "1,000", "99.9"
std::string with_thousands(double value) {
  if (value < 1'000 || value != std::floor(value))
    return fmt::format("{:g}", value);
  std::string digits = fmt::format("{:.0f}", value);
  for (auto before = static_cast<std::ptrdiff_t>(digits.size()) - 3; before > 0; before -= 3)
    digits.insert(static_cast<std::size_t>(before), ",");
  return digits;
}

} // namespace

CLI::Validator whole_number(std::uint64_t most, std::uint64_t least) {
  return {[most, least](std::string& text) {
            const auto value = parse_whole_number(text);
            if (value && *value >= least && *value <= most)
              return std::string();
            const std::string range = least > 0 ? fmt::format(" from {} to {}", least, most)
                                                : fmt::format(", at most {}", most);
            return fmt::format("found {}; expected a whole number{}", in_quotes(text), range);
          },
          ""};
}

CLI::Validator within(const ValueRange& range) {
  return CLI::Range(range.least, range.most);
}

std::string in_words(const ValueRange& range) {
  return fmt::format("{:g} to {}", range.least, with_thousands(range.most));
}

} // namespace eggfall::cli
