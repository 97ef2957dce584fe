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
