#pragma once

#include <string>
#include <vector>

/// The program run as a person would run it, from the top of the repository.
struct Run {
  int exit_code = -1;
  std::string output; ///< Standard output.
  std::string errors; ///< Standard error.
};

/// Runs a shell command in which "eggfall" is the program under test.
Run run(const std::string& command);

/// The names of all commands, as the program's own help lists them.
std::vector<std::string> all_commands();

std::string read_text(const std::string& path);
void write_text(const std::string& path, const std::string& text);

/// A fresh empty directory, removed with the object.
class ScratchDirectory {
public:
  ScratchDirectory();
  ~ScratchDirectory();
  ScratchDirectory(const ScratchDirectory&) = delete;
  ScratchDirectory& operator=(const ScratchDirectory&) = delete;
  std::string path(const std::string& name = "") const { return path_ + "/" + name; }

private:
  std::string path_;
};
