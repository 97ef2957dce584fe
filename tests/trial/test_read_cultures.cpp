#include "eggfall/trial/read_cultures.hpp"

#include "support/edge_inputs.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <fmt/format.h>

#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

Trial trial(const std::string& name, const std::vector<std::string>& groups) {
  Trial made{name, {}};
  for (const std::string& group : groups) {
    made.groups.emplace_back();
    made.groups.back().name = group;
  }
  return made;
}

const std::vector<Trial> one{trial("x", {"white", "yellow"})};
const std::vector<Trial> two{trial("x", {"white", "yellow"}), trial("y", {"white"})};

std::string error(const std::string& text, const std::vector<Trial>& trials) {
  return support::input_error([&] { read_cultures(text, "l.csv", trials); });
}

} // namespace

TEST_CASE("Larvae go to their group and time, in the table's order") {
  const TrialTable read =
      read_cultures("Group;TIME;worm;Larvae;by\nwhite;before;Haemonchus;62;me\n"
                    "white;Before;cyathostomin;38;\nyellow;before;haemonchus;0;\n"
                    "white;AFTER;haemonchus;91;\n",
                    "l.csv", one);
  REQUIRE(read.trials.size() == 1);
  const Group& white = read.trials[0].groups[0];
  CHECK(white.culture_before == Culture{{"haemonchus", 62}, {"strongyles", 38}});
  CHECK(white.culture_after == Culture{{"haemonchus", 91}});
  CHECK(read.trials[0].groups[1].culture_before == Culture{{"haemonchus", 0}});
  CHECK(read.trials[0].groups[1].culture_after.empty());
  CHECK(read.notes == std::vector<std::string>{"l.csv: not used: column \"by\""});
}

TEST_CASE("One trial needs no name, and several do") {
  const std::string named =
      "trial,group,time,worm,larvae\nx,white,before,haemonchus,62\ny,white,before,haemonchus,7\n";
  const TrialTable both = read_cultures(named, "l.csv", two);
  CHECK(both.trials[0].groups[0].culture_before == Culture{{"haemonchus", 62}});
  CHECK(both.trials[1].groups[0].culture_before == Culture{{"haemonchus", 7}});

  CHECK(read_cultures("trial,group,time,worm,larvae\n,white,before,haemonchus,62\n", "l.csv", one)
            .trials[0]
            .groups[0]
            .culture_before.worms.size() == 1);
  CHECK(error("trial,group,time,worm,larvae\n,white,before,haemonchus,62\n", two) ==
        "l.csv:2: column 1 (trial): found nothing; expected a trial of the counts: \"x\", \"y\"");
  CHECK(error("group,time,worm,larvae\nwhite,before,haemonchus,62\n", two) ==
        "l.csv:1: found the columns \"group\", \"time\", \"worm\", \"larvae\"; expected a column "
        "trial (or counts of one trial alone)");
}

