#include "trial/counted_groups.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

ReadOptions sheep_at_15() {
  ReadOptions options;
  options.host = "sheep";
  options.factor_before = MultiplicationFactor(15);
  options.factor_after = MultiplicationFactor(15);
  return options;
}

CountedGroup white() {
  return {.name = "white",
          .classes = {DrugClass::bz},
          .eggs_before = {24, 11, 38, 17, 29, 14, 33, 21, 8, 26, 19},
          .eggs_after = {0, 1, 0, 0, {}, 0, 2, 0, 0, 0, 0}};
}

CountedGroup control() {
  return {.name = "none",
          .role = Role::control,
          .eggs_before = {18, 31, 9, 22, 27, 12, 35, 16, 20, 25},
          .eggs_after = {21, 26, 13, 19, 33, 10, 37, 15, 24, 22}};
}

/// The JSON of the whole analysis, in which every number, class, bar, caveat and sentence stands.
std::string analysed(const Trial& trial) {
  AnalysisSettings settings;
  settings.simulations = 20;
  return analysis_json({analyse(trial, published_cut_offs(), settings)}, settings);
}

/// Counts in memory and a counts table that says the same: the same trial, notes and analysis.
void check_same(const std::vector<CountedGroup>& groups, const std::string& table) {
  INFO(table);
  const TrialTable counted = read_trials(groups, sheep_at_15());
  const TrialTable read = read_trials(table, "counts in memory", sheep_at_15());
  REQUIRE(counted.trials.size() == 1);
  REQUIRE(read.trials.size() == 1);
  CHECK(counted.notes == read.notes);
  CHECK(counts_table(counted.trials) == counts_table(read.trials));
  CHECK(counted.trials.front().reading == read.trials.front().reading);
  CHECK(analysed(counted.trials.front()) == analysed(read.trials.front()));
}

std::string refusal(const std::vector<CountedGroup>& groups,
                    const ReadOptions& options = sheep_at_15()) {
  return support::input_error([&] { read_trials(groups, options); });
}

/// The refusal of the white group with another count of its third animal after treatment.
std::string refusal_of_count(double eggs) {
  CountedGroup group = white();
  group.eggs_after[2] = eggs;
  return refusal({group});
}

const std::string expected_count =
    "; expected a whole number of eggs seen, 0 or more (leave it empty if not sampled)";

} // namespace

TEST_CASE("Counts in memory give the evidence and the standing of a table that says the same") {
  const std::string white_rows = "white,,BZ,1,24,0\nwhite,,BZ,2,11,1\nwhite,,BZ,3,38,0\n"
                                 "white,,BZ,4,17,0\nwhite,,BZ,5,29,\nwhite,,BZ,6,14,0\n"
                                 "white,,BZ,7,33,2\nwhite,,BZ,8,21,0\nwhite,,BZ,9,8,0\n"
                                 "white,,BZ,10,26,0\nwhite,,BZ,11,19,0\n";
  const std::string header = "group,role,class,animal,eggs_before,eggs_after\n";
  check_same({white()}, header + white_rows);
  check_same({white(), control()},
             header + white_rows +
                 "none,control,,1,18,21\nnone,control,,2,31,26\nnone,control,,3,9,13\n"
                 "none,control,,4,22,19\nnone,control,,5,27,33\nnone,control,,6,12,10\n"
                 "none,control,,7,35,37\nnone,control,,8,16,15\nnone,control,,9,20,24\n"
                 "none,control,,10,25,22\n");
}

TEST_CASE("Animals sampled after treatment alone are compared with the control, as of a table") {
  const std::vector<std::optional<double>> nobody(4);
  check_same({{.name = "white", .eggs_before = nobody, .eggs_after = {3, 0, 9, 1}},
              {.name = "none",
               .role = Role::control,
               .eggs_before = nobody,
               .eggs_after = {18, 31, 9, 22}}},
             "group,role,animal,eggs_before,eggs_after\nwhite,,1,,3\nwhite,,2,,0\nwhite,,3,,9\n"
             "white,,4,,1\nnone,control,1,,18\nnone,control,2,,31\nnone,control,3,,9\n"
             "none,control,4,,22\n");
}

