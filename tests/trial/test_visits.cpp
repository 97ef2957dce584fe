#include "trial/visits.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

using namespace eggfall;

namespace {

TrialTable read(const std::string& text, double factor = 10) {
  ReadOptions options;
  options.factor_before = MultiplicationFactor(factor);
  options.factor_after = MultiplicationFactor(factor);
  options.host = "horses";
  return read_trials(text, "t.csv", options);
}

std::string told(const std::string& text) {
  return support::input_error([&] { read(text); });
}

const Animal& first_animal(const TrialTable& table) {
  return table.trials.at(0).groups.at(0).animals.at(0);
}

} // namespace

TEST_CASE("Visits stand in columns by their day, and in place of a count after") {
  const TrialTable table = read("group,animal,eggs_before,Eggs day:28,epg_day:14,eggs_day:400\n"
                                "ivm,a,30,2,10,\n"
                                "ivm,b,20,,0,12\n");
  const Animal& a = first_animal(table);
  CHECK_FALSE(a.after);
  REQUIRE(a.visits.size() == 2);
  CHECK(a.visits[0].day == 14); // in the order of days, whatever that of the columns
  CHECK(a.visits[0].count.eggs.value() == 1);
  CHECK(a.visits[1].day == 28);
  CHECK(a.visits[1].count.eggs.value() == 2);
  const Group& group = table.trials[0].groups[0];
  CHECK(group.animals[1].visits.size() == 2); // an empty cell is no sample
  CHECK(visit_days(group) == std::vector<int>{14, 28, 400});
  CHECK(table.notes.empty());
}

TEST_CASE("A visit's factor is its own, or that after treatment, or the row's") {
  const TrialTable table =
      read("group,animal,eggs_before,factor,factor_after,eggs_day:14,eggs_day:28,factor_day:28,"
           "epg_day:42\n"
           "ivm,a,30,50,25,2,3,5,75\n"
           "ivm,b,30,50,,2,3,,150\n");
  const std::vector<Animal>& animals = table.trials[0].groups[0].animals;
  const auto factor = [&](std::size_t animal, std::size_t visit) {
    return animals[animal].visits.at(visit).count.factor.value();
  };
  CHECK(factor(0, 0) == 25);
  CHECK(factor(0, 1) == 5);
  CHECK(factor(0, 2) == 25);
  CHECK(animals[0].visits[2].count.eggs.value() == 3);
  CHECK(factor(1, 0) == 50);
  CHECK(factor(1, 1) == 50);
  const TrialTable by_option = read("group,animal,eggs_before,eggs_day:14\nivm,a,30,2\n", 15);
  CHECK(first_animal(by_option).visits[0].count.factor.value() == 15);
}

TEST_CASE("A sample of a visit may be counted more than once") {
  const TrialTable table = read("group,animal,eggs_before,eggs_day:14_1,eggs_day:14_2\n"
                                "ivm,a,30,2,3\n");
  const Visit& visit = first_animal(table).visits.at(0);
  CHECK(visit.count.eggs.value() == 5);
  CHECK(visit.count.factor.value() == 5); // half of 10: twice the volume
  CHECK(visit.repeats.size() == 2);
  const Group on = on_visit(table.trials[0].groups[0], 14);
  CHECK(on.animals[0].repeats_after.size() == 2);
}

