#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <string>

// The files in files_of_0.1.0/ were written for, and by, version 0.1.0.

namespace {

std::string of_0_1_0(const std::string& name) {
  return "'" EGGFALL_SOURCE_DIR "/tests/cli/files_of_0.1.0/" + name + "'";
}

} // namespace

TEST_CASE("What people wrote for version 0.1.0 is read as it stands") {
  for (const std::string& command :
       {"analyse --simulations 0 " + of_0_1_0("counts.csv") + " --larvae " +
            of_0_1_0("larvae.csv") + " --cutoffs " + of_0_1_0("cut-offs.toml"),
        "survey " + of_0_1_0("counts.csv"), "cutoffs --file " + of_0_1_0("cut-offs.toml"),
        "simulate --counts - --scenario " + of_0_1_0("scenario.toml"),
        "audit --trials 10 --grid " + of_0_1_0("grid.toml")}) {
    CAPTURE(command);
    const Run result = run("eggfall " + command);
    CHECK(result.exit_code == 0);
    CHECK(result.errors.empty());
    CHECK_FALSE(result.output.empty());
  }
}

TEST_CASE("Tallies of version 0.1.0 are refused, and the message says what to do") {
  const Run audit = run("eggfall audit --merge " + of_0_1_0("audit.json"));
  CHECK(audit.exit_code == 2);
  CHECK_THAT(audit.errors, Catch::EndsWith("audit.json: found no result of an audit (of an earlier "
                                           "version; audit again with this one); expected the "
                                           "JSON of an audit\n"));
  const Run survey = run("eggfall survey --merge " + of_0_1_0("survey.json"));
  CHECK(survey.exit_code == 2);
  CHECK_THAT(survey.errors,
             Catch::EndsWith("survey.json: found no result of a survey (of an earlier version, "
                             "which worked out or kept less; survey the tables again); expected "
                             "the JSON of a survey\n"));
}