TEST_CASE("Words of counts in memory mean what they mean in a table, and are noted alike") {
  const CountedGroup named{.name = "  Clear\tdrench ",
                           .drench = "Ivermectin oral",
                           .worm = "H. contortus",
                           .eggs_before = {40, 25, 31},
                           .eggs_after = {1, 0, 2}};
  CountedGroup contradicted = named;
  contradicted.name = "clear drench";
  contradicted.classes = {DrugClass::lv, DrugClass::bz};
  contradicted.worm = "nematodiruss";
  check_same({named, contradicted}, "group,drench,class,worm,animal,eggs_before,eggs_after\n"
                                    "Clear drench,Ivermectin oral,,H. contortus,1,40,1\n"
                                    "Clear drench,Ivermectin oral,,H. contortus,2,25,0\n"
                                    "Clear drench,Ivermectin oral,,H. contortus,3,31,2\n"
                                    "clear drench,Ivermectin oral,BZ+LV,nematodiruss,1,40,1\n"
                                    "clear drench,Ivermectin oral,BZ+LV,nematodiruss,2,25,0\n"
                                    "clear drench,Ivermectin oral,BZ+LV,nematodiruss,3,31,2\n");
  const TrialTable read = read_trials({named, contradicted}, sheep_at_15());
  // A class from the name, one that is not the substance's, names alike, a worm misspelt.
  CHECK(read.notes.size() == 4);
  CHECK(read.trials.front().groups[0].classes == std::vector{DrugClass::ml});
  CHECK(read.trials.front().groups[0].worm == "haemonchus");
}

TEST_CASE("What counts in memory do not say is a condition of their class, and told") {
  const Trial trial = read_trials({white()}, sheep_at_15()).trials.front();
  const TrialAnalysis result = analyse(trial, published_cut_offs(), {});
  const GroupAnalysis& group = result.groups.front();
  // The words are those of judgement/test_decide_standing, for a table without days and doses.
  CHECK(group.judgement.standing.verdict_class == VerdictClass::susceptible);
  CHECK(group.judgement.standing.provided ==
        "the season alone did not move the counts, the second sample was taken on day 8 to 10 and "
        "each animal got the label's dose for its weight");
  for (const CaveatCode code : {CaveatCode::days_missing, CaveatCode::season_unseen,
                                CaveatCode::missing_after, CaveatCode::worms_not_told_apart})
    CHECK(std::ranges::find(group.caveats, code, &Caveat::code) != group.caveats.end());
}

TEST_CASE("EPG in the place of eggs seen bar the class, as of a table") {
  CountedGroup group = white();
  for (auto* const occasion : {&group.eggs_before, &group.eggs_after})
    for (std::optional<double>& eggs : *occasion)
      if (eggs)
        *eggs *= 15;
  const Trial trial = read_trials({group}, sheep_at_15()).trials.front();
  const TrialAnalysis result = analyse(trial, published_cut_offs(), {});
  const Standing& standing = result.groups.front().judgement.standing;
  REQUIRE_FALSE(standing.bars.empty());
  CHECK(standing.bars.front().code == BarCode::units_in_doubt);
}

TEST_CASE("Animals in memory are numbered in each group, and stand on no line") {
  const Trial trial = read_trials({white(), control()}, sheep_at_15()).trials.front();
  for (const Group& group : trial.groups)
    for (std::size_t i = 0; i < group.animals.size(); ++i) {
      CHECK(group.animals[i].tag == std::to_string(i + 1));
      CHECK(group.animals[i].line == 0);
    }
}

TEST_CASE("The options of a table are those of counts in memory") {
  ReadOptions options = sheep_at_15();
  options.factor_after = MultiplicationFactor(5);
  options.control = "none";
  options.trial_name = "Brackenhill";
  CountedGroup none = control();
  none.role.reset();
  const Trial trial = read_trials({white(), none}, options).trials.front();
  CHECK(trial.name == "Brackenhill");
  CHECK(trial.groups[1].role == Role::control);
  CHECK(trial.groups[0].host == "sheep");
  CHECK(trial.groups[0].animals[0].before->factor == MultiplicationFactor(15));
  CHECK(trial.groups[0].animals[0].after->factor == MultiplicationFactor(5));
}

