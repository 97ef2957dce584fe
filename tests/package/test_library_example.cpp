#include "cli/program.hpp"

#include "eggfall/base/percent.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cstdlib>

// Hidden: tests/CMakeLists.txt runs it once the example is built against the installed library.
TEST_CASE("The library's example prints what analyse finds", "[.package]") {
  const char* const example = std::getenv("EGGFALL_LIBRARY_EXAMPLE");
  REQUIRE(example != nullptr);
  for (const std::string table : {"examples/brackenhill.csv", "examples/combination.csv"}) {
    INFO(table);
    const Run program = run("eggfall analyse --simulations 0 --json - " + table);
    REQUIRE(program.exit_code == 0);
    std::string expected;
    const auto percent_of = [](const nlohmann::json& value) {
      return eggfall::percent(value.get<double>() / 100);
    };
    const nlohmann::json result = nlohmann::json::parse(program.output);
    for (const auto& trial : result.at("trials"))
      for (const auto& group : trial.at("groups")) {
        const auto& headline = group.at("headline");
        expected += fmt::format(
            "{}: fall {}, 90% interval {} to {}\n", group.at("group").get<std::string>(),
            percent_of(group.at("reduction_percent")), percent_of(headline.at("lower_percent")),
            percent_of(headline.at("upper_percent")));
        const auto& standing = group.at("standing");
        expected += fmt::format("  stands as {}\n", standing.at("class").get<std::string>());
        for (const auto& bar : standing.at("bars"))
          expected += fmt::format("  but: {}\n", bar.at("text").get<std::string>());
        for (const auto& verdict : group.at("verdicts"))
          expected += fmt::format("  {} by {}\n", verdict.at("class").get<std::string>(),
                                  verdict.at("criteria").get<std::string>());
        expected += "  beware: " + group.at("caveats").at(0).at("text").get<std::string>() + '\n';
      }
    const Run built = run(fmt::format("'{}' {}", example, table));
    CHECK(built.exit_code == 0);
    CHECK(built.output == expected);
  }
}

TEST_CASE("The library's example of counts in memory prints what analyse finds", "[.package]") {
  const char* const example = std::getenv("EGGFALL_COUNTS_EXAMPLE");
  REQUIRE(example != nullptr);
  // The counts that stand in the example.
  const ScratchDirectory scratch;
  write_text(scratch.path("counts.csv"),
             "group,role,class,animal,eggs_before,eggs_after\n"
             "white drench,,BZ,1,24,0\nwhite drench,,BZ,2,11,1\nwhite drench,,BZ,3,38,0\n"
             "white drench,,BZ,4,17,0\nwhite drench,,BZ,5,29,\nwhite drench,,BZ,6,14,0\n"
             "white drench,,BZ,7,33,2\nwhite drench,,BZ,8,21,0\nwhite drench,,BZ,9,8,0\n"
             "white drench,,BZ,10,26,0\nwhite drench,,BZ,11,19,0\n"
             "untreated,control,,1,18,21\nuntreated,control,,2,31,26\nuntreated,control,,3,9,13\n"
             "untreated,control,,4,22,19\nuntreated,control,,5,27,33\n"
             "untreated,control,,6,12,10\nuntreated,control,,7,35,37\n"
             "untreated,control,,8,16,15\nuntreated,control,,9,20,24\n"
             "untreated,control,,10,25,22\n");
  const Run program =
      run("eggfall analyse --host sheep --factor 15 --json - " + scratch.path("counts.csv"));
  REQUIRE(program.exit_code == 0);
  const nlohmann::json result = nlohmann::json::parse(program.output);
  const auto& group = result.at("trials").at(0).at("groups").at(0);
  const auto& standing = group.at("standing");
  REQUIRE(standing.at("bars").empty());
  const Run built = run(fmt::format("'{}'", example));
  CHECK(built.exit_code == 0);
  CHECK(built.output == fmt::format("stands as {}\nprovided that {}\n{}\n",
                                    standing.at("class").get<std::string>(),
                                    standing.at("provided").get<std::string>(),
                                    group.at("next_step").get<std::string>()));
}

TEST_CASE("The library's example says what is wrong with a table", "[.package]") {
  const char* const example = std::getenv("EGGFALL_LIBRARY_EXAMPLE");
  REQUIRE(example != nullptr);
  // Without counts after treatment.
  const Run built = run(fmt::format("'{}' examples/pilot.csv", example));
  const Run program = run("eggfall analyse examples/pilot.csv");
  CHECK(built.exit_code == 2);
  CHECK(program.exit_code == 2);
  CHECK(program.errors == "eggfall: " + built.errors);
}
