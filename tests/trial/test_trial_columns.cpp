#include "trial/trial_columns.hpp"

#include "base/problems.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

/// The columns of a header line, with what was told of them.
struct Read {
  TableRow row;
  Source source = "t.csv";
  Problems problems;
  HeaderCells header;
  TrialColumns columns;

  explicit Read(std::vector<std::string> names,
                NeededCounts needed = NeededCounts::before_and_after)
      : row{1, std::move(names), {}}, header(row, source, problems), columns(header, needed) {}

  std::string told() {
    return support::input_error([this] { problems.throw_if_any(); });
  }
};

} // namespace

TEST_CASE("A pilot count needs no column of counts after treatment, but may have one") {
  Read pilot({"group", "animal", "epg_before"}, NeededCounts::before);
  CHECK_FALSE(pilot.problems.any());
  REQUIRE(pilot.columns.before.counts.size() == 1);
  CHECK(pilot.columns.before.counts[0].as_epg);
  CHECK(pilot.columns.before.counts[0].count.index == 2U);
  CHECK(pilot.columns.after.counts.empty());

  Read both({"group", "animal", "eggs_before", "eggs_after"}, NeededCounts::before);
  CHECK(both.columns.after.counts.size() == 1);
  CHECK_FALSE(both.columns.after.counts.at(0).as_epg);

  CHECK(Read({"group", "animal", "eggs_after"}, NeededCounts::before).told() ==
        "t.csv:1: found the columns \"group\", \"animal\", \"eggs_after\"; expected a column "
        "eggs_before (or epg_before)");
  CHECK(Read({"group", "animal", "epg_before"}).told() ==
        "t.csv:1: found the columns \"group\", \"animal\", \"epg_before\"; expected a column "
        "eggs_after (or epg_after)");
}

TEST_CASE("Repeats are in the order of their numbers, each with its own factor") {
  Read read({"group", "animal", "eggs_before_10", "factor_before_2", "eggs_before_2",
             "factor_before", "eggs_after"});
  CHECK_FALSE(read.problems.any());
  const std::vector<CountColumn>& repeats = read.columns.before.counts;
  REQUIRE(repeats.size() == 2);
  CHECK(repeats[0].count.index == 4U);
  CHECK(repeats[0].factor.index == 3U);
  CHECK(repeats[1].count.index == 2U);
  CHECK_FALSE(repeats[1].factor);
  CHECK(read.columns.before.factor.index == 5U);
  CHECK_FALSE(read.columns.after.factor);
}

TEST_CASE("A sample may have twenty repeats") {
  std::vector<std::string> names{"group", "animal", "eggs_after"};
  for (std::size_t i = 1; i <= most_repeats; ++i)
    names.push_back(fmt::format("eggs_before_{}", i));
  Read read(names);
  CHECK(read.columns.before.counts.size() == 20);
  CHECK_FALSE(read.problems.any());
}

TEST_CASE("A kind of egg has a column before and one after, in whatever order and spelling") {
  Read read({"group", "animal", "eggs_before", "eggs_after", "EPG after: Parascaris",
             "eggs_before:ascarid", "eggs after: nematodirus", "eggs_before:Nematodirus"});
  CHECK_FALSE(read.problems.any());
  const std::vector<KindColumns>& kinds = read.columns.kinds;
  REQUIRE(kinds.size() == 2);
  CHECK(kinds[0].worm == "ascarids");
  CHECK(kinds[0].before.count.index == 5U);
  CHECK_FALSE(kinds[0].before.as_epg);
  CHECK(kinds[0].after.count.index == 4U);
  CHECK(kinds[0].after.as_epg);
  CHECK(kinds[1].worm == "nematodirus");
  CHECK(kinds[1].before.count.index == 7U);
  CHECK(kinds[1].after.count.index == 6U);
  CHECK(read.columns.before.counts.size() == 1);
}
