#include "manual/bash_completion.hpp"

#include <fmt/format.h>

namespace eggfall::manual {
namespace {

// Words are broken at '=', so --json=F is three of them.
constexpr const char* bash_script =
    R"sh(# Completion of eggfall for bash, made from the options of the program.

_eggfall() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD - 1]}}
  local command=${{COMP_WORDS[1]}} last='' wanted='' i
  COMPREPLY=()
  if [[ $COMP_CWORD -eq 1 ]]; then
    mapfile -t COMPREPLY < <(compgen -W '{commands}' -- "$current")
    return
  fi
  if [[ $current == = ]]; then
    current=''
  elif [[ $before == = ]]; then
    before=${{COMP_WORDS[COMP_CWORD - 2]}}
  fi
  for ((i = COMP_CWORD - 1; i > 1; --i)); do
    if [[ ${{COMP_WORDS[i]}} == -* ]]; then
      last=${{COMP_WORDS[i]}}
      break
    fi
  done
  # What is wanted here: one of some words, a LIST of them, a FILE (or a word),
  # a FOLDER, NOTHING known; or else an option or argument.
  case "$command $before" in
{values}  esac
  if [[ -z $wanted && $current != -* ]]; then
    case "$command $last" in
{many}    esac
  fi
  if [[ -z $wanted ]]; then
    case "$command" in
{options}    esac
  fi
  case "$wanted" in
    NOTHING) ;;
    FILE*)
      compopt -o filenames 2>/dev/null
      mapfile -t COMPREPLY < <(
        compgen -W "${{wanted#FILE}}" -- "$current"
        compgen -f -- "$current"
      )
      ;;
    FOLDER)
      compopt -o filenames 2>/dev/null
      mapfile -t COMPREPLY < <(compgen -d -- "$current")
      ;;
    LIST*)
      i=''
      [[ $current == *,* ]] && i=${{current%,*}},
      mapfile -t COMPREPLY < <(compgen -P "$i" -W "${{wanted#LIST}}" -- "${{current##*,}}")
      ;;
    *)
      mapfile -t COMPREPLY < <(compgen -W "$wanted" -- "$current")
      ;;
  esac
}}

complete -F _eggfall eggfall
)sh";

std::string words(const std::vector<std::string>& all) {
  return fmt::format("{}", fmt::join(all, " "));
}

std::vector<std::string> option_names(const CommandEntry& command) {
  std::vector<std::string> names;
  for (const OptionEntry& option : command.options)
    names.insert(names.end(), option.names.begin(), option.names.end());
  return names;
}

std::string wanted(const OptionEntry& option) {
  const std::string choices = words(option.choices);
  if (option.kind == ValueKind::file)
    return choices.empty() ? "FILE" : "FILE " + choices;
  if (option.kind == ValueKind::folder)
    return "FOLDER";
  if (choices.empty())
    return "NOTHING";
  return option.by_commas ? "LIST " + choices : choices;
}

std::string case_of(const std::string& pattern, const std::string& wanted, int indent) {
  return fmt::format("{:{}}{}) wanted='{}' ;;\n", "", indent, pattern, wanted);
}

} // namespace

std::string bash_completion(const CommandTree& tree) {
  std::vector<std::string> commands;
  std::string values;
  std::string many;
  std::string options;
  for (const CommandEntry& command : tree.commands) {
    commands.push_back(command.name);
    for (const OptionEntry& option : command.options)
      for (const std::string& name : option.names) {
        if (option.kind == ValueKind::none)
          continue;
        const std::string pattern = fmt::format("'{} {}'", command.name, name);
        values += case_of(pattern, wanted(option), 4);
        if (option.many)
          many += case_of(pattern, wanted(option), 6);
      }
    options +=
        fmt::format("      {})\n        wanted='{}'\n", command.name, words(option_names(command)));
    if (!command.arguments.empty())
      options += fmt::format("        [[ $current == -* ]] || wanted='{}'\n",
                             wanted(command.arguments.front()));
    options += "        ;;\n";
  }
  commands.push_back(words(option_names(tree.program)));
  return fmt::format(bash_script, fmt::arg("commands", words(commands)), fmt::arg("values", values),
                     fmt::arg("many", many), fmt::arg("options", options));
}

} // namespace eggfall::manual