TEST_CASE("A malformed larvae table gets one clear message") {
  const std::string header = "trial,group,time,worm,larvae\n";
  const auto message = [&](const std::string& rows) { return error(header + rows, two); };
  CHECK(message("z,white,before,haemonchus,62\n") ==
        "l.csv:2: column 1 (trial): found the unknown trial \"z\"; expected a trial of the counts: "
        "\"x\", \"y\"");
  CHECK(message("x,White,before,haemonchus,62\n") ==
        "l.csv:2: column 2 (group): found the unknown group \"White\"; expected a group of trial "
        "\"x\": \"white\", \"yellow\" (or, before treatment, those mixed: \"all\", or names with + "
        "between)");
  CHECK(message("x,,before,haemonchus,62\n") ==
        "l.csv:2: column 2 (group): found nothing; expected a name");
  CHECK(message("x,white,later,haemonchus,62\n") ==
        "l.csv:2: column 3 (time): found \"later\"; expected before or after");
  CHECK(message("x,white,,haemonchus,62\n") ==
        "l.csv:2: column 3 (time): found nothing; expected before or after");
  CHECK(message("x,white,before,,62\n") ==
        "l.csv:2: column 4 (worm): found nothing; expected a name");
  CHECK(message("x,white,before,haemonchus,62%\n") ==
        "l.csv:2: column 5 (larvae): found \"62%\"; expected a whole number of larvae (a "
        "percentage belongs in a column percent)");
  CHECK(message("x,white,before,haemonchus,1000001\n") ==
        "l.csv:2: column 5 (larvae): found \"1000001\"; expected a whole number of larvae from 0 "
        "to 1000000");
  CHECK(message("x,white,before,haemonchus,\n") ==
        "l.csv:2: column 5 (larvae): found nothing; expected a whole number of larvae from 0 to "
        "1000000 (leave out the line of a worm that was not looked for)");
  CHECK(message(
            "x,white,before,ascarid,62\nx,white,after,ascarid,1\nx,white,before,Parascaris,3\n") ==
        "l.csv:4: column 4 (worm): found \"Parascaris\", which is \"ascarid\" by another name; "
        "expected each worm once for group \"white\" before treatment (it is on line 2 already)");
  CHECK(message("x,white,after,haemonchus,62\nx,white,after,Haemonchus,1\n") ==
        "l.csv:3: column 4 (worm): found \"Haemonchus\" again; expected each worm once for group "
        "\"white\" after treatment (it is on line 2 already)");
  CHECK(message("x,white,later,haemonchus,62\nz,white,before,haemonchus,1\n") ==
        "l.csv:2: column 3 (time): found \"later\"; expected before or after\n"
        "l.csv:3: column 1 (trial): found the unknown trial \"z\"; expected a trial of the counts: "
        "\"x\", \"y\"");

  CHECK(error("", one) == "l.csv: found nothing; expected a header line and one line a worm");
  CHECK(error(header, one) == "l.csv: found only a header line; expected one line a worm below it");
  CHECK(error("group,time,worm,lavae\nwhite,before,haemonchus,62\n", one) ==
        "l.csv:1: found the columns \"group\", \"time\", \"worm\", \"lavae\"; expected a column "
        "larvae (or a column percent) (is \"lavae\" meant?)");
  CHECK(error("group,time,worm,larvae,time\nwhite,before,haemonchus,62,after\n", one) ==
        "l.csv:1: column 5 (time): found a second column of this name (the first is column 2); "
        "expected one");
}

TEST_CASE("A worm under two of its names is one worm before and after") {
  const TrialTable read = read_cultures("group,time,worm,larvae\nwhite,before,haemonchus,62\n"
                                        "white,before,black scour worm,38\n"
                                        "white,after,Haemonchus contortus,91\n"
                                        "white,after,T. colubriformis,9\n",
                                        "l.csv", one);
  const Group& white = read.trials[0].groups[0];
  CHECK(white.culture_before == Culture{{"haemonchus", 62}, {"trichostrongylus", 38}});
  CHECK(white.culture_after == Culture{{"haemonchus", 91}, {"trichostrongylus", 9}});
}

namespace {

/// What becomes of two names, one before treatment and one after.
std::string of_names(const std::string& before, const std::string& after) {
  return error("group,time,worm,larvae\nwhite,before," + before + ",62\nwhite,before,cooperia,5\n" +
                   "white,after," + after + ",91\nwhite,after,cooperia,6\n",
               one);
}

bool is_read(const std::string& before, const std::string& after) {
  return !read_cultures("group,time,worm,larvae\nwhite,before," + before + ",62\nwhite,after," +
                            after + ",91\n",
                        "l.csv", one)
              .trials.empty();
}

const std::string one_name =
    "; expected one name for one worm (or, if they are two, a line for each in both cultures, with "
    "0 larvae where it was not seen)";

} // namespace

TEST_CASE("Two names of which each is in one culture alone are asked about if they may be one") {
  CHECK(of_names("trich a", "trich b") ==
        "l.csv:4: column 3 (worm): found \"trich a\" before treatment (line 2) and \"trich b\" "
        "after treatment" +
            one_name);
  // Cut short, misspelt, or an old name beside the new one of the same worm.
  for (const auto& [before, after] :
       {std::pair{"Trich", "Trichostrongylus"}, std::pair{"Haemonchos", "Haemonchus"},
        std::pair{"Nematodirus", "Nematodyrus"}, std::pair{"Ostertagia", "Teladorsagia"},
        std::pair{"type 1", "type 2"}}) {
    INFO(before);
    CHECK_THAT(of_names(before, after), Catch::Contains(before) && Catch::EndsWith(one_name));
    CHECK_THAT(of_names(after, before), Catch::Contains(after) && Catch::EndsWith(one_name));
  }
}

TEST_CASE("Names that cannot be of one worm are two worms") {
  CHECK(is_read("haemonchus", "trichuris"));
  CHECK(is_read("strongylus", "strongyles"));    // near, and both known
  CHECK(is_read("strongyloides", "strongylus")); // the same
  CHECK(is_read("alpha", "omega"));
  CHECK(is_read("worm of pens", "lamb parasite"));
}