TEST_CASE("Days that are no days after treatment are refused with the way out") {
  CHECK(told("group,animal,eggs_before,eggs_day:0,eggs_day:14\nivm,a,3,2,1\n") ==
        "t.csv:1: column 4 (eggs_day:0): found a visit on day 0; expected a day after treatment, 1 "
        "to 400 (counts before it stand under eggs_before or epg_before)");
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:-7,eggs_day:14\nivm,a,3,2,1\n"),
             Catch::StartsWith("t.csv:1: column 4 (eggs_day:-7): found a visit on day -7"));
  for (const std::string wrong : {"401", "014", "2.5", "nematodirus", "14:nematodirus"})
    CHECK_THAT(told("group,animal,eggs_before,eggs_day:" + wrong + ",eggs_day:14\nivm,a,3,2,1\n"),
               Catch::Contains("found \"" + wrong +
                               "\"; expected a day after treatment, a whole "
                               "number from 1 to 400, as in eggs_day:28"));
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:1,eggs_day:14,eggs_day:14\nivm,a,3,2,1,1\n"),
             Catch::Contains("a second column of this name"));
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:14,epg_day:14\nivm,a,3,2,1\n"),
             Catch::Contains("found this beside eggs_day:14; expected one of the two"));
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:14,factor_day:28\nivm,a,3,2,1\n"),
             Catch::Contains("a factor without its count"));
  std::string many = "group,animal,eggs_before";
  for (int day = 1; day <= 41; ++day)
    many += fmt::format(",eggs_day:{}", day);
  CHECK_THAT(told(many + "\nivm,a,3" + std::string(41, ',') + "\n"),
             Catch::Contains("found 41 visits; expected at most 40"));
}

TEST_CASE("A visit that lacks its colon is asked for, and not left out") {
  CHECK_THAT(
      told("group,animal,eggs_before,eggs_day:14,Eggs day 28\nivm,a,3,2,1\n"),
      Catch::Contains("column 5 (eggs_day_28): found \"eggs_day_28\"; expected eggs_day:28, if "
                      "a visit is meant"));
}

TEST_CASE("What is wrong in a visit's cell is told where it stands") {
  CHECK(
      told("group,animal,eggs_before,eggs_day:14\nivm,a,3,2.5\n") ==
      "t.csv:2: column 4 (eggs_day:14): found \"2.5\"; expected a whole number of eggs seen, 0 or "
      "more (leave it empty if not sampled)");
  CHECK_THAT(
      told("group,animal,eggs_before,epg_day:14\nivm,a,3,15\n"),
      Catch::Contains("(epg_day:14): found 15 EPG; expected a whole multiple of the factor"));
  const std::string without = support::input_error([] {
    read_trials("group,animal,epg_before,factor_before,eggs_day:14\n"
                "ivm,a,30,10,1\n",
                "t.csv", {});
  });
  CHECK_THAT(without, Catch::Contains("column 5 (eggs_day:14)"));
  CHECK_THAT(without, Catch::Contains("factor_day:14"));
}

TEST_CASE("A visit on the day of the test's own sample counts a day twice") {
  const std::string head =
      "group,animal,eggs_before,eggs_after,date_treated,date_after,eggs_day:14,"
      "eggs_day:28\n";
  CHECK_THAT(
      told(head + "ivm,a,30,1,2031-05-03,2031-05-17,1,2\n"),
      Catch::Contains("(eggs_day:14): found a count on day 14, beside eggs_after of the same "
                      "day by date_after; expected one of the two"));
  CHECK_NOTHROW(read(head + "ivm,a,30,1,2031-05-03,2031-05-17,,2\n"));
  CHECK_NOTHROW(read(head + "ivm,a,30,1,2031-05-03,2031-05-16,1,2\n"));
}

TEST_CASE("Beside visits alone a date after treatment, or eggs told apart, are of no sample") {
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:14,date_after\nivm,a,30,1,2031-05-17\n"),
             Catch::Contains("(date_after): found this beside eggs_day:14 and no eggs_after"));
  CHECK_THAT(told("group,animal,eggs_before,eggs_before:nematodirus,eggs_after:nematodirus,"
                  "eggs_day:14\nivm,a,30,1,1,1\n"),
             Catch::Contains("eggs told apart, and no eggs_after beside visits"));
}