TEST_CASE("Counts in memory come from vectors of any type of number") {
  const std::vector<int> before{40, 25};
  const std::vector<std::uint64_t> after{1, 0};
  const CountedGroup group{.name = "white",
                           .eggs_before = {before.begin(), before.end()},
                           .eggs_after = {after.begin(), after.end()}};
  const std::vector<Animal> animals =
      read_trials({group}, sheep_at_15()).trials.front().groups[0].animals;
  REQUIRE(animals.size() == 2);
  CHECK(animals[0].before->eggs == EggsSeen(40));
  CHECK(animals[1].before->eggs == EggsSeen(25));
  CHECK(animals[0].after->eggs == EggsSeen(1));
  CHECK(animals[1].after->eggs == EggsSeen(0));
  const std::vector<int> minus{3, -2};
  CHECK(refusal({{.name = "white",
                  .eggs_before = {before.begin(), before.end()},
                  .eggs_after = {minus.begin(), minus.end()}}})
            .find("group \"white\", animal 2: eggs_after: found \"-2\"") == 0);
}

TEST_CASE("Counts in memory of unequal lengths are refused") {
  CountedGroup group = white();
  group.eggs_after.pop_back();
  CHECK(refusal({group}) ==
        "group \"white\": eggs_after: found 10 counts beside 11 in eggs_before; expected as many, "
        "index by index of the same animals (an empty one for an animal that was not sampled)");
  group.eggs_after.clear();
  CHECK(refusal({control(), group}).find("group \"white\": eggs_after: found 0 counts") == 0);
}

TEST_CASE("A negative count in memory is refused") {
  CHECK(refusal_of_count(-1) ==
        "group \"white\", animal 3: eggs_after: found \"-1\"" + expected_count);
}

TEST_CASE("A fractional count in memory is refused") {
  CHECK(refusal_of_count(2.5) ==
        "group \"white\", animal 3: eggs_after: found \"2.5\"" + expected_count);
}

TEST_CASE("A count in memory that is no number is refused, and is no animal that was not sampled") {
  CHECK(refusal_of_count(std::numeric_limits<double>::quiet_NaN()) ==
        "group \"white\", animal 3: eggs_after: found \"nan\"" + expected_count);
  CHECK(refusal_of_count(std::numeric_limits<double>::infinity()) ==
        "group \"white\", animal 3: eggs_after: found \"inf\"" + expected_count);
}

TEST_CASE("More eggs in memory than one sample can show are refused") {
  CHECK(refusal_of_count(1'000'001) == "group \"white\", animal 3: eggs_after: found \"1000001\"; "
                                       "expected at most 1000000 eggs seen");
  CountedGroup most = white();
  most.eggs_after[2] = 1'000'000;
  CHECK(read_trials({most}, sheep_at_15()).trials.front().groups[0].animals[2].after->eggs ==
        EggsSeen(EggsSeen::largest));
}

TEST_CASE("A factor out of range is refused before any count is read") {
  for (const double factor : {0.0, -15.0, 100'001.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK(support::input_error([&] {
            MultiplicationFactor{factor};
          }).find("expected 0.001 to 100000 EPG per egg seen") != std::string::npos);
}

TEST_CASE("Counts in memory without a factor are refused by the name of the setting") {
  ReadOptions options = sheep_at_15();
  options.factor_before.reset();
  options.factor_after.reset();
  CHECK(refusal({white()}, options) ==
        "group \"white\", animal 1: eggs_before: found a count without a multiplication factor; "
        "expected the setting factor-before, the EPG that one egg seen stands for\n"
        "group \"white\", animal 1: eggs_after: found a count without a multiplication factor; "
        "expected the setting factor-after, the EPG that one egg seen stands for");
}

TEST_CASE("No group in memory is refused") {
  CHECK(refusal({}) == "counts in memory: found no group; expected a treated group, and perhaps a "
                       "control");
}

