#include "intake/day_of_one_sample.hpp"

#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <algorithm>
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

bool has_line(const UnderstoodTables& understood, const std::string& start) {
  return std::ranges::any_of(texts_of(understood.told),
                             [&](const std::string& line) { return line.starts_with(start); });
}

/// The days told of a table with these heads, over a row for each of two animals.
std::optional<int> days_of(const std::string& heads) {
  return group_of(understood("Tag,Mob," + heads + "\n1,W,450,50,0,0\n2,W,300,50,50,0\n"))
      .animals[0]
      .days_after;
}

} // namespace

TEST_CASE("A day in the heads of eggs told apart is kept, or a dead drench could look good") {
  const auto read = understood("Tag,Mob,EPG day 0,Nematodirus EPG day 0,EPG day 3,Nematodirus EPG "
                               "day 3\n1,W,450,50,0,0\n2,W,300,50,50,0\n");
  CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  const Group& group = group_of(read);
  CHECK(group.animals[0].days_after == 3);
  CHECK(group.animals[0].visits.empty());
  CHECK(group.animals[0].kinds.at("nematodirus").before->eggs.value() == 1);
  CHECK(group.animals[0].kinds.at("nematodirus").after->eggs.value() == 0);
  CHECK(days_of("EPG pre,Nematodirus EPG pre,EPG week 2,Nematodirus EPG week 2") == 14);
  CHECK(days_of("EPG pre,Nematodirus EPG pre,EPG week 1,Nematodirus EPG week 1") == 7);
}

TEST_CASE("Where no egg is told apart a day in the heads is a visit's, as it was") {
  const Group group = group_of(understood("Tag,Mob,EPG day 0,EPG day 3\n1,W,450,0\n2,W,300,50\n"));
  CHECK(group.animals[0].days_after == std::nullopt);
  REQUIRE(group.animals[0].visits.size() == 1);
  CHECK(group.animals[0].visits[0].day == 3);
}

TEST_CASE("Day 14 is that of a usual test, and of no visit") {
  for (const std::string heads : {"EPG day 0,EPG day 14", "EPG pre,EPG week 2", "Day 1,Day 15"}) {
    INFO(heads);
    const Group group = group_of(understood("Tag,Mob," + heads + "\n1,W,450,0\n2,W,300,50\n",
                                            layout_of({{"counts", "epg"}})));
    CHECK(group.animals[0].days_after == 14);
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
  CHECK(group_of(read).animals[0].days_after == 10);
}

TEST_CASE("The day of eggs told apart is kept from rows of one sample each") {
  const auto read = understood("Tag,Mob,Days after treatment,EPG,Nematodirus EPG\n"
                               "1,W,0,450,50\n1,W,3,0,0\n2,W,0,300,0\n2,W,3,50,0\n");
  CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  CHECK(group_of(read).animals[0].days_after == 3);
}

TEST_CASE("The day of eggs told apart is kept from the name of a sheet") {
  const auto read = understood({{"Day 0", "Tag,EPG,Nematodirus EPG\n1,450,50\n2,300,0\n"},
                                {"Day 3", "Tag,EPG,Nematodirus EPG\n1,0,0\n2,50,0\n"}});
  CHECK(group_of(read).animals[0].days_after == 3);
}

TEST_CASE("A factor of the day goes with it") {
  const auto read = understood("Tag,Mob,When,EPG,Nematodirus EPG,Factor\n1,W,Day 0,450,50,50\n"
                               "1,W,Day 3,30,15,15\n",
                               layout_of({}));
  const Group& group = group_of(read);
  CHECK(group.animals[0].days_after == 3);
  CHECK(group.animals[0].after->factor.value() == 15);
  CHECK(group.animals[0].after->eggs.value() == 2);
  CHECK(group.animals[0].kinds.at("nematodirus").after->eggs.value() == 1);
}

TEST_CASE("Several days of eggs told apart are asked about") {
  CHECK(not_understood("Tag,Mob,EPG day 0,Nematodirus EPG day 0,EPG day 3,Nematodirus EPG day 3,"
                       "EPG day 10,Nematodirus EPG day 10\n1,W,450,50,0,0,0,0\n")
            .find("times of sampling") != std::string::npos);
}

TEST_CASE("Of a day that heads and a column tell differently neither is taken") {
  const std::string heads = "Tag,Mob,EPG day 0,EPG day 3,Days after treatment\n1,W,450,0,";
  CHECK(not_understood(heads + "10\n") ==
        "t.csv:2: column 5 (Days after treatment): found \"10\"; expected day 3, which the counts' "
        "head tells, or one of the two alone");
  CHECK(group_of(understood(heads + "3\n")).animals[0].days_after == 3);
  CHECK(group_of(understood(heads + "\n")).animals[0].visits.size() == 1);
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
    CHECK(group_of(read).animals[0].days_after == 10);
  }
  CHECK(group_of(understood("Tag,Mob,EPG before,EPG after,Weeks after treatment\n1,W,450,0,2\n"))
            .animals[0]
            .days_after == 14);
  // The second sample's sheet alone need have them.
  CHECK(group_of(understood({{"pre", "Tag,EPG before,Days after treatment\n1,450,0\n"},
                             {"post", "Tag,EPG after,Days after treatment\n1,0,10\n"}}))
            .animals[0]
            .days_after == 10);
}