TEST_CASE("A group on a visit has that day's samples for those after treatment") {
  TrialTable table = read("group,animal,eggs_before,date_treated,eggs_day:14,eggs_day:28\n"
                          "ivm,a,30,2031-05-03,1,2\n"
                          "ivm,b,20,,,3\n");
  const Group& group = table.trials[0].groups[0];
  CHECK_FALSE(has_own_after(group));
  const Group on = on_visit(group, 14);
  CHECK(on.day_after == 14);
  CHECK(on.animals[0].after->eggs.value() == 1);
  CHECK(on.animals[0].date_after ==
        std::chrono::year(2031) / std::chrono::May / std::chrono::day(17));
  CHECK_FALSE(on.animals[1].after);
  CHECK_FALSE(has_own_after(on)); // the sample is a visit's
  Group own = group;
  own.animals[1].after = own.animals[1].visits[0].count;
  CHECK(has_own_after(own));
}

TEST_CASE("The day of the one sample after treatment may stand in a column, and is written again") {
  const std::string text = "group,animal,eggs_before,eggs_after,eggs_before:nematodirus,"
                           "eggs_after:nematodirus,days_after\n"
                           "ivm,a,30,0,1,0,10\nivm,b,20,1,0,0,\n";
  const TrialTable table = read(text);
  const Group& group = table.trials[0].groups[0];
  CHECK(group.animals[0].days_after == 10);
  CHECK(group.animals[1].days_after == std::nullopt);
  CHECK(has_own_after(group));
  CHECK(group.animals[0].visits.empty());
  CHECK(read(counts_table(table.trials)).trials[0].groups[0].animals[0].days_after == 10);
  CHECK(counts_table(table.trials).find(",days_after") != std::string::npos);
  CHECK(counts_table(read("group,animal,eggs_before,eggs_after\nivm,a,30,0\n").trials)
            .find("days_after") == std::string::npos);
}

TEST_CASE("Days that dates contradict, or that stand beside visits, are refused") {
  const std::string dated =
      "group,animal,eggs_before,eggs_after,date_treated,date_after,days_after\n"
      "ivm,a,30,0,2031-05-01,2031-05-15,";
  CHECK(read(dated + "14\n").trials[0].groups[0].animals[0].days_after == 14);
  CHECK(told(dated + "10\n") ==
        "t.csv:2: column 7 (days_after): found 10 days; expected 14, the days between date_treated "
        "and date_after, or an empty cell");
  CHECK_THAT(told("group,animal,eggs_before,eggs_day:14,days_after\nivm,a,30,2,14\n"),
             Catch::Contains("column 5 (days_after): found this beside visits"));
  // Under another name it would be passed over, and a fall on day 3 taken for a test's.
  for (const std::string name : {"Days after treatment", "day", "day_after"})
    CHECK_THAT(told("group,animal,eggs_before,eggs_after," + name + "\nivm,a,30,2,3\n"),
               Catch::Contains("days_after, if that is meant"));
  CHECK_NOTHROW(read("group,animal,eggs_before,eggs_after,birthday,date_after\nivm,a,30,2,3,\n"));
  CHECK_THAT(told("group,animal,eggs_before,eggs_after,days_after\nivm,a,30,2,401\n"),
             Catch::Contains("from 1 to 400"));
}

TEST_CASE("A counts table with visits is read as it was written") {
  const std::string text = "group,animal,eggs_before,eggs_day:14,eggs_day:28_1,eggs_day:28_2,"
                           "factor_day:14\nivm,a,30,1,2,4,50\nivm,b,20,,3,,\n";
  const std::vector<Trial> trials = read(text).trials;
  const std::string written = counts_table(trials);
  CHECK(written == "group,animal,host,eggs_before,factor_before,eggs_day:14,factor_day:14,"
                   "eggs_day:28,factor_day:28\r\n"
                   "ivm,a,horses,30,10,1,50,6,5\r\n"
                   "ivm,b,horses,20,10,,,3,10\r\n");
  CHECK(counts_table(read_trials(written, "t.csv", {}).trials) == written);
}