TEST_CASE("A group without a count in memory is refused") {
  CHECK(refusal({white(), {.name = "yellow"}}) ==
        "group \"yellow\": eggs_before: found no count; expected one for each animal");
}

TEST_CASE("A group in memory without a name is refused by its place") {
  CountedGroup group = white();
  group.name.clear();
  CHECK(refusal({control(), group}) == "group 2: name: found nothing; expected a name");
  group.name = " \t";
  CHECK(refusal({group}) == "group 1: name: found nothing; expected a name");
}

TEST_CASE("Two groups in memory of one name are refused, however it is spaced") {
  CountedGroup again = white();
  again.name = " white ";
  CHECK(refusal({white(), again}) ==
        "group \"white\": name: found \"white\" again; expected each group once, with all of its "
        "animals");
}

TEST_CASE("A group in memory that would be passed over as a sum is refused") {
  CountedGroup total = white();
  total.name = "Total";
  CHECK(refusal({white(), total}) ==
        "group \"Total\": name: found \"Total\"; expected another name "
        "(tables say this of a sum)");
}

TEST_CASE("A group in memory whose name says untreated is asked about, as in a table") {
  CountedGroup none = control();
  none.name = "untreated";
  none.role.reset();
  CHECK(refusal({white(), none}) ==
        "group \"untreated\", animal 1: role: found no role for group \"untreated\", whose name "
        "says untreated; expected control in its column role, or the setting control untreated; "
        "treated, if it was");
  none.role = Role::treated;
  CHECK(read_trials({white(), none}, sheep_at_15()).trials.front().groups[1].role == Role::treated);
}

TEST_CASE("Controls in memory that a table may not have are refused as there") {
  CountedGroup second = control();
  second.name = "others";
  CHECK(refusal({white(), control(), second}) ==
        "group \"others\", animal 1: role: found a second control group \"others\" beside \"none\" "
        "in trial \"trial\"; expected one control group a trial");
  CHECK(refusal({control()}) == "counts in memory: role: found only a control group in trial "
                                "\"trial\"; expected at least one treated group");
  ReadOptions options = sheep_at_15();
  options.control = "nobody";
  CHECK(refusal({white()}, options) ==
        "control: found the unknown group \"nobody\"; expected one of the groups \"white\"");
}

TEST_CASE("A misspelt host of counts in memory is refused, as in a table's column") {
  ReadOptions options = sheep_at_15();
  options.host = "shep";
  CHECK(refusal({white()}, options) ==
        "host: found \"shep\"; expected a host that is known (is sheep meant?), or other words for "
        "one that is not");
  options.host = "ewes";
  CHECK(read_trials({white()}, options).trials.front().groups[0].host == "sheep");
  options.host.clear();
  CHECK(read_trials({white()}, options).trials.front().groups[0].host.empty());
}

TEST_CASE("Texts in memory that no table could hold are refused") {
  CountedGroup group = white();
  group.drench = "M\xE4rz";
  CHECK(refusal({group}) == "group \"white\": drench: found \"M?rz\"; expected text in UTF-8");
  group.drench = std::string(1'001, 'x');
  CHECK(refusal({group}) == "group \"white\": drench: found 1001 bytes; expected at most 1000");
}

TEST_CASE("More animals in memory than a table may have are refused") {
  CountedGroup group{.name = "white"};
  group.eggs_before.resize(1'000'001);
  group.eggs_after.resize(1'000'001);
  CHECK(refusal({group}) == "counts in memory: found more than 1000000 rows; expected fewer");
}

TEST_CASE("All that is wrong with counts in memory is told together") {
  CountedGroup group = white();
  group.eggs_before[0] = -3;
  group.eggs_after[10] = 0.5;
  CountedGroup none = control();
  none.eggs_after[9] = 1e12;
  CHECK(refusal({group, none}) ==
        "group \"white\", animal 1: eggs_before: found \"-3\"" + expected_count +
            "\ngroup \"white\", animal 11: eggs_after: found \"0.5\"" + expected_count +
            "\ngroup \"none\", animal 10: eggs_after: found \"1000000000000\"; expected at most "
            "1000000 eggs seen");
}
