#include "cli/program.hpp"

#include <regex>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

std::vector<std::string> all_commands() {
  static const std::regex command("  ([a-z]+) .*");
  const std::string help = run("eggfall --help").output;
  std::vector<std::string> commands;
  std::istringstream lines(help.substr(help.find("Subcommands:")));
  for (std::string line; std::getline(lines, line);)
    if (std::smatch match; std::regex_match(line, match, command))
      commands.push_back(match[1]);
  return commands;
}

std::string read_text(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

void write_text(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

ScratchDirectory::ScratchDirectory() {
  std::string pattern = (std::filesystem::temp_directory_path() / "eggfall-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr)
    throw std::runtime_error("no scratch directory");
  path_ = pattern;
}

ScratchDirectory::~ScratchDirectory() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

Run run(const std::string& command) {
  const ScratchDirectory scratch;
  const std::string script =
      "cd '" EGGFALL_SOURCE_DIR "' && eggfall() { '" EGGFALL_PROGRAM "' \"$@\"; } && " + command;
  write_text(scratch.path("script"), script);
  const int status = std::system(("sh '" + scratch.path("script") + "' >'" + scratch.path("out") +
                                  "' 2>'" + scratch.path("err") + "' </dev/null")
                                     .c_str());
  Run result;
  result.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  result.output = read_text(scratch.path("out"));
  result.errors = read_text(scratch.path("err"));
  return result;
}