TEST_CASE("Days from treatment in rows of one sample each tell their times") {
  const auto read = understood("Tag,Mob,Days after treatment,EPG\n1,W,0,450\n1,W,10,0\n"
                               "2,W,0,300\n2,W,10,50\n");
  const Group& group = group_of(read);
  REQUIRE(group.animals[1].visits.size() == 1);
  CHECK(group.animals[1].visits[0].day == 10);
  CHECK(group.animals[1].visits[0].count.eggs.value() == 1);
}

TEST_CASE("Days from treatment may differ by animal; what is none is refused") {
  const std::string head = "Tag,Mob,EPG before,EPG after,Days after treatment\n";
  const Group group = group_of(understood(head + "1,W,450,0,10\n2,W,300,50,11\n3,W,300,0,\n"));
  CHECK(group.animals[0].days_after == 10);
  CHECK(group.animals[1].days_after == 11);
  CHECK(group.animals[2].days_after == std::nullopt);
  CHECK(not_understood(head + "1,W,450,0,soon\n")
            .find("expected a whole number of days from treatment to the count after it") !=
        std::string::npos);
  CHECK(not_understood(head + "1,W,450,0,0\n").find("from 1 to 400") != std::string::npos);
}

TEST_CASE("Whatever a column of days is called, a fall on day 3 is not taken for a test's") {
  const auto days_of_column = [](const std::string& head, const std::string& cell) {
    INFO(head);
    const auto read = understood("Tag,Mob,EPG before,EPG after," + head + "\n1,W,450,0," + cell +
                                 "\n2,W,300,0," + cell + "\n");
    CHECK(eggs_of(read) == Lines{"W 1: 9 to 0", "W 2: 6 to 0"});
    return group_of(read).animals[0].days_after;
  };
  for (const std::string head : {"Day", "Days", "DPT", "Day of second sample",
                                 "Days to second sample", "Second sample day", "Tage", "Día"})
    CHECK(days_of_column(head, "3") == 3);
  // They may be of something else: since lambing, or since another drench.
  for (const std::string head :
       {"Interval (days)", "Days between samples", "Days elapsed", "Days since lambing",
        "Days from last dose", "Abstand (Tage)", "Délai (jours)", "Intervalo (dias)"}) {
    INFO(head);
    const std::string table = "Tag,Mob,EPG before,EPG after," + head + "\n1,W,450,0,";
    CHECK_THAT(not_understood(table + "3\n"),
               Catch::Contains("a column of days, which may be those from treatment to the second "
                               "sample; expected an answer: the setting column \"days_after=" +
                               head +
                               "\" (if they are; if they are of something else, another head"));
    CHECK(group_of(understood(table + "3\n", layout_of({{"column", "days_after=" + head}})))
              .animals[0]
              .days_after == 3);
    CHECK(days_of_column(head, "14") == 14); // nothing hangs on it
  }
  CHECK(days_of_column("Timing", "Day 3") == 3);
  CHECK(days_of_column("Weeks", "5") == 35);
  CHECK(days_of_column("Hours after treatment", "72") == 3);
  CHECK(days_of_column("Months after treatment", "1") == 30);
  CHECK(days_of_column("Days after treatment", "-") == std::nullopt); // no day
  // A day of the week, or one of treatment, is none; and that is told.
  for (const std::string cell : {"Mon", "0"}) {
    const auto read = understood("Tag,Mob,EPG before,EPG after,Day\n1,W,450,0," + cell + "\n");
    CHECK(group_of(read).animals[0].days_after == std::nullopt);
    CHECK(has_line(read, "t.csv: not used: \"Day\""));
  }
  // Of two columns that of the second sample.
  CHECK(group_of(understood("Tag,Mob,EPG before,Day,EPG after,Day\n1,W,450,0,0,3\n"))
            .animals[0]
            .days_after == 3);
}

