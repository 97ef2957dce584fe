#include "manual/fish_completion.hpp"
#include "manual/brief.hpp"

#include <fmt/format.h>

namespace eggfall::manual {
namespace {

std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\')
      out += '\\';
    out += c;
  }
  return out + "'";
}

/// The switches of fish's `complete` that say what the value is.
std::string value_switches(const OptionEntry& option) {
  if (option.kind == ValueKind::none)
    return "";
  const std::string choices = fmt::format("{}", fmt::join(option.choices, " "));
  if (option.kind == ValueKind::file)
    return choices.empty() ? " -r -F" : " -r -F -a " + quoted(choices);
  if (option.kind == ValueKind::folder)
    return " -x -a '(__fish_complete_directories)'";
  if (choices.empty())
    return " -x";
  return " -x -a " + quoted(option.by_commas ? "(__fish_append , " + choices + ")" : choices);
}

std::string line(const std::string& where, const std::string& what) {
  return fmt::format("complete -c eggfall -n '{}'{}\n", where, what);
}

std::string options_of(const CommandEntry& command, const std::string& where) {
  std::string out;
  for (const OptionEntry& option : command.options)
    for (const std::string& name : option.names)
      out += line(where, fmt::format(" {} {}{} -d {}", name.starts_with("--") ? "-l" : "-s",
                                     name.substr(name.find_first_not_of('-')),
                                     value_switches(option), quoted(brief(option.text))));
  return out;
}

std::string arguments_of(const CommandEntry& command, const std::string& where) {
  std::string out;
  for (const OptionEntry& argument : command.arguments)
    if (argument.kind == ValueKind::file)
      out += line(where, " -F");
    else if (!argument.choices.empty())
      out += line(where, value_switches(argument));
  return out;
}

} // namespace

std::string fish_completion(const CommandTree& tree) {
  const std::string no_command = "__fish_use_subcommand";
  std::string out = "# Completion of eggfall for fish, made from the options of the program.\n"
                    "complete -c eggfall -f\n" +
                    options_of(tree.program, no_command);
  for (const CommandEntry& command : tree.commands) {
    const std::string where = "__fish_seen_subcommand_from " + command.name;
    out += line(no_command, fmt::format(" -a {} -d {}", command.name, quoted(brief(command.text))));
    out += options_of(command, where) + arguments_of(command, where);
  }
  return out;
}

} // namespace eggfall::manual
