#include "intake/day_of_one_sample.hpp"

#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <optional>
#include <string>

using namespace eggfall;
using support::eggs_of;
using support::layout_of;
using support::Lines;
using support::not_understood;
using support::understood;

namespace {

const Group& group_of(const UnderstoodTables& understood) {
  return understood.table.trials.at(0).groups.at(0);
}

/// The days told of a table with these heads, over a row for each of two animals.
std::optional<int> days_of(const std::string& heads) {
  return group_of(understood("Tag,Mob," + heads + "\n1,W,450,50,0,0\n2,W,300,50,50,0\n")).day_after;
}

} // namespace

TEST_CASE("A day in the heads of eggs told apart is kept, or a dead drench could look good") {
  const auto read = understood("Tag,Mob,EPG day 0,Nematodirus EPG day 0,EPG day 3,Nematodirus EPG "
                               "day 3\n1,W,450,50,0,0\n2,W,300,50,50,0\n");
  CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  const Group& group = group_of(read);
  CHECK(group.day_after == 3);
  CHECK(group.animals[0].visits.empty());
  CHECK(group.animals[0].kinds.at("nematodirus").before->eggs.value() == 1);
  CHECK(group.animals[0].kinds.at("nematodirus").after->eggs.value() == 0);
  CHECK(days_of("EPG pre,Nematodirus EPG pre,EPG week 2,Nematodirus EPG week 2") == 14);
  CHECK(days_of("EPG pre,Nematodirus EPG pre,EPG week 1,Nematodirus EPG week 1") == 7);
}

TEST_CASE("Where no egg is told apart a day in the heads is a visit's, as it was") {
  const Group group = group_of(understood("Tag,Mob,EPG day 0,EPG day 3\n1,W,450,0\n2,W,300,50\n"));
  CHECK(group.day_after == std::nullopt);
  REQUIRE(group.animals[0].visits.size() == 1);
  CHECK(group.animals[0].visits[0].day == 3);
}

TEST_CASE("Day 14 is that of a usual test, and of no visit") {
  for (const std::string heads : {"EPG day 0,EPG day 14", "EPG pre,EPG week 2", "Day 1,Day 15"}) {
    INFO(heads);
    const Group group = group_of(understood("Tag,Mob," + heads + "\n1,W,450,0\n2,W,300,50\n",
                                            layout_of({{"counts", "epg"}})));
    CHECK(group.day_after == 14);
    CHECK(group.animals[0].visits.empty());
    CHECK(group.animals[1].after->eggs.value() == 1);
  }
  // Beside another day it is one visit of two.
  CHECK(group_of(understood("Tag,Mob,EPG day 0,EPG day 14,EPG day 28\n1,W,450,0,0\n"))
            .animals[0]
            .visits.size() == 2);
}

TEST_CASE("Beside a column of times that of days is of the second sample") {
  const auto read = understood("Tag,Mob,Days after treatment,Sampling,EPG\n1,W,0,pre,450\n"
                               "1,W,10,post,0\n2,W,,pre,300\n2,W,10,post,50\n");
  CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  CHECK(group_of(read).day_after == 10);
}

TEST_CASE("The day of eggs told apart is kept from rows of one sample each") {
  const auto read = understood("Tag,Mob,Days after treatment,EPG,Nematodirus EPG\n"
                               "1,W,0,450,50\n1,W,3,0,0\n2,W,0,300,0\n2,W,3,50,0\n");
  CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  CHECK(group_of(read).day_after == 3);
}

TEST_CASE("The day of eggs told apart is kept from the name of a sheet") {
  const auto read = understood({{"Day 0", "Tag,EPG,Nematodirus EPG\n1,450,50\n2,300,0\n"},
                                {"Day 3", "Tag,EPG,Nematodirus EPG\n1,0,0\n2,50,0\n"}});
  CHECK(group_of(read).day_after == 3);
}

TEST_CASE("A factor of the day goes with it") {
  const auto read = understood("Tag,Mob,When,EPG,Nematodirus EPG,Factor\n1,W,Day 0,450,50,50\n"
                               "1,W,Day 3,30,15,15\n",
                               layout_of({}));
  const Group& group = group_of(read);
  CHECK(group.day_after == 3);
  CHECK(group.animals[0].after->factor.value() == 15);
  CHECK(group.animals[0].after->eggs.value() == 2);
  CHECK(group.animals[0].kinds.at("nematodirus").after->eggs.value() == 1);
}

TEST_CASE("Several days of eggs told apart are asked about") {
  CHECK(not_understood("Tag,Mob,EPG day 0,Nematodirus EPG day 0,EPG day 3,Nematodirus EPG day 3,"
                       "EPG day 10,Nematodirus EPG day 10\n1,W,450,50,0,0,0,0\n")
            .find("times of sampling") != std::string::npos);
}

TEST_CASE("A day that heads and a column tell is refused, as which holds is not known") {
  CHECK(not_understood("Tag,Mob,EPG day 0,Nematodirus EPG day 0,EPG day 3,Nematodirus EPG day 3,"
                       "Days after treatment\n1,W,450,50,0,0,10\n")
            .find("this beside visits") != std::string::npos);
}

TEST_CASE("A column of days from treatment is no count") {
  for (const std::string head : {"Days after treatment", "Days since drenching", "Day after dosing",
                                 "days_after", "Tage nach Behandlung", "Jours après traitement",
                                 "Días después del tratamiento", "Dias após tratamento"}) {
    INFO(head);
    const auto read =
        understood("Tag,Mob,EPG before,EPG after," + head +
                   "\n1,W,450,0,10\n2,W,300,50,day 10\n3,W,350,0,10 days\n4,W,350,0,\n");
    CHECK(eggs_of(read).front() == "W 1: 9 to 0");
    CHECK(group_of(read).day_after == 10);
  }
  CHECK(group_of(understood("Tag,Mob,EPG before,EPG after,Weeks after treatment\n1,W,450,0,2\n"))
            .day_after == 14);
  // The second sample's sheet alone need have them.
  CHECK(group_of(understood({{"pre", "Tag,EPG before,Days after treatment\n1,450,0\n"},
                             {"post", "Tag,EPG after,Days after treatment\n1,0,10\n"}}))
            .day_after == 10);
}

TEST_CASE("Days from treatment in rows of one sample each tell their times") {
  const auto read = understood("Tag,Mob,Days after treatment,EPG\n1,W,0,450\n1,W,10,0\n"
                               "2,W,0,300\n2,W,10,50\n");
  const Group& group = group_of(read);
  REQUIRE(group.animals[1].visits.size() == 1);
  CHECK(group.animals[1].visits[0].day == 10);
  CHECK(group.animals[1].visits[0].count.eggs.value() == 1);
}

TEST_CASE("Days from treatment that differ, or are none, are refused with the way out") {
  const std::string head = "Tag,Mob,EPG before,EPG after,Days after treatment\n";
  CHECK(not_understood(head + "1,W,450,0,10\n2,W,300,50,11\n") ==
        "t.csv:3: column 5 (days_after): found 11 days; expected 10 days, as for others of group "
        "\"W\"; or, where animals were sampled on several days, the dates of each in date_treated "
        "and date_after");
  CHECK(not_understood(head + "1,W,450,0,soon\n")
            .find("expected a whole number of days from treatment to the count after it") !=
        std::string::npos);
  CHECK(not_understood(head + "1,W,450,0,0\n").find("from 1 to 400") != std::string::npos);
}