TEST_CASE("Names that stand in both cultures are two worms, be they alike") {
  CHECK(read_cultures("group,time,worm,larvae\nwhite,before,trich a,62\nwhite,before,trich b,0\n"
                      "white,after,trich a,0\nwhite,after,trich b,91\n",
                      "l.csv", one)
            .trials[0]
            .groups[0]
            .culture_after == Culture{{"trich a", 0}, {"trich b", 91}});
  // One of them in both: the other is another worm.
  CHECK(read_cultures("group,time,worm,larvae\nwhite,before,trich a,62\nwhite,before,trich b,3\n"
                      "white,after,trich a,9\n",
                      "l.csv", one)
            .trials[0]
            .groups[0]
            .culture_after.worms.size() == 1);
}

TEST_CASE("Two names are asked about in the control's cultures too, and once") {
  std::vector<Trial> trials{trial("x", {"white", "yellow", "control"})};
  trials[0].groups[2].role = Role::control;
  const std::string header = "group,time,worm,larvae\n";
  CHECK(error(header + "white,after,trich b,9\ncontrol,after,trich a,62\n", trials) ==
        "l.csv:3: column 3 (worm): found \"trich b\" after treatment in group \"white\" (line 2) "
        "and \"trich a\" after treatment in group \"control\"" +
            one_name);
  // The control's own two names concern both treated groups.
  CHECK(error(header + "control,before,trich a,9\ncontrol,after,trich b,62\n", trials) ==
        "l.csv:3: column 3 (worm): found \"trich a\" before treatment (line 2) and \"trich b\" "
        "after treatment" +
            one_name);
  // Two treated groups are not compared with each other.
  CHECK_FALSE(
      read_cultures(header + "white,after,trich a,9\nyellow,after,trich b,62\n", "l.csv", trials)
          .trials.empty());
}

TEST_CASE("A culture has at most fifty worms") {
  const auto with = [](int worms) {
    std::string table = "group,time,worm,larvae\n";
    for (int i = 0; i < worms; ++i)
      table += fmt::format("white,before,{},1\n", i);
    return table;
  };
  CHECK(read_cultures(with(50), "l.csv", one).trials[0].groups[0].culture_before.worms.size() ==
        50);
  CHECK(error(with(51), one) ==
        "l.csv:52: column 3 (worm): found 51 worms in the culture of group \"white\" before "
        "treatment; expected at most 50");
}

TEST_CASE("Long lists of what is known are cut") {
  std::vector<std::string> groups;
  for (char c = 'A'; c <= 'Z'; ++c)
    groups.emplace_back(1, c);
  const std::string message =
      error("group,time,worm,larvae\nwhite,before,haemonchus,62\n", {trial("x", groups)});
  CHECK_THAT(message, Catch::Contains("\"S\", \"T\" and more"));
}

namespace {

/// The one culture of group white before treatment.
Culture before(const std::string& table) {
  return read_cultures(table, "l.csv", one).trials[0].groups[0].culture_before;
}

const std::string percent_head = "group,time,worm,percent,told_apart\n";

} // namespace

TEST_CASE("Percentages of a number told apart are the larvae they stand for") {
  const Culture counted{{"haemonchus", 31}, {"cooperia", 19}};
  CHECK(before(percent_head + "white,before,haemonchus,62,50\nwhite,before,cooperia,38,50\n") ==
        counted);
  // The number in any of the culture's lines, and marks as laboratories write them.
  CHECK(before(percent_head + "white,before,haemonchus,62 %,\nwhite,before,cooperia,38%,50\n") ==
        counted);
  // A column of larvae may stand beside, for cultures that were counted.
  const TrialTable both =
      read_cultures("group,time,worm,larvae,percent,told_apart\nwhite,before,haemonchus,,62,50\n"
                    "white,before,cooperia,,38,\nwhite,after,haemonchus,9,,\n",
                    "l.csv", one);
  CHECK(both.trials[0].groups[0].culture_before == counted);
  CHECK(both.trials[0].groups[0].culture_after == Culture{{"haemonchus", 9}});
}

