#include "eggfall/read_trial.hpp"

#include "support.hpp"

using namespace eggfall;

namespace {

ReadOptions factor_50() {
  ReadOptions options;
  options.factor_before = MultiplicationFactor(50);
  options.factor_after = MultiplicationFactor(50);
  return options;
}

Trial only_trial(const std::string& text, const ReadOptions& options = factor_50()) {
  TrialTable table = read_trials(text, "t.csv", options);
  REQUIRE(table.trials.size() == 1);
  return table.trials.front();
}

void check_two_animals(const Trial& trial) {
  REQUIRE(trial.groups.size() == 1);
  const auto& animals = trial.groups[0].animals;
  REQUIRE(animals.size() == 2);
  CHECK(animals[0].tag == "7");
  CHECK(animals[0].before->eggs == EggsSeen(12));
  CHECK(animals[0].after->eggs == EggsSeen(1));
  CHECK(animals[1].before->eggs == EggsSeen(3));
  CHECK_FALSE(animals[1].after);
}

} // namespace

TEST_CASE("One table in every dress") {
  const std::string plain = "group,animal,eggs_before,eggs_after\nA,7,12,1\nA,8,3,\n";
  check_two_animals(only_trial(plain));
  check_two_animals(only_trial("\xEF\xBB\xBF" + plain));
  check_two_animals(only_trial("group;animal;eggs_before;eggs_after\nA;7;12;1\nA;8;3;\n"));
  check_two_animals(only_trial("group\tanimal\teggs_before\teggs_after\nA\t7\t12\t1\nA\t8\t3\t\n"));
  check_two_animals(only_trial("group,animal,eggs_before,eggs_after\r\nA,7,12,1\r\nA,8,3,\r\n"));
  check_two_animals(only_trial("group,animal,eggs_before,eggs_after\rA,7,12,1\rA,8,3,\r"));
  check_two_animals(only_trial("Eggs After,ANIMAL,Eggs-Before,Group\n1,7,12,A\n,8,3,A"));
  check_two_animals(
      only_trial("\n\ngroup,animal,eggs_before,eggs_after\n\nA,7,12,1\n,,,\nA,8,3,\n"));
  check_two_animals(only_trial(
      "\"group\",\"animal\",\"eggs_before\",\"eggs_after\"\n\"A\",\"7\",\"12\",\"1\"\nA,8,3,\n"));
  check_two_animals(only_trial("group,animal,epg_before,epg_after\nA,7,600,50\nA,8,150,\n"));
  check_two_animals(only_trial("group;animal;epg_before;epg_after;factor_before;factor_after\n"
                               "A;7;150,0;12,5;12,5;12,5\nA;8;37,5;;12,5;12,5\n"));
}

TEST_CASE("A row's own factor wins over the option") {
  const Trial trial =
      only_trial("group,animal,eggs_before,eggs_after,factor_after\nA,7,12,1,5\nA,8,3,2,\n");
  const auto& animals = trial.groups[0].animals;
  CHECK(animals[0].before->factor == MultiplicationFactor(50));
  CHECK(animals[0].after->factor == MultiplicationFactor(5));
  CHECK(animals[1].after->factor == MultiplicationFactor(50));
}

TEST_CASE("Trials, roles, classes, hosts, worms and dates are read") {
  const TrialTable table = read_trials(
      "trial,group,role,drench,class,host,worm,animal,eggs_before,eggs_after,date_treated,shed\n"
      "north,A,treated,mix,lv + bz,Goat,Strongyle,1,5,1,2031-03-03,x\n"
      "north,A,,,,,,2,5,1,,\n"
      "north,C,Control,,,,,1,5,6,,\n"
      "south,A,,,,,,1,5,1,,\n",
      "t.csv", factor_50());
  REQUIRE(table.trials.size() == 2);
  const Group& group = table.trials[0].groups[0];
  CHECK(to_string(group.classes) == "BZ+LV");
  CHECK(group.host == "goats");
  CHECK(group.worm == "strongyles");
  CHECK(group.drench == "mix");
  CHECK(group.animals[0].date_treated ==
        std::chrono::year(2031) / std::chrono::March / std::chrono::day(3));
  CHECK(control_of(table.trials[0])->name == "C");
  CHECK(control_of(table.trials[1]) == nullptr);
  CHECK(table.notes == std::vector<std::string>{"t.csv: not used: column \"shed\""});
}

TEST_CASE("A control group can be named, and a host given, by option") {
  ReadOptions options = factor_50();
  options.control = "none";
  options.host = "lambs";
  const Trial trial =
      only_trial("group,animal,eggs_before,eggs_after\nA,1,5,1\nnone,1,5,6\n", options);
  CHECK(control_of(trial)->name == "none");
  CHECK(trial.groups[0].host == "sheep");
}

TEST_CASE("An empty role agrees with any, before and after the row that gives it") {
  const Trial trial = only_trial("group,animal,eggs_before,eggs_after,role\nT,1,5,1,\n"
                                 "C,1,5,6,\nC,2,5,6,control\nC,3,5,6,\n");
  CHECK(control_of(trial)->name == "C");
  CHECK(control_of(trial)->animals.size() == 3);
}

TEST_CASE("What was understood loosely is noted") {
  const auto notes = [](const std::string& table) {
    return read_trials(table, "t.csv", factor_50()).notes;
  };
  CHECK(notes("group,animal,eggs_before,eggs_after,,x\nA,1,5,1,2,3\n") ==
        std::vector<std::string>{"t.csv: not used: columns \"number 5, without a header\", \"x\""});
  CHECK(notes("group,animal,eggs_before,eggs_after\nw,1,5,1\nW,1,5,1\n") ==
        std::vector<std::string>{"t.csv: taken as two groups: \"w\" and \"W\""});
  check_two_animals(only_trial("sep=;\ngroup;animal;eggs_before;eggs_after\nA;7;12;1\nA;8;3;\n"));
}
