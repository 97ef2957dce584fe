#include "manual/command_tree.hpp"

#include "cli/help.hpp"
#include "cli/values.hpp"

#include <CLI/CLI.hpp>

#include <sstream>
#include <string_view>

namespace eggfall::manual {
namespace {

/// Those that a validator shows, as "{auto,paired}".
std::vector<std::string> choices_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t open = type.find('{');
  if (open == std::string::npos)
    return {};
  return CLI::detail::split(type.substr(open + 1, type.find('}', open) - open - 1), ',');
}

ValueKind kind_of(const std::string& value) {
  return value.empty()                ? ValueKind::none
         : value == cli::file_value   ? ValueKind::file
         : value == cli::folder_value ? ValueKind::folder
                                      : ValueKind::text;
}

OptionEntry option_entry(const CLI::Option& option) {
  OptionEntry entry;
  if (option.get_positional())
    entry.names = {option.get_name(true)};
  for (const std::string& name : option.get_snames())
    entry.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames())
    entry.names.push_back("--" + name);
  entry.value = cli::value_name(option);
  entry.text = cli::option_text(option);
  entry.kind = kind_of(entry.value);
  entry.choices = choices_of(option);
  entry.by_commas = option.get_delimiter() == ',';
  entry.many = option.get_items_expected_max() > 1 && option.get_allow_extra_args();
  entry.needed = option.get_required();
  return entry;
}

void add_footer(const std::string& footer, CommandEntry& entry) {
  constexpr std::string_view mark = "Example: ";
  std::istringstream lines(footer);
  for (std::string line; std::getline(lines, line);)
    if (line.starts_with(mark))
      entry.examples.push_back(line.substr(mark.size()));
    else
      entry.remarks.push_back(line);
}

CommandEntry command_entry(const CLI::App& command) {
  CommandEntry entry;
  entry.name = command.get_parent() == nullptr ? "" : command.get_name();
  entry.text = command.get_description();
  for (const CLI::Option* option : command.get_options())
    if (!option->get_group().empty())
      (option->get_positional() ? entry.arguments : entry.options).push_back(option_entry(*option));
  add_footer(command.get_footer(), entry);
  return entry;
}

} // namespace

CommandTree command_tree(const CLI::App& app) {
  CommandTree tree{command_entry(app), {}};
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    if (!command->get_group().empty())
      tree.commands.push_back(command_entry(*command));
  return tree;
}

} // namespace eggfall::manual
