#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <regex>
#include <sstream>
#include <string>
#include <vector>

// The manual page and the completions, which are made from the command line's definitions, against
// what --help prints of the same.

namespace {

struct HelpOption {
  std::vector<std::string> names; ///< "-h", "--help"
  std::string value;              ///< "FILE", "N", ...; empty: none.
};

std::vector<HelpOption> options_in(const std::string& help) {
  static const std::regex option("  (-[-a-zA-Z0-9,]+)( [A-Z]+)?( .*)?");
  std::vector<HelpOption> options;
  std::istringstream lines(help);
  for (std::string line; std::getline(lines, line);)
    if (std::smatch match; std::regex_match(line, match, option)) {
      HelpOption found;
      std::istringstream names(match[1]);
      for (std::string name; std::getline(names, name, ',');)
        found.names.push_back(name);
      if (match[2].matched)
        found.value = match[2].str().substr(1);
      options.push_back(found);
    }
  return options;
}

/// What of `text` lies from `from` to the next `to`.
std::string part(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t begin = text.find(from);
  if (begin == std::string::npos)
    return "";
  return text.substr(begin, text.find(to, begin + from.size()) - begin);
}

std::string in_roff(const std::string& name) {
  return std::regex_replace(name, std::regex("-"), "\\-");
}

std::string made(const std::string& name) {
  return read_text(EGGFALL_MANUAL_DIR "/" + name);
}

bool holds(const std::string& text, const std::string& word) {
  return text.find(word) != std::string::npos;
}

} // namespace

TEST_CASE("Manual page and completions know every option of every command") {
  const std::string page = made("eggfall.1");
  const std::string bash = made("eggfall.bash");
  const std::string zsh = made("_eggfall");
  const std::string fish = made("eggfall.fish");
  const std::vector<std::string> commands = all_commands();
  REQUIRE(commands.size() >= 9);
  for (const std::string& command : commands) {
    INFO(command);
    const std::string section = part(page, ".SS eggfall " + command + "\n", "\n.S");
    const std::string names = part(bash, "      " + command + ")\n", ";;");
    const std::string cases = part(zsh, "        " + command + ")\n", ";;");
    CHECK(holds(page, ".TP\n\\fB" + command + "\\fR\n"));
    CHECK(std::regex_search(bash, std::regex("-W '[a-z ]*\\b" + command + " ")));
    CHECK(holds(zsh, "    '" + command + ":"));
    CHECK(holds(fish, " -a " + command + " "));
    const std::vector<HelpOption> options =
        options_in(run("eggfall " + command + " --help").output);
    REQUIRE(options.size() >= 3);
    for (const HelpOption& option : options)
      for (const std::string& name : option.names) {
        INFO(name);
        const std::string value = option.value.empty() ? "\n" : " \\fI" + option.value + "\\fR\n";
        if (name == option.names.back())
          CHECK(holds(section, "\\fB" + in_roff(name) + "\\fR" + value));
        CHECK(std::regex_search(names, std::regex("[ ']" + name + "[ ']")));
        CHECK(std::regex_search(cases, std::regex("'\\*?" + name + "\\[")));
        CHECK(holds(fish,
                    "complete -c eggfall -n '__fish_seen_subcommand_from " + command + "' " +
                        (name.starts_with("--") ? "-l " + name.substr(2) : "-s " + name.substr(1)) +
                        " "));
        // Whether a value follows, and whether it is a file.
        CHECK(holds(bash, "'" + command + " " + name + "')") == !option.value.empty());
        if (option.value == "FOLDER")
          CHECK(holds(bash, "'" + command + " " + name + "') wanted='FOLDER'"));
      }
  }
}

TEST_CASE("The manual page has the parts that such pages have") {
  const std::string page = made("eggfall.1");
  std::size_t place = 0;
  for (const char* section : {"NAME", "SYNOPSIS", "DESCRIPTION", "COMMANDS", "OPTIONS",
                              "EXIT STATUS", "FILES", "EXAMPLES", "SEE ALSO"}) {
    INFO(section);
    const std::size_t found = page.find(".SH " + std::string(section) + "\n");
    CHECK(found != std::string::npos);
    CHECK(found >= place);
    place = found;
  }
  CHECK(holds(page, "eggfall analyse counts.csv \\-\\-factor 15"));
}

TEST_CASE("Completions know the values that an option takes") {
  const std::string bash = made("eggfall.bash");
  for (const char* values :
       {"'analyse --design') wanted='auto paired two-group controlled baseline'",
        "'survey --by') wanted='drench class host worm farm region year'",
        "'audit --shape') wanted='LIST gamma log-normal weibull'",
        "'simulate --lesson') wanted='class clear-answer",
        "'plan --class') wanted='LIST BZ LV ML AD SI PYR'",
        "'audit --grid') wanted='FILE calibration stress thresholds few-eggs cultures pools "
        "lesson'"}) {
    INFO(values);
    CHECK(holds(bash, values));
  }
}
