#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace eggfall::manual {

/// What the value of an option is.
enum class ValueKind { none, text, file, folder };

/// An option, or an argument without a name of its own.
struct OptionEntry {
  std::vector<std::string> names; ///< "-h" and "--help"; of an argument its one word, as "TABLE".
  std::string value;              ///< What stands for the value, as "FILE".
  std::string text;
  ValueKind kind = ValueKind::none;
  std::vector<std::string> choices; ///< Values that are known beforehand.
  bool by_commas = false;           ///< Several values in one word.
  bool many = false;                ///< Several words, up to the next option.
  bool needed = false;
};

struct CommandEntry {
  std::string name; ///< Empty: the program itself.
  std::string text;
  std::vector<OptionEntry> options;
  std::vector<OptionEntry> arguments;
  std::vector<std::string> remarks;  ///< Lines of the footer,
  std::vector<std::string> examples; ///< and those of it that are examples, each a command.
};

struct CommandTree {
  CommandEntry program;
  std::vector<CommandEntry> commands;
};

/// All that the command line takes, and nothing else, as far as it is not hidden.
CommandTree command_tree(const CLI::App& app);

} // namespace eggfall::manual
