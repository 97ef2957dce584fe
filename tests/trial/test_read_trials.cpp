#include "eggfall/trial/read_trials.hpp"

#include "support/edge_inputs.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

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
  check_two_animals(
      only_trial("group,animal,eggs_before,eggs_after\nA,\"\n7\",12,1\nA,\x0B 8,\"3\n\",\n"));
  check_two_animals(only_trial("group,animal,epg_before,epg_after\nA,7,600,50\nA,8,150,\n"));
  check_two_animals(only_trial("group;animal;epg_before;epg_after;factor_before;factor_after\n"
                               "A;7;150,0;12,5;12,5;12,5\nA;8;37,5;;12,5;12,5\n"));
}

TEST_CASE("A column factor is of both occasions, and theirs win over it") {
  const auto animals =
      only_trial("group,animal,eggs_before,eggs_after,Factor,factor_after\nA,7,12,1,15,5\n"
                 "A,8,3,2,15,\nA,9,3,2,,\n")
          .groups.front()
          .animals;
  CHECK(animals[0].before->factor == MultiplicationFactor(15));
  CHECK(animals[0].after->factor == MultiplicationFactor(5));
  CHECK(animals[1].after->factor == MultiplicationFactor(15));
  CHECK(animals[2].after->factor == MultiplicationFactor(50));
  CHECK(support::input_error([] {
          read_trials("group,animal,eggs_before,eggs_after,factor\nA,7,12,1,none\n", "t.csv", {});
        }).find("t.csv:2: column 5 (factor): found \"none\"; expected a multiplication factor") ==
        0);
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

TEST_CASE("Repeated counts of one sample are summed, each at its own factor") {
  const Trial trial = only_trial("group,animal,eggs_before_2,eggs_before_7,factor_before,"
                                 "factor_before_7,epg_after_1,epg_after_2,epg_after_3\n"
                                 "A,1,3,2,100,25,100,0,50\n"
                                 "A,2,3,2,100,,100,,\n"
                                 "A,3,,2,100,25,,,\n"
                                 "A,4,,,100,25,0,0,\n");
  const auto& animals = trial.groups[0].animals;
  CHECK(animals[0].before->eggs == EggsSeen(5));
  // 1 / (1/100 + 1/25), from the volumes: see test_repeat_counts.cpp.
  CHECK(animals[0].before->factor.value() == Approx(20).epsilon(support::other_order));
  REQUIRE(animals[0].repeats_before.size() == 2);
  CHECK(animals[0].repeats_before[0].eggs == EggsSeen(3));
  CHECK(animals[0].repeats_before[0].factor == MultiplicationFactor(100));
  CHECK(animals[0].repeats_before[1].factor == MultiplicationFactor(25));
  CHECK(animals[0].after->eggs == EggsSeen(3));
  CHECK(animals[0].after->factor.value() == 50.0 / 3);
  CHECK(animals[0].repeats_after.size() == 3);
  CHECK(animals[1].before->factor == MultiplicationFactor(50));
  CHECK(animals[1].after->factor == MultiplicationFactor(50));
  CHECK(animals[1].repeats_after.empty());
  CHECK(animals[2].before->factor == MultiplicationFactor(25));
  CHECK(animals[2].repeats_before.empty());
  CHECK_FALSE(animals[2].after);
  CHECK_FALSE(animals[3].before);
  CHECK(animals[3].after->eggs == EggsSeen(0));
  CHECK(animals[3].after->factor == MultiplicationFactor(25));
}

TEST_CASE("A pool's counts know of how many animals they are") {
  const Trial trial =
      only_trial("group,animal,eggs_before,eggs_after,Animals in pool,eggs_before:nematodirus,"
                 "eggs_after:nematodirus,weight_kg\n"
                 "A,pool 1,40,2,10,3,0,\nA,2,12,1,,0,0,31\nA,3,12,1,1,0,0,31\n");
  const auto& animals = trial.groups[0].animals;
  CHECK(animals[0].before->animals == 10);
  CHECK(animals[0].after->animals == 10);
  CHECK(animals[0].kinds.at("nematodirus").before->animals == 10);
  CHECK(animals[1].before->animals == 1);
  CHECK(animals[2].after->animals == 1);
}

TEST_CASE("Eggs told apart are kept beside the main counts") {
  const Trial trial =
      only_trial("group,animal,eggs_before,eggs_after,factor_after,Eggs before : Nematodirus,"
                 "eggs_after:nematodirus,eggs-before:Parascaris,eggs_after:ascarid\n"
                 "A,1,12,1,25,4,2,0,0\nA,2,12,1,,,3,,\n");
  const auto& animals = trial.groups[0].animals;
  CHECK(animals[0].before->eggs == EggsSeen(12));
  REQUIRE(animals[0].kinds.size() == 2);
  const Samples& kind = animals[0].kinds.at("nematodirus");
  CHECK(kind.before->eggs == EggsSeen(4));
  CHECK(kind.before->factor == MultiplicationFactor(50));
  CHECK(kind.after->eggs == EggsSeen(2));
  CHECK(kind.after->factor == MultiplicationFactor(25));
  CHECK(animals[0].kinds.at("ascarids").before->eggs == EggsSeen(0));
  REQUIRE(animals[1].kinds.size() == 1);
  CHECK_FALSE(animals[1].kinds.at("nematodirus").before);
  CHECK(animals[1].kinds.at("nematodirus").after->factor == MultiplicationFactor(50));
}

TEST_CASE("The label's rate in mg and the strength of the drench give it in mL") {
  const Trial trial =
      only_trial("group,animal,eggs_before,eggs_after,label_mg_per_kg,mg_per_ml,label_ml_per_kg\n"
                 "A,1,12,1,5,25,\nA,2,12,1,5,25,0.2016\nA,3,12,1,,25,\nA,4,12,1,,,0.3\n");
  const auto& animals = trial.groups[0].animals;
  CHECK(animals[0].label_ml_per_kg == 0.2); // 5 mg/kg at 25 mg/mL
  CHECK(animals[0].mg_per_ml == 25);
  CHECK(animals[1].label_ml_per_kg == 0.2016);
  CHECK_FALSE(animals[2].label_ml_per_kg);
  CHECK(animals[2].mg_per_ml == 25);
  CHECK(animals[3].label_ml_per_kg == 0.3);
}

TEST_CASE("A group's year is given, or else that of its first treatment") {
  const Trial trial = only_trial("group,animal,eggs_before,eggs_after,region,year,date_treated\n"
                                 "A,1,12,1,Upper Valley,,2032-01-02\nA,2,12,1,,,2031-12-30\n"
                                 "B,1,12,1,,2032,2031-12-30\nB,2,12,1,,2032,\nC,1,12,1,,,\n");
  CHECK(trial.groups[0].region == "Upper Valley");
  CHECK(trial.groups[0].year == 2031);
  CHECK(trial.groups[1].region.empty());
  CHECK(trial.groups[1].year == 2032);
  CHECK_FALSE(trial.groups[2].year);
}

TEST_CASE("A column much like one of ours is noted as such") {
  const auto notes = [](const std::string& column) {
    return read_trials("group,animal,eggs_before_1,eggs_after," + column + "\nA,1,5,1,2\n", "t.csv",
                       factor_50())
        .notes;
  };
  using Notes = std::vector<std::string>;
  CHECK(notes("animal in pool") ==
        Notes{"t.csv: not used: column \"animal in pool\" (is animals_in_pool meant?)"});
  CHECK(notes("Regoin") == Notes{"t.csv: not used: column \"Regoin\""});
  CHECK(notes("label mg kg") ==
        Notes{"t.csv: not used: column \"label mg kg\" (is label_mg_per_kg meant?)"});
  CHECK(notes("egg_before_2") ==
        Notes{"t.csv: not used: column \"egg_before_2\" (is eggs_before_2 meant?)"});
  CHECK(notes("egg_before:nematodirus") ==
        Notes{"t.csv: not used: column \"egg_before:nematodirus\" (is eggs_before:nematodirus "
              "meant?)"});
  CHECK(notes("weight_kg_2") ==
        Notes{"t.csv: not used: column \"weight_kg_2\" (is weight_kg meant?)"});
  CHECK(notes("egg_after") == Notes{"t.csv: not used: column \"egg_after\""});
  CHECK(notes("ear") == Notes{"t.csv: not used: column \"ear\""});
}

TEST_CASE("A group whose name says untreated, without a role, is a question and not a drench") {
  const std::string counts = "group,animal,eggs_before,eggs_after\nw,1,9,0\nw,2,8,0\n";
  for (const std::string name :
       {"control", "Controls", "untreated", "Untreated ewes", "keepers", "not treated", "no drench",
        "undrenched", "mob B (control)", "CONTROL_GROUP"}) {
    const std::string table = counts + name + ",3,9,9\n" + name + ",4,8,8\n";
    const auto read = [&] { only_trial(table); };
    const bool several_words = name.find(' ') != std::string::npos;
    CHECK(support::input_error(read) ==
          "t.csv:4: role: found no role for group \"" + name +
              "\", whose name says untreated; expected control in its column role, or the setting "
              "control " +
              (several_words ? '"' + name + '"' : name) + "; treated, if it was");
    ReadOptions told = factor_50();
    told.control = name;
    const Trial with_control = only_trial(table, told);
    CHECK(control_of(with_control)->name == name);
    // A pilot's groups are not compared.
    ReadOptions pilot = factor_50();
    pilot.needed = NeededCounts::before;
    CHECK(only_trial(table, pilot).groups.size() == 2);
  }
  const std::string with_role = "group,animal,role,eggs_before,eggs_after\n"
                                "w,1,,9,0\nfly control,2,treated,8,0\n";
  CHECK(only_trial(with_role).groups[1].role == Role::treated);
  // No word of it is the word.
  CHECK(only_trial(counts + "controlled release,3,9,0\nuncontrolled,4,9,9\n").groups.size() == 3);
}

TEST_CASE("A column that is almost role is asked about") {
  for (const std::string name : {"roles", "Rol", "Rolle", "r ole"}) {
    const auto read = [&] {
      only_trial("group,animal," + name +
                 ",eggs_before,eggs_after\nw,1,treated,9,0\nk,2,control,9,9\n");
    };
    CHECK(support::input_error(read) == "t.csv:1: column 3 (role): found \"" + name +
                                            "\"; expected role, if that is meant, or a name less "
                                            "like it");
  }
  for (const std::string name : {"Role:", "ROLE", " role : "}) {
    const Trial trial = only_trial("group,animal," + name +
                                   ",eggs_before,eggs_after\nw,1,treated,9,0\nk,2,control,9,9\n");
    CHECK(control_of(trial)->name == "k");
  }
  // Beside a role, a likeness is no matter.
  CHECK(only_trial("group,animal,role,rolls,eggs_before,eggs_after\nw,1,,x,9,0\n").groups.size() ==
        1);
}

TEST_CASE("Short names of columns are guessed too") {
  for (const auto& [seen, meant] :
       {std::pair{"hosts", "host"}, {"Worms", "worm"}, {"yeer", "year"}}) {
    const TrialTable table =
        read_trials("group,animal,eggs_before,eggs_after," + std::string(seen) + "\nw,1,9,0,x\n",
                    "t.csv", factor_50());
    CHECK(table.notes == std::vector<std::string>{"t.csv: not used: column \"" + std::string(seen) +
                                                  "\" (is " + meant + " meant?)"});
  }
}

TEST_CASE("Names are one if they look it by blanks and forms, and told if by case and the like") {
  const std::string header = "group,animal,eggs_before,eggs_after\n";
  const auto groups = [&](const std::string& rows) {
    return read_trials(header + rows, "t.csv", factor_50());
  };
  // A no-break space, two blanks, a zero-width space, a byte order mark, and two ways to write an
  // e.
  const TrialTable one = groups("white drench,1,9,0\nwhite\xC2\xA0"
                                "drench,2,9,0\nwhite  drench,3,9,0\n"
                                "white\xE2\x80\x8B drench,4,9,0\n\xEF\xBB\xBFwhite drench,5,9,0\n");
  REQUIRE(one.trials[0].groups.size() == 1);
  CHECK(one.trials[0].groups[0].name == "white drench");
  CHECK(one.notes.empty());
  CHECK(groups("m\xC3\xA9rino,1,9,0\nme\xCC\x81rino,2,9,0\n").trials[0].groups.size() == 1);

  const TrialTable two = groups("W-1,1,9,0\nw\xE2\x80\x93"
                                "1,2,9,0\n");
  CHECK(two.trials[0].groups.size() == 2);
  CHECK(two.notes ==
        std::vector<std::string>{"t.csv: taken as two groups: \"W-1\" and \"w\xE2\x80\x93"
                                 "1\""});

  // Tags are no other than groups.
  CHECK(support::input_error([&] {
          groups("w,A 1,9,0\nw,A\xC2\xA0"
                 "1,8,0\n");
        }) ==
        "t.csv:3: column 2 (animal): found \"A 1\" again; expected each animal once in group \"w\" "
        "(it is on line 2 already)");
  CHECK(groups("w,a1,9,0\nw,A1,8,0\nw,b,8,0\nx,a1,9,0\n").notes ==
        std::vector<std::string>{"t.csv: taken as two animals of group \"w\": \"a1\" and \"A1\""});
  CHECK(
      groups("w,a1,9,0\nw,A1,8,0\nw,b,8,0\nw,B,9,0\nw,c,8,0\nw,C,9,0\nw,d,8,0\nw,D,9,0\n").notes ==
      std::vector<std::string>{"t.csv: taken as two animals of group \"w\": \"a1\" and \"A1\"; "
                               "\"b\" and \"B\"; \"c\" and \"C\"; and 1 more"});
}

TEST_CASE("Two columns of what may be one worm are a question") {
  const auto table = [](const std::string& kinds) {
    return support::input_error([&] {
      only_trial("group,animal,eggs_before,eggs_after," + kinds + "\nw,1,9,0,4,3,2,1\n");
    });
  };
  CHECK(table("eggs_before:trich,eggs_after:trich,eggs_before:trichuris,eggs_after:trichuris") ==
        "t.csv:1: column 7 (eggs_before:trichuris): found this beside eggs_before:trich; expected "
        "one "
        "column for a worm, or names that tell two worms apart");
  CHECK(
      table("eggs_before:nem,eggs_after:nem,eggs_before:Nematodirus,eggs_after:Nematodirus") ==
      "t.csv:1: column 7 (eggs_before:nematodirus): found a second column of this worm (the first "
      "is column 5); expected one\nt.csv:1: column 8 (eggs_after:nematodirus): found a second "
      "column "
      "of this worm (the first is column 6); expected one");
}

TEST_CASE("Numbers that no bench or scale gives are refused with their place") {
  const auto told = [](const std::string& column, const std::string& value) {
    return support::input_error([&] {
      only_trial("group,animal,eggs_before,eggs_after," + column + "\nw,1,9,0," + value + "\n");
    });
  };
  CHECK(
      told("factor_before", "1e-300") ==
      "t.csv:2: column 5 (factor_before): found \"1e-300\"; expected a multiplication factor from "
      "0.001 to 100000");
  CHECK(
      told("weight_kg", "1e-300") ==
      "t.csv:2: column 5 (weight_kg): found \"1e-300\"; expected a weight in kg from 0.1 to 2000");
  CHECK(told("dose_ml", "0.0001") ==
        "t.csv:2: column 5 (dose_ml): found \"0.0001\"; expected a dose in mL from 0.001 to 2000");
  CHECK(told("label_ml_per_kg", "1e-300") == "t.csv:2: column 5 (label_ml_per_kg): found "
                                             "\"1e-300\"; expected a dose rate in mL per kg from "
                                             "0.0001 to 2000");
}

TEST_CASE("A host that is not known is refused if a known one is near, and a worm asked about") {
  const auto notes = [](const std::string& column, const std::string& word) {
    return read_trials("group,animal,eggs_before,eggs_after," + column + "\nw,1,9,0," + word +
                           "\nw,2,8,0," + word + "\n",
                       "t.csv", factor_50())
        .notes;
  };
  CHECK(support::input_error([&] { notes("host", "shep"); }) ==
        "t.csv:2: column 5 (host): found \"shep\"; expected a host that is known (is sheep "
        "meant?), or other words for one that is not");
  CHECK(notes("worm", "hemonchus") ==
        std::vector<std::string>{
            "t.csv: the worm \"hemonchus\" is not known (is haemonchus meant?)"});
  CHECK(notes("host", "reindeer").empty());
  CHECK(notes("host", "ewes").empty());
  CHECK(notes("worm", "strongyles").empty());
}

TEST_CASE("A class that is not that of the substance named is told") {
  const auto notes = [](const std::string& drench) {
    return read_trials("group,animal,eggs_before,eggs_after,drench,class\nw,1,9,0," + drench +
                           "\nw,2,8,0," + drench + "\n",
                       "t.csv", factor_50())
        .notes;
  };
  CHECK(notes("ivermectin,LV") ==
        std::vector<std::string>{"t.csv: class LV is given for \"ivermectin\", which is ML (from "
                                 "memory): check which is right"});
  CHECK(notes("ivermectin,ML").empty());
  CHECK(notes("ivermectin with levamisole,LV+ML").empty());
  CHECK(notes("white,LV").empty());
}

TEST_CASE("Edge inputs are no counts table, and its edge forms are one") {
  ReadOptions options;
  options.factor_before = options.factor_after = MultiplicationFactor(15);
  support::check_edge_inputs_refused(
      "t.csv", [&](const std::string& bytes) { read_trials(bytes, "t.csv", options); });
  support::check_edge_forms_alike(
      "group,animal,eggs_before,eggs_after\nw,1,9,0\nw,2,8,1\n", [&](const std::string& bytes) {
        return counts_table(read_trials(bytes, "t.csv", options).trials);
      });
}

TEST_CASE("A class left out is taken from the drench's name, and told once a substance") {
  const TrialTable table =
      read_trials("trial,group,animal,eggs_before,eggs_after,drench,class,role\n"
                  "t,a,1,12,1,Ivermectin oral,,\nt,levamisole,2,12,1,yellow,,\n"
                  "t,c,3,12,1,ivermectin,BZ,\nt,d,4,12,1,white,,\n"
                  "t,e,5,12,1,ivermectin,,control\nu,b,1,12,1,ivermectin,,\n",
                  "t.csv", factor_50());
  REQUIRE(table.trials.size() == 2);
  const auto classes = [&](std::size_t group) {
    return to_string(table.trials[0].groups.at(group).classes);
  };
  CHECK(classes(0) == "ML");
  CHECK(classes(1) == "LV");
  CHECK(classes(2) == "BZ"); // as given
  CHECK(classes(3).empty());
  CHECK(classes(4).empty()); // nobody was drenched
  CHECK(
      table.trials[0].reading ==
      std::vector<std::string>{"Group \"a\": class ML taken from the drench's name \"ivermectin\".",
                               "Group \"levamisole\": class LV taken from the drench's name "
                               "\"levamisole\"."});
  CHECK(to_string(table.trials[1].groups[0].classes) == "ML");
  CHECK(table.notes ==
        std::vector<std::string>{
            "t.csv: class ML taken from the drench's name \"ivermectin\", where none is given",
            "t.csv: class LV taken from the drench's name \"levamisole\", where none is given",
            "t.csv: class BZ is given for \"ivermectin\", which is ML (from memory): check which "
            "is right"});
}
