#include "trial/trial_time.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial_stream.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <chrono>
#include <string>
#include <vector>

using namespace eggfall;
using support::input_error;

namespace {

std::chrono::sys_days day(int year, unsigned month, unsigned of_month) {
  return std::chrono::sys_days(std::chrono::year(year) / std::chrono::month(month) /
                               std::chrono::day(of_month));
}

ReadOptions options() {
  ReadOptions options;
  options.factor_before = options.factor_after = MultiplicationFactor(15);
  options.trial_name = "my table";
  return options;
}

TrialTable read(const std::string& table) {
  return read_trials(table, "t.csv", options());
}

std::vector<Trial> streamed(const std::string& table) {
  TrialStream stream("t.csv", options());
  std::vector<Trial> trials = stream.feed(table);
  for (Trial& trial : stream.finish())
    trials.push_back(std::move(trial));
  return trials;
}

const std::string two_years = "farm,year,group,animal,eggs_before,eggs_after\n"
                              "Hill,2030,a,1,20,0\n"
                              "Hill,2030,a,2,30,1\n"
                              "Hill,2031,a,1,25,2\n"
                              "Hill,2031,a,2,35,3\n";

} // namespace

TEST_CASE("Times may be of one test, or not") {
  CHECK(may_be_one_test({2030, {}}, {2030, {}}));
  CHECK_FALSE(may_be_one_test({2030, {}}, {2031, {}}));
  CHECK(may_be_one_test({{}, day(2030, 12, 20)}, {{}, day(2031, 1, 10)}));     // over New Year
  CHECK_FALSE(may_be_one_test({{}, day(2030, 3, 1)}, {{}, day(2030, 6, 29)})); // 120 days
  CHECK(may_be_one_test({{}, day(2030, 3, 1)}, {{}, day(2030, 6, 28)}));
  CHECK_FALSE(may_be_one_test({{}, day(2030, 6, 29)}, {{}, day(2030, 3, 1)}));
  CHECK(may_be_one_test({2030, {}}, {{}, day(2030, 3, 1)}));
  CHECK_FALSE(may_be_one_test({{}, day(2031, 3, 1)}, {2030, {}}));
  CHECK(may_be_one_test({}, {2030, day(2030, 3, 1)}));
}

TEST_CASE("The same trial name in two years is two trials, read whole or as a stream") {
  for (const std::vector<Trial>& trials : {read(two_years).trials, streamed(two_years)}) {
    REQUIRE(trials.size() == 2);
    CHECK(trials[0].name == "Hill");
    CHECK(trials[1].name == "Hill");
    CHECK(trials[0].groups.front().farm == "Hill");
    CHECK(trials[0].groups.front().year == 2030);
    CHECK(trials[1].groups.front().year == 2031);
    CHECK(trials[1].groups.front().animals.front().before->eggs == EggsSeen(25));
  }
}

TEST_CASE("That one name stands for several tests is noted, with their rows") {
  const TrialTable table = read(two_years);
  REQUIRE(table.notes.size() == 1);
  CHECK(table.notes.front() ==
        "t.csv: one trial's name stands for several tests, told apart by year or date: \"Hill\" of "
        "2030 (2 rows), 2031 (2 rows)");
}

TEST_CASE("Dates alone tell two tests apart, and rows may lie scattered") {
  const TrialTable table = read("group,animal,eggs_before,eggs_after,date_treated,date_after\n"
                                "a,1,20,0,2030-03-01,2030-03-15\n"
                                "a,1,22,1,2031-03-04,2031-03-18\n"
                                "a,2,30,0,2030-03-01,2030-03-15\n"
                                "a,2,32,1,2031-03-04,2031-03-18\n");
  REQUIRE(table.trials.size() == 2);
  CHECK(table.trials[0].groups.front().animals.size() == 2);
  CHECK(table.trials[1].groups.front().year == 2031);
}

TEST_CASE("A test over New Year stays one") {
  const TrialTable table = read("group,animal,eggs_before,eggs_after,date_treated,date_after\n"
                                "a,1,20,0,2030-12-30,2031-01-13\n"
                                "a,2,22,1,2031-01-02,2031-01-16\n");
  REQUIRE(table.trials.size() == 1);
  CHECK(table.notes.empty());
}

TEST_CASE("Two tests in spring and autumn of one year are two, named by their days") {
  std::vector<Trial> trials =
      read("trial,group,animal,eggs_before,eggs_after,date_treated,date_after\n"
           "Hill,a,1,20,0,2030-03-01,2030-03-15\n"
           "Hill,a,2,30,0,2030-03-01,2030-03-15\n"
           "Hill,a,1,22,1,2030-09-04,2030-09-18\n"
           "Hill,a,2,32,1,2030-09-04,2030-09-18\n"
           "Dale,a,2,32,1,2030-09-04,2030-09-18\n")
          .trials;
  name_apart(trials);
  REQUIRE(trials.size() == 3);
  CHECK(trials[0].name == "Hill, 2030-03-01");
  CHECK(trials[1].name == "Hill, 2030-09-04");
  CHECK(trials[2].name == "Dale");
}