TEST_CASE("Percentages without a number of larvae stay percentages of a cautious number") {
  const Culture culture = before("group,time,worm,percent\nwhite,before,haemonchus,62\n"
                                 "white,before,cooperia,37\nwhite,before,nematodirus,<1\n");
  REQUIRE(culture.percentages);
  CHECK(culture.percentages->total == 50);
  CHECK_FALSE(culture.percentages->number_told);
  CHECK(culture.percentages->rounded_to == 1);
  REQUIRE(culture.worms.size() == 3);
  CHECK_THAT(culture.worms[0].larvae, Catch::Matchers::WithinAbs(31, support::many_steps));
  CHECK_THAT(culture.worms[0].open->least, Catch::Matchers::WithinAbs(30.75, support::many_steps));
  CHECK_THAT(culture.worms[0].open->most, Catch::Matchers::WithinAbs(31.25, support::many_steps));
  CHECK_THAT(culture.worms[2].open->least, Catch::Matchers::WithinAbs(0, support::many_steps));
  CHECK_THAT(culture.worms[2].open->most,
             Catch::Matchers::WithinAbs(0.5, support::many_steps)); // below 1% of 50
}

TEST_CASE("A laboratory that rounds to five, or says to what, is believed") {
  const auto rounding = [](const std::string& rows) {
    return before("group,time,worm,percent,rounded_to\n" + rows).percentages->rounded_to;
  };
  CHECK(rounding("white,before,haemonchus,60,\nwhite,before,cooperia,40,\n") == 5);
  CHECK(rounding("white,before,haemonchus,61,\nwhite,before,cooperia,39,\n") == 1);
  CHECK(rounding("white,before,haemonchus,61.5,\nwhite,before,cooperia,38.5,\n") == 0.1);
  CHECK(rounding("white,before,haemonchus,60,1\nwhite,before,cooperia,40,\n") == 1);
  // That is seen of a table, and not of a culture.
  CHECK(rounding("white,before,haemonchus,60,\nwhite,before,cooperia,40,\n"
                 "yellow,before,haemonchus,61,\nyellow,before,cooperia,39,\n") == 1);
}

TEST_CASE("Malformed percentages get one clear message") {
  const auto message = [](const std::string& rows) { return error(percent_head + rows, one); };
  const std::string no_percentage =
      "; expected a percentage of the larvae, 0 to 100, such as 62, 62.5 or <1 (for a trace, the "
      "number that it is below)";
  for (const std::string cell : {"trace", "present", "+", "101", "-1", "<0", "1e1"})
    CHECK(message("white,before,haemonchus," + cell + ",\n") ==
          "l.csv:2: column 4 (percent): found \"" + cell + "\"" + no_percentage);
  CHECK(message("white,before,haemonchus,,\n") ==
        "l.csv:2: column 4 (percent): found nothing; expected a percentage of the larvae (leave "
        "out the line of a worm that was not looked for)");
  CHECK(message("white,before,haemonchus,62,10\nwhite,before,cooperia,38,10\n") ==
        "l.csv:2: column 4 (percent): found 62% of 10 larvae told apart, which no whole number of "
        "larvae gives (6 are 60%, 7 are 70%) in the culture of group \"white\" before treatment; "
        "expected a percentage of that number, rounded to 1% (or the larvae themselves in a column "
        "larvae)");
  CHECK(message("white,before,haemonchus,62,\nwhite,before,cooperia,30,\n") ==
        "l.csv:2: column 4 (percent): found percentages that sum to 92% in the culture of group "
        "\"white\" before treatment; expected 100% within rounding to 1% (give larvae that were "
        "told apart no further a line of their own, such as \"other\")");
  CHECK(message("white,before,haemonchus,62,50\nwhite,before,cooperia,38,60\n") ==
        "l.csv:3: column 5 (told_apart): found 60, and 50 on line 2; expected one number for the "
        "culture of group \"white\" before treatment");
  CHECK(message("white,before,haemonchus,62,0\n") ==
        "l.csv:2: column 5 (told_apart): found \"0\"; expected a whole number of larvae from 1 to "
        "1000000");
  CHECK(error("group,time,worm,larvae,percent\nwhite,before,haemonchus,62,62\n", one) ==
        "l.csv:2: column 5 (percent): found \"62\" beside \"62\" larvae; expected a number of "
        "larvae or a percentage, and the other empty");
  CHECK(error("group,time,worm,larvae,percent\nwhite,before,haemonchus,62,\n"
              "white,before,cooperia,,38\n",
              one) ==
        "l.csv:3: column 5 (percent): found \"38\" in a culture of counted larvae; expected "
        "larvae, or percentages, of all worms of group \"white\" before treatment");
  CHECK(error("group,time,worm,larvae,told_apart\nwhite,before,haemonchus,62,100\n"
              "white,before,cooperia,30,\n",
              one) ==
        "l.csv:2: column 5 (told_apart): found 100 larvae told apart, and 92 in the lines of group "
        "\"white\" before treatment; expected as many in both (give larvae that were told apart no "
        "further a line of their own, such as \"other\")");
  CHECK(error("group,time,worm,percent,told_appart\nwhite,before,haemonchus,100,10\n", one) ==
        "l.csv:1: column 5 (told_apart): found \"told_appart\"; expected told_apart, if that is "
        "meant, or a name less like it");
}

