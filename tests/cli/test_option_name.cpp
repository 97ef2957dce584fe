#include "cli/option_name.hpp"

#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;
using eggfall::cli::option_names;

namespace {

std::string named(Mention mention) {
  return option_names.in_sentence(mention);
}

} // namespace

TEST_CASE("Every setting that a message may name is an option of a command, and is called so") {
  std::string help;
  for (const char* command : {"analyse", "read", "survey"})
    help += run("eggfall " + std::string(command) + " --help").output;
  for (const Setting setting : all_settings) {
    if (setting == Setting::bench_calculator)
      continue;
    CAPTURE(to_string(setting));
    const std::string option = option_names.as_place(setting);
    CHECK(option.starts_with("--"));
    CHECK(help.find(option + ' ') != std::string::npos);
    CHECK(named({setting}) == option);
  }
  CHECK(named({Setting::bench_calculator}) == "'eggfall factor'");
  CHECK(run("eggfall factor --help").exit_code == 0);
}

TEST_CASE("A value that a shell would read as more than one word, or as its own, is quoted") {
  CHECK(named({Setting::cell, "nd=none-seen"}) == "--cell nd=none-seen");
  for (const char* value : {"a b", "<50=none-seen", "*=none-seen", "?=none-seen", "a;b", "a&b",
                            "#=none-seen", "it's", "(x)"})
    CHECK(named({Setting::cell, value}) == "--cell \"" + std::string(value) + "\"");
}

TEST_CASE("A value with a quote, a dollar or a backquote in it is quoted so that it stays itself") {
  CHECK(named({Setting::column, "animal=Tag \"new\" $x `y`"}) ==
        "--column 'animal=Tag \"new\" $x `y`'");
  CHECK(named({Setting::column, "animal=5' \"x\""}) == "--column 'animal=5'\\'' \"x\"'");
}

TEST_CASE(
    "A value that begins with a hyphen is no option of its own, and settings stand in a line") {
  CHECK(named({Setting::day_before, "-7"}) == "--day-before=-7");
  CHECK(Wording({Mention{Setting::day_before, "-7"}, Mention{Setting::day_after, "14"}})
            .in(option_names) == "--day-before=-7 --day-after 14");
}
