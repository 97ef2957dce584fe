#include "eggfall/trial/read_cultures.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial_stream.hpp"
#include "support/support.hpp"
#include "trial/read_animals.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

ReadOptions factor_of_one() {
  ReadOptions options;
  options.factor_before = MultiplicationFactor(1);
  options.factor_after = MultiplicationFactor(1);
  options.trial_name = "t";
  return options;
}

const std::string summed = "group,animal,eggs_before,eggs_after\n"
                           "w,1,10,0\n"
                           "w,2,20,2\n"
                           ",Total:,30,2\n"
                           "MEAN,,15,1\n"
                           "w,Std  Dev,7.1,1.4\n";

constexpr const char* told = "t.csv: passed over, as sums and means and no animals: line 4 "
                             "(\"Total:\"), line 5 (\"MEAN\"), line 6 (\"Std Dev\")";

} // namespace

TEST_CASE("Rows that sum a table up are no animals, and are told") {
  const TrialTable table = read_trials(summed, "t.csv", factor_of_one());
  REQUIRE(table.trials.size() == 1);
  REQUIRE(table.trials[0].groups.size() == 1);
  CHECK(table.trials[0].groups[0].animals.size() == 2);
  CHECK(table.notes == std::vector<std::string>{told});

  TrialStream stream({"t.csv"}, factor_of_one());
  std::vector<Trial> trials = stream.feed(summed);
  for (Trial& trial : stream.finish())
    trials.push_back(std::move(trial));
  REQUIRE(trials.size() == 1);
  CHECK(trials[0].groups[0].animals.size() == 2);
  CHECK(stream.notes() == std::vector<std::string>{told});
}

TEST_CASE("A sum in a table of several trials opens no trial of its own") {
  const TrialTable table = read_trials("trial,group,animal,eggs_before,eggs_after\n"
                                       "A,w,1,10,0\n"
                                       ",,Total,10,0\n"
                                       "A,w,2,20,2\n",
                                       "t.csv", factor_of_one());
  REQUIRE(table.trials.size() == 1);
  CHECK(table.trials[0].groups[0].animals.size() == 2);
}

TEST_CASE("Animals are not taken for sums by a word in their names") {
  const TrialTable table = read_trials("group,animal,eggs_before,eggs_after\n"
                                       "w,Max,10,0\nw,Total Eclipse,10,0\nw,n,10,0\nw,Meany,1,1\n",
                                       "t.csv", factor_of_one());
  CHECK(table.trials[0].groups[0].animals.size() == 4);
  CHECK(table.notes.empty());
}

TEST_CASE("A table of sums alone is refused") {
  CHECK_THROWS_WITH(
      read_trials("group,animal,eggs_before,eggs_after\nw,Mean,10,0\n", "t.csv", factor_of_one()),
      "t.csv: found sums and means alone; expected a row for each animal");
}

TEST_CASE("A table of sums of larvae alone is refused") {
  TrialTable counts =
      read_trials("group,animal,eggs_before,eggs_after\nw,1,10,0\n", "t.csv", factor_of_one());
  CHECK_THROWS_WITH(read_cultures("group,time,worm,larvae\nw,before,Total,100\n", "l.csv",
                                  std::move(counts.trials)),
                    "l.csv: found sums alone; expected a row for each worm");
}

TEST_CASE("Sums of larvae are no worm, and a mob's mean is no animal of it") {
  TrialTable counts =
      read_trials("group,animal,eggs_before,eggs_after\nw,1,10,0\n", "t.csv", factor_of_one());
  const TrialTable table = read_cultures("group,time,worm,larvae\n"
                                         "w,before,haemonchus,60\nw,before,teladorsagia,40\n"
                                         "w,before,Total,100\n",
                                         "l.csv", std::move(counts.trials));
  CHECK(total_larvae(table.trials[0].groups[0].culture_before) == 100);
  CHECK(table.notes ==
        std::vector<std::string>{"l.csv: passed over, as sums and means and no animals: line 4 "
                                 "(\"Total\")"});
  const AnimalList list = read_animals("animal,epg\n1,100\n2,300\nAverage,200\n", "mob.csv");
  CHECK(list.animals.size() == 2);
  CHECK(list.notes.size() == 1);
}