TEST_CASE("Groups side by side are not judged by each other's days") {
  const std::string table =
      "White,,,,Blue,,,\nTag,EPG before,EPG after,Days after treatment,Tag,EPG "
      "before,EPG after,Days after treatment\n1,450,0,14,11,300,0,";
  CHECK_THAT(not_understood(table + "3\n"),
             Catch::Contains("column 8 (") && Catch::Contains("found \"3\", and \"14\" under") &&
                 Catch::Contains("rows of their own for each group"));
  CHECK(understood(table + "14\n").table.trials[0].groups.size() == 2);
}

TEST_CASE("Of several columns of times in rows of one sample that with the days tells them") {
  const auto day_of = [](const std::string& heads, const std::string& before,
                         const std::string& after) {
    INFO(heads);
    const Group group = group_of(
        understood("Tag,Mob," + heads + ",EPG\n1,W," + before + ",450\n1,W," + after + ",0\n"));
    return group.animals[0].visits.empty() ? group.animals[0].days_after
                                           : std::optional(group.animals[0].visits[0].day);
  };
  CHECK(day_of("Round,Time", "1,Day 0", "2,Day 35") == 35);
  CHECK(day_of("Sampling,Day", "pre,0", "post,3") == 3);
  CHECK(day_of("Day,Sample", ",before", "3,after") == 3);
  CHECK(day_of("DPT", "0", "3") == 3);
  CHECK(day_of("Sample", "pre", "3dpt") == 3);
}

TEST_CASE("A dash in a column of times is refused with its place") {
  CHECK_THAT(not_understood("Tag,Mob,Day,EPG\n1,W,-,450\n1,W,3,0\n"),
             Catch::StartsWith("t.csv:2: column 3 (Day): found \"-\"; expected before or after"));
  CHECK_THAT(not_understood("Tag,Mob,Sampling,EPG\n1,W,pre,450\n1,W,\xE2\x88\x92,0\n"),
             Catch::Contains("column 3 (Sampling)"));
}

TEST_CASE("A day above a head, in what an option names, or in a name with other numbers, is kept") {
  const auto day_of = [](const Group& group) {
    REQUIRE(group.animals[0].visits.size() == 1);
    return group.animals[0].visits[0].day;
  };
  CHECK(day_of(group_of(understood(",,Day 0,Day 3\nTag,Mob,EPG before,EPG after\n1,W,450,0\n"))) ==
        3);
  CHECK(day_of(group_of(understood(",,Week 0,Week 5\nTag,Mob,EPG 1,EPG 2\n1,W,450,0\n"))) == 35);
  CHECK(day_of(group_of(understood("Tag,Mob,EPG1,EPG2 (day 3)\n1,W,450,0\n"))) == 3);
  CHECK(day_of(group_of(understood("Tag,Mob,EPG day 0,EPG day 3\n1,W,450,0\n",
                                   layout_of({{"column", "epg_before=EPG day 0"},
                                              {"column", "epg_after=EPG day 3"}})))) == 3);
  for (const std::string name : {"after 35 days (14 animals)", "35 days after, 10 ewes"})
    CHECK(day_of(group_of(understood(
              {{"before", "Tag,EPG\n1,450\n2,300\n"}, {name, "Tag,EPG\n1,0\n2,0\n"}}))) == 35);
}