TEST_CASE("One culture before treatment may be of several groups") {
  std::vector<Trial> trials{trial("x", {"white", "red+blue", "control"})};
  const auto groups = [&](const std::string& rows) {
    return read_cultures("group,time,worm,larvae\n" + rows, "l.csv", trials).trials[0].groups;
  };
  using Names = std::vector<std::string>;
  for (const std::string all : {"all", "*", "All groups"}) {
    const auto read = groups(all + ",before,haemonchus,62\nwhite,after,haemonchus,9\n");
    for (const Group& group : read) {
      CHECK(larvae_of(group.culture_before, "haemonchus") == 62);
      CHECK(group.culture_before.mixed_groups == Names{"white", "red+blue", "control"});
    }
    CHECK(read[0].culture_after == Culture{{"haemonchus", 9}});
  }
  // A group's own comes before that of all, whichever stands first.
  for (const std::string rows : {"all,before,haemonchus,62\nwhite,before,haemonchus,7\n",
                                 "white,before,haemonchus,7\nall,before,haemonchus,62\n"}) {
    const auto read = groups(rows);
    CHECK(read[0].culture_before == Culture{{"haemonchus", 7}});
    CHECK(larvae_of(read[1].culture_before, "haemonchus") == 62);
  }
  // Some of them, in any order of their names.
  const auto two =
      groups("white + control,before,haemonchus,62\ncontrol+white,before,cooperia,38\n");
  CHECK(total_larvae(two[0].culture_before) == 100);
  CHECK(two[2].culture_before == two[0].culture_before);
  CHECK(two[1].culture_before.empty());
  CHECK(two[0].culture_before.mixed_groups == Names{"white", "control"});
  // The name of a group is that group's, whatever it looks like.
  CHECK(groups("red+blue,before,haemonchus,62\n")[1].culture_before == Culture{{"haemonchus", 62}});
}

TEST_CASE("Cultures of several groups that cannot be are refused") {
  std::vector<Trial> trials{trial("x", {"white", "red", "control"})};
  const auto message = [&](const std::string& rows) {
    return error("group,time,worm,larvae\n" + rows, trials);
  };
  CHECK(message("all,after,haemonchus,62\n") ==
        "l.csv:2: column 2 (time): found a culture of several groups after treatment; expected "
        "before, since mixed after treatment the groups' worms tell of no single drench (or the "
        "name of one group)");
  CHECK(message("white + blue,before,haemonchus,62\n") ==
        "l.csv:2: column 1 (group): found the unknown group \"white + blue\"; expected a group of "
        "trial \"x\": \"white\", \"red\", \"control\" (or, before treatment, those mixed: \"all\", "
        "or names with + between)");
  CHECK(message("white,before,haemonchus,62\nwhite + red,before,haemonchus,62\n") ==
        "l.csv:3: column 1 (group): found a second culture of group \"white\" before treatment, "
        "with groups \"white + red\" (the first, of group \"white\", is on line 2); expected one "
        "for each group");
  // Two names of one worm, of which one is in the mixture.
  CHECK_THAT(message("all,before,trich a,62\nwhite,after,trich b,9\n"),
             Catch::Contains("\"trich a\" before treatment (line 2) and \"trich b\" after"));
}

TEST_CASE("Edge inputs are no larvae table, and its edge forms are one") {
  const std::vector<Trial> trials{{"t", {support::group("w", {9, 8}, {1, 0})}}};
  support::check_edge_inputs_refused(
      "l.csv", [&](const std::string& bytes) { read_cultures(bytes, "l.csv", trials); });
  support::check_edge_forms_alike(
      "group,time,worm,larvae\nw,before,haemonchus,62\nw,before,cooperia,38\n",
      [&](const std::string& bytes) {
        return larvae_table(read_cultures(bytes, "l.csv", trials).trials);
      });
}
