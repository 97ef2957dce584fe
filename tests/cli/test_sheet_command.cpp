#include "cli/program.hpp"
#include "support/filled_table.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

namespace {

const std::string groups =
    "--group white:BZ --group clear:ML --control keepers --host sheep --label-ml-per-kg white:0.2 "
    "--label-mg-per-kg clear:0.2:1 ";
const std::string bench =
    "--faeces-g 3 --total-ml 45 --chambers 2 --chambers-after 6 --chamber-ml 0.5 ";

} // namespace

TEST_CASE("sheet: a table that is filled in and saved is one that analyse understands") {
  const ScratchDirectory scratch;
  const Run made = run("eggfall sheet examples/mob.csv " + groups + bench + "--counts '" +
                       scratch.path("c.csv") + "' --html '" + scratch.path("s.html") + "'");
  REQUIRE(made.exit_code == 0);
  CHECK(made.errors.empty());
  CHECK(read_text(scratch.path("s.html")).find("Yard sheet: day of treatment") !=
        std::string::npos);
  // Ten eggs in each of two chambers before; after, one in the first of six.
  const auto value = [](const std::string& head, std::size_t row) -> std::optional<std::string> {
    if (head.starts_with("eggs_before"))
      return "1" + std::to_string(row % 3);
    if (head == "eggs_after_1")
      return "1";
    if (head.starts_with("eggs_after"))
      return "0";
    if (head == "date_before" || head == "date_treated")
      return "2031-05-12";
    if (head == "date_after")
      return "2031-05-26";
    return std::nullopt;
  };
  write_text(scratch.path("c.csv"), support::filled(read_text(scratch.path("c.csv")), value));
  const Run analysed = run("eggfall analyse '" + scratch.path("c.csv") + "' --json -");
  REQUIRE(analysed.exit_code == 0);
  CHECK(analysed.errors.empty());
  const auto json = nlohmann::json::parse(analysed.output);
  std::size_t eggs = 0;
  std::size_t animals = 0;
  for (const auto& group : json["trials"][0]["groups"]) {
    CHECK(group["animals"] == 12);
    animals += group["animals"].get<std::size_t>();
    eggs += group["before"]["eggs"].get<std::size_t>();
    CHECK(group["after"]["eggs"] == 12);
    CHECK(group["after"]["mean_epg"] == 5);
    CHECK(group["days"]["first_day"] == 14);
    CHECK(group["host"] == "sheep");
  }
  eggs += json["trials"][0]["control"]["before"]["eggs"].get<std::size_t>();
  CHECK(animals == 24);
  CHECK(eggs == 36 * 2 * 11); // 10, 11 and 12 in turn, in each of two chambers
}

TEST_CASE("sheet: the allocation depends on the seed and on nothing else") {
  const std::string counts = "eggfall sheet examples/mob.csv " + groups + "--counts - ";
  const Run one = run(counts);
  REQUIRE(one.exit_code == 0);
  CHECK(one.output == run(counts).output);
  CHECK(one.output != run(counts + "--seed 2").output);
}

TEST_CASE("sheet: what cannot be is refused with exit code 2 and leaves no file") {
  const ScratchDirectory scratch;
  const auto refused = [&](const std::string& options, const std::string& message) {
    INFO(options);
    const Run result = run("eggfall sheet " + options + " --html '" + scratch.path("s.html") + "'");
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find(message) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(scratch.path("s.html")));
  };
  refused("examples/mob.csv", "--group is required");
  refused("--group white", "0 animals for 1 groups");
  refused("no-such.csv --group white", "no-such.csv");
  refused("examples/mob.csv --group white:QQ", "--group: found the class \"QQ\"");
  refused("examples/mob.csv --group white --group white", "the group \"white\" twice");
  refused("--animals 5 --group white --control white", "the group \"white\" twice");
  refused("examples/mob.csv --animals 5 --group white", "--animals");
  refused("--animals 5 --group white --label-ml-per-kg white", "expected NAME:RATE");
  refused("--animals 5 --group white --label-ml-per-kg red:0.2", "expected a treated group");
  refused("--animals 5 --group white --control k --label-ml-per-kg k:0.2",
          "expected a treated group");
  refused("--animals 5 --group white --label-ml-per-kg white:0.2 --label-mg-per-kg white:5:25",
          "found a second rate");
  refused("--animals 5 --group white --label-ml-per-kg white:-1", "found -1");
  refused("--animals 5 --group white --day0 12.5.2031", "--day0: found \"12.5.2031\"");
  refused("--animals 5 --group white --faeces-g 3", "found some of the bench figures");
  refused("--animals 5 --group white --block-by luck", "--block-by");
  const Run nothing = run("eggfall sheet --animals 5 --group white");
  CHECK(nothing.exit_code == 2);
  CHECK(nothing.errors.find("nothing to write") != std::string::npos);
}
