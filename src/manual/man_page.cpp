#include "manual/man_page.hpp"

#include "cli/command_line.hpp"

#include "eggfall/base/version.hpp"

#include <fmt/format.h>

namespace eggfall::manual {
namespace {

/// Text that roff prints as it is, with every '-' as it must be typed.
std::string plain(std::string_view text) {
  std::string out = text.starts_with('.') || text.starts_with('\'') ? "\\&" : "";
  for (const char c : text)
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else
      out += c;
  return out;
}

std::string bold(std::string_view text) {
  return "\\fB" + plain(text) + "\\fR";
}

std::string italic(std::string_view text) {
  return "\\fI" + plain(text) + "\\fR";
}

std::string tagged(const std::string& tag, std::string_view text) {
  return fmt::format(".TP\n{}\n{}\n", tag, plain(text));
}

std::string option_tag(const OptionEntry& option) {
  std::string tag;
  for (const std::string& name : option.names)
    tag += (tag.empty() ? "" : ", ") + bold(name);
  return option.value.empty() ? tag : tag + " " + italic(option.value);
}

std::string argument_tag(const OptionEntry& argument) {
  const std::string name = italic(argument.names.front()) + (argument.many ? " ..." : "");
  return argument.needed ? name : "[" + name + "]";
}

std::string synopsis(const CommandEntry& command) {
  std::string line = bold("eggfall " + command.name) + " [" + italic("options") + "]";
  for (const OptionEntry& argument : command.arguments)
    line += " " + argument_tag(argument);
  return line;
}

std::string options_of(const CommandEntry& command) {
  std::string out = fmt::format(".SS eggfall {}\n{}.\n.PP\n{}\n", plain(command.name),
                                plain(command.text), synopsis(command));
  for (const OptionEntry& argument : command.arguments)
    out += tagged(argument_tag(argument), argument.text);
  for (const OptionEntry& option : command.options)
    out += tagged(option_tag(option), option.text);
  for (const std::string& remark : command.remarks)
    out += fmt::format(".PP\n{}\n", plain(remark));
  return out;
}

std::string examples(const CommandTree& tree) {
  std::string out = ".SH EXAMPLES\n.EX\n";
  for (const CommandEntry& command : tree.commands)
    for (const std::string& example : command.examples)
      out += plain(example) + '\n';
  return out + ".EE\n";
}

} // namespace

std::string man_page(const CommandTree& tree, std::string_view date) {
  std::string out =
      fmt::format(".TH EGGFALL 1 {} \"eggfall {}\" \"User Commands\"\n"
                  ".SH NAME\neggfall \\- faecal egg count reduction tests\n"
                  ".SH SYNOPSIS\n{} {} [{}]\n.br\n",
                  date, version(), bold("eggfall"), italic("command"), italic("options"));
  for (const OptionEntry& option : tree.program.options)
    out += fmt::format("{} {}\n.br\n", bold("eggfall"), bold(option.names.back()));
  out.erase(out.size() - std::string_view(".br\n").size());
  out += fmt::format(".SH DESCRIPTION\n{}\n.SH COMMANDS\n", plain(cli::purpose));
  for (const CommandEntry& command : tree.commands)
    out += tagged(bold(command.name), command.text + ".");
  out += ".SH OPTIONS\n";
  for (const OptionEntry& option : tree.program.options)
    out += tagged(option_tag(option), option.text);
  for (const CommandEntry& command : tree.commands)
    out += options_of(command);
  out += ".SH EXIT STATUS\n";
  for (const cli::ExitCode& code : cli::exit_codes)
    out += tagged(bold(std::to_string(code.number)), std::string(code.meaning) + ".");
  out += ".SH FILES\nThe tables of the examples and the documents that are named here as "
         "docs/... are in\n.I share/doc/eggfall\nof the folder that eggfall is installed in: of a "
         "Debian package\n.IR /usr/share/doc/eggfall .\n";
  out += examples(tree);
  out += ".SH SEE ALSO\ndocs/methods.md, every formula and its source; docs/data\\-format.md, "
         "tables in, JSON and CSV out; README.md, which names the other documents.\n";
  return out;
}

} // namespace eggfall::manual