TEST_CASE("Tests of different years are named by these") {
  std::vector<Trial> trials = read(two_years).trials;
  name_apart(trials);
  CHECK(trials[0].name == "Hill, 2030");
  CHECK(trials[1].name == "Hill, 2031");
}

TEST_CASE("A row that does not tell which of two tests it is of is refused") {
  const std::string table = "trial,year,group,animal,eggs_before,eggs_after\n"
                            "Hill,2030,a,1,20,0\n"
                            "Hill,,a,2,30,1\n"
                            "Hill,2031,a,1,25,2\n"
                            "Hill,2031,a,2,25,2\n";
  for (const std::string& message :
       {input_error([&] { read(table); }), input_error([&] { streamed(table); })})
    CHECK(message == "t.csv:3: year: found no year and no date, in trial \"Hill\", which has "
                     "tests of 2030, 2031; expected one in every row of it, or a name of its own "
                     "for each test");
}

TEST_CASE("Rows without a time are all of one test where no row tells of another") {
  const TrialTable table = read("trial,year,group,animal,eggs_before,eggs_after\n"
                                "Hill,,a,1,20,0\n"
                                "Hill,2030,a,2,30,1\n"
                                "Hill,,a,3,25,2\n");
  REQUIRE(table.trials.size() == 1);
  CHECK(table.trials.front().groups.front().animals.size() == 3);
}

TEST_CASE("One animal alone of another year is taken for a slip of the pen, and a pool is not") {
  std::string table = "trial,year,group,animal,eggs_before,eggs_after\n";
  for (int animal = 1; animal <= 5; ++animal)
    table += fmt::format("Hill,2031,a,{},20,0\n", animal);
  table += "Hill,2013,a,6,20,0\n";
  CHECK(input_error([&] { read(table); }) ==
        "t.csv:7: year: found one animal alone of 2013, in trial \"Hill\", which has tests of "
        "2031, 2013; expected the year and dates of the other rows, or another trial's name if "
        "this is a test of one animal");
  CHECK(read("trial,year,group,animal,animals_in_pool,eggs_before,eggs_after\n"
             "Hill,2030,a,p1,10,20,0\n"
             "Hill,2031,a,p1,10,20,0\n")
            .trials.size() == 2);
}

TEST_CASE("A stream's trial that comes back in its own year is refused") {
  const std::string table = "trial,year,group,animal,eggs_before,eggs_after\n"
                            "Hill,2030,a,1,20,0\n"
                            "Hill,2031,a,1,20,0\n"
                            "Hill,2031,a,2,20,0\n"
                            "Hill,2030,a,2,20,0\n";
  CHECK(input_error([&] { streamed(table); }).find("trial \"Hill\" again") != std::string::npos);
  CHECK(read(table).trials.size() == 2);
}

TEST_CASE("A trial has one farm, which its rows must agree on") {
  const std::string message = input_error([] {
    read("trial,farm,group,animal,eggs_before,eggs_after\n"
         "t,Hill,a,1,20,0\n"
         "t,,a,2,20,0\n"
         "t,Dale,b,3,20,0\n");
  });
  CHECK(message == "t.csv:4: column 2 (farm): found \"Dale\"; expected one farm a trial "
                   "(line 2 says \"Hill\"), or a name in a column trial for each");
}

TEST_CASE("A farm named in some rows is that of all groups of the trial") {
  const TrialTable table = read("trial,farm,group,animal,eggs_before,eggs_after\n"
                                "t,,a,1,20,0\n"
                                "t,Hill,b,2,20,0\n");
  for (const Group& group : table.trials.front().groups)
    CHECK(group.farm == "Hill");
}

TEST_CASE("Without a trial's name a row is of its farm's") {
  const TrialTable table = read("farm,group,animal,eggs_before,eggs_after\n"
                                "Hill,a,1,20,0\n"
                                "Dale,a,1,20,0\n"
                                ",a,1,20,0\n");
  REQUIRE(table.trials.size() == 3);
  CHECK(table.trials[0].name == "Hill");
  CHECK(table.trials[1].name == "Dale");
  CHECK(table.trials[2].name == "my table");
}

TEST_CASE("Two trials of one name in two tables are the same unless their times differ") {
  std::vector<Trial> trials = read(two_years).trials;
  CHECK(identity_of(trials[0]) != identity_of(trials[1]));
  trials[1].groups.front().year = 2030;
  CHECK(identity_of(trials[0]) == identity_of(trials[1]));
}
