#include "manual/zsh_completion.hpp"
#include "manual/brief.hpp"

#include <fmt/format.h>

#include <string_view>

namespace eggfall::manual {
namespace {

constexpr const char* zsh_script = R"sh(#compdef eggfall
# Completion of eggfall for zsh, made from the options of the program.

_eggfall() {{
  local curcontext=$curcontext state line
  local -a commands
  typeset -A opt_args
  commands=(
{commands}  )
  _arguments -C \
{program}    '1: :->command' \
    '*:: :->rest'
  case $state in
    command) _describe -t commands command commands ;;
    rest)
      case $words[1] in
{cases}      esac
      ;;
  esac
}}

_eggfall "$@"
)sh";

/// With a backslash before each of `special`, and fit for single quotes.
std::string escaped(std::string_view text, std::string_view special) {
  std::string out;
  for (const char c : text) {
    if (special.find(c) != std::string_view::npos)
      out += '\\';
    if (c == '\'')
      out += "'\\'";
    out += c;
  }
  return out;
}

/// The part of a specification that follows the option: ":FILE:_files".
std::string value_part(const OptionEntry& option, const std::string& label) {
  if (option.kind == ValueKind::none)
    return "";
  const std::string choices = fmt::format("{}", fmt::join(option.choices, " "));
  std::string action = " ";
  if (option.kind == ValueKind::file)
    action = choices.empty() ? "_files" : fmt::format("{{compadd - {}; _files}}", choices);
  else if (option.kind == ValueKind::folder)
    action = "_path_files -/"; // _directories falls back on files
  else if (option.by_commas && !choices.empty())
    action = "_sequence -s , compadd - " + choices;
  else if (!choices.empty())
    action = "(" + choices + ")";
  return fmt::format(":{}:{}", label, action);
}

std::string option_spec(const OptionEntry& option, const std::string& name) {
  // "*" in front: it may be given again.
  return fmt::format("'{}{}[{}]{}'", option.many ? "*" : "", name,
                     escaped(brief(option.text), "[]:\\"), value_part(option, option.value));
}

std::string option_specs(const CommandEntry& command, int indent) {
  std::string out;
  for (const OptionEntry& option : command.options)
    for (const std::string& name : option.names)
      out += fmt::format("{:{}}{} \\\n", "", indent, option_spec(option, name));
  return out;
}

std::string case_of(const CommandEntry& command) {
  std::string specs = option_specs(command, 12);
  for (const OptionEntry& argument : command.arguments)
    specs += fmt::format("            '{}{}' \\\n", argument.many ? "*" : "1",
                         value_part(argument, argument.names.front()));
  specs.erase(specs.size() - std::string_view(" \\\n").size());
  return fmt::format("        {})\n          _arguments \\\n{}\n          ;;\n", command.name,
                     specs);
}

} // namespace

std::string zsh_completion(const CommandTree& tree) {
  std::string commands;
  std::string cases;
  for (const CommandEntry& command : tree.commands) {
    commands += fmt::format("    '{}:{}'\n", command.name, escaped(brief(command.text), ":\\"));
    cases += case_of(command);
  }
  return fmt::format(zsh_script, fmt::arg("commands", commands), fmt::arg("cases", cases),
                     fmt::arg("program", option_specs(tree.program, 4)));
}

} // namespace eggfall::manual
