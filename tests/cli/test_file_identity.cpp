#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <string>

namespace {

const std::string table = "group,animal,eggs_before,eggs_after\nT,1,9,1\nT,2,8,0\n";

void check_kept(const ScratchDirectory& scratch, const std::string& command,
                const std::string& message) {
  INFO(command);
  write_text(scratch.path("in.csv"), table);
  const Run result = run("cd '" + scratch.path() + "' && " + command);
  CHECK(result.exit_code == 2);
  CHECK_THAT(result.errors, Catch::Contains(message));
  CHECK(read_text(scratch.path("in.csv")) == table);
}

} // namespace

TEST_CASE("An input is never written over, by whatever name or stream") {
  const ScratchDirectory scratch;
  for (const char* command : {"analyse", "survey"}) {
    const std::string stem = "eggfall " + std::string(command);
    check_kept(scratch, stem + " - --factor 15 --csv in.csv < in.csv",
               "in.csv: found an input of this command; expected another file to write to");
    check_kept(scratch, stem + " - --factor 15 --json /dev/stdin < in.csv",
               "an input of this command");
    check_kept(scratch, stem + " in.csv --factor 15 >> in.csv",
               "standard output: found an input of this command");
    check_kept(scratch, "ln -f in.csv second.csv; " + stem + " in.csv --factor 15 --csv second.csv",
               "second.csv: found an input of this command");
  }
  check_kept(scratch, "eggfall sheet in.csv --group w --counts - >> in.csv",
             "standard output: found an input of this command");
}

TEST_CASE("Two results never go into one file") {
  const ScratchDirectory scratch;
  const std::string analyse = "eggfall analyse in.csv --factor 15 ";
  check_kept(scratch, "ln -s t l; " + analyse + "--json l --csv t",
             "found the same file for two outputs; expected a file for each");
  CHECK_FALSE(std::filesystem::exists(scratch.path("t")));
  check_kept(scratch, "ln -s further m; ln -s t further; " + analyse + "--json m --csv t",
             "found the same file for two outputs; expected a file for each");
  check_kept(scratch, "ln -s round round; " + analyse + "--json round",
             "round: found no way to write");
  check_kept(scratch, analyse + "--json /dev/stdout --csv - > out",
             "found the same file for two outputs");
  check_kept(scratch, analyse + "--json out > out", "found the same file for two outputs");
  check_kept(scratch, analyse + "--json a --csv ./a", "found the same file for two outputs");
  // Nothing stays of what goes to the null device.
  CHECK(run("cd '" + scratch.path() + "' && " + analyse + "--json /dev/null --csv /dev/null > out")
            .exit_code == 0);
}

TEST_CASE("A working directory that is gone is no failure of the program") {
  for (const char* command :
       {"analyse " EGGFALL_SOURCE_DIR "/examples/brackenhill.csv --json r.json",
        "analyse " EGGFALL_SOURCE_DIR "/examples/brackenhill.csv --figures figures",
        "survey " EGGFALL_SOURCE_DIR "/examples/region.csv --json r.json", "cutoffs --json r.json",
        "simulate --counts c.csv", "teach --folder pack", "analyse r.csv"}) {
    INFO(command);
    const Run result =
        run("d=$(mktemp -d) && cd \"$d\" && rmdir \"$d\" && eggfall " + std::string(command));
    CHECK(result.exit_code == 2);
    CHECK_THAT(result.errors, Catch::StartsWith("eggfall: ") && !Catch::Contains("unexpected"));
  }
}
