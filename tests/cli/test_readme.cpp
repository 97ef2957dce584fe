#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <regex>
#include <set>
#include <sstream>
#include <vector>

// The outputs that README.md and docs/ show are the outputs that the program gives.

namespace {

struct ShownCommand {
  std::string document;
  std::string command;
  std::string output;
};

void add_shown(const std::string& path, std::vector<ShownCommand>& shown) {
  std::istringstream lines(read_text(path));
  bool inside = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("```"))
      inside = line == "```console";
    else if (inside && line.starts_with("$ "))
      shown.push_back({path, line.substr(2), ""});
    else if (inside)
      shown.back().output += line + '\n';
  }
}

std::vector<ShownCommand> all_shown() {
  const std::string top = EGGFALL_SOURCE_DIR;
  std::vector<ShownCommand> shown;
  add_shown(top + "/README.md", shown);
  for (const auto& entry : std::filesystem::directory_iterator(top + "/docs"))
    if (entry.path().extension() == ".md")
      add_shown(entry.path().string(), shown);
  return shown;
}

// Apart from the others, since its simulations take longer than all of theirs.
const std::string planning = EGGFALL_SOURCE_DIR "/docs/planning.md";

void check(const ShownCommand& item) {
  INFO(item.document << ": " << item.command);
  const Run result = run(item.command);
  CHECK(result.exit_code == 0);
  CHECK(result.output == item.output);
}

} // namespace

TEST_CASE("What DEVELOPERS.md calls by name is there to be found") {
  const std::string top = EGGFALL_SOURCE_DIR;
  std::string sources;
  for (const char* folder : {"/include", "/src"})
    for (const auto& entry : std::filesystem::recursive_directory_iterator(top + folder))
      if (const auto ending = entry.path().extension(); ending == ".hpp" || ending == ".cpp")
        sources += read_text(entry.path().string());
  const std::string page = read_text(top + "/DEVELOPERS.md");
  const std::regex call("`(?:\\w+::)?(\\w+)\\(\\)`");
  std::set<std::string> names;
  for (std::sregex_iterator found(page.begin(), page.end(), call), end; found != end; ++found)
    names.insert((*found)[1]);
  CHECK(names.size() > 20);
  for (const std::string& name : names) {
    INFO(name);
    CHECK(sources.find(name + "(") != std::string::npos);
  }
}

TEST_CASE("Commands shown in README and docs give the output shown") {
  int documents_of_commands = 0;
  std::string last;
  for (const ShownCommand& item : all_shown()) {
    if (item.document == planning)
      continue;
    check(item);
    documents_of_commands += item.document == last ? 0 : 1;
    last = item.document;
  }
  CHECK(documents_of_commands >= 8);
}

TEST_CASE("Commands shown in docs/planning.md give the output shown") {
  int commands = 0;
  for (const ShownCommand& item : all_shown())
    if (item.document == planning) {
      check(item);
      ++commands;
    }
  CHECK(commands >= 6);
}

TEST_CASE("The set-up lines of README name presets and scripts that exist") {
  const std::string readme = read_text(EGGFALL_SOURCE_DIR "/README.md");
  const std::string presets = read_text(EGGFALL_SOURCE_DIR "/CMakePresets.json");
  for (const char* preset : {"demo", "test"}) {
    CHECK(readme.find("sh .ci/setup && cmake --workflow --preset " + std::string(preset)) !=
          std::string::npos);
    CHECK(presets.find("\"name\": \"" + std::string(preset) + "\"") != std::string::npos);
  }
  CHECK(std::filesystem::exists(EGGFALL_SOURCE_DIR "/.ci/setup"));
}
