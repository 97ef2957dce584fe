#include "cli/program.hpp"
#include "support/filled_table.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <set>
#include <sstream>
#include <string>

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

TEST_CASE("sheet: the farm's name stands on every sheet, and a line where it is not known") {
  const auto count_of = [](const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (std::size_t position = text.find(part); position != std::string::npos;
         position = text.find(part, position + 1))
      ++count;
    return count;
  };
  const std::string command = "eggfall sheet --animals 4 " + groups + "--html - ";
  const Run named = run(command + "--farm 'Invented <farm>'");
  REQUIRE(named.exit_code == 0);
  // The first page, two yard sheets and two bench sheets.
  CHECK(count_of(named.output, "Farm: Invented &lt;farm&gt;") == 5);
  CHECK(count_of(named.output, "<span>Farm</span>") == 0);
  const Run unnamed = run(command);
  REQUIRE(unnamed.exit_code == 0);
  CHECK(count_of(unnamed.output, "<span>Farm</span>") == 5);
  CHECK(count_of(unnamed.output, "Farm:") == 0);
}

TEST_CASE("sheet: without a list the counts table has the groups in the order of the sheets") {
  const ScratchDirectory scratch;
  const Run made = run("eggfall sheet --animals 12 " + groups + "--counts '" +
                       scratch.path("c.csv") + "' --html '" + scratch.path("s.html") + "'");
  REQUIRE(made.exit_code == 0);
  std::istringstream rows(read_text(scratch.path("c.csv")));
  const std::string page = read_text(scratch.path("s.html"));
  std::string line;
  std::getline(rows, line);
  std::size_t position = page.find("Yard sheet: day of treatment");
  REQUIRE(position != std::string::npos);
  std::size_t animals = 0;
  std::set<std::string> block;
  while (std::getline(rows, line)) {
    const std::string group = line.substr(0, line.find(','));
    // The next line of the sheet is of this group.
    const std::string cell = "<td class=\"mark\"><strong>";
    position = page.find(cell, position);
    REQUIRE(position != std::string::npos);
    position += cell.size();
    CHECK(page.substr(position, page.find('<', position) - position).ends_with(": " + group));
    block.insert(group);
    if (++animals % 3 == 0) {
      CHECK(block.size() == 3); // one of each
      block.clear();
    }
  }
  CHECK(animals == 36);
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
  refused("examples/mob.csv --group white --label-ml-per-kg white:0.2 --dose-step-ml 5",
          "the animal \"735\": found a dose of 10 mL");
  refused("examples/mob.csv --group white --host cattle", "expected 50 to 1400 kg");
  const Run nothing = run("eggfall sheet --animals 5 --group white");
  CHECK(nothing.exit_code == 2);
  CHECK(nothing.errors.find("nothing to write") != std::string::npos);
}
