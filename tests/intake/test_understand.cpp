#include "intake/understand.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "intake/open_question.hpp"
#include "support/edge_inputs.hpp"
#include "support/made_ods.hpp"
#include "support/made_workbook.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <fmt/format.h>

#include <algorithm>

using namespace eggfall;
using support::eggs_of;
using support::layout_of;
using support::Lines;
using support::not_understood;
using support::understood;

namespace {

/// What is read by each of the answers that are offered; "asked" where one leads to another
/// question, "nothing is asked" where there is none.
Lines by_answers(const std::string& text, const Layout& layout = {}) {
  try {
    understood(text, layout, 50);
  } catch (const OpenQuestion& question) {
    Lines read;
    for (const LayoutAnswer& answer : question.answers()) {
      std::vector<std::pair<std::string, std::string>> options;
      for (const LayoutSetting& setting : answer.settings)
        options.emplace_back(setting.key, setting.value);
      try {
        const UnderstoodTables tables = understood(text, joined(layout_of(options), layout), 50);
        std::string line = eggs_of(tables).front();
        for (const Visit& visit : tables.table.trials[0].groups[0].animals[0].visits)
          line += fmt::format(", day {}", visit.day);
        read.push_back(line);
      } catch (const OpenQuestion&) {
        read.push_back("asked");
      }
    }
    return read;
  }
  return {"nothing is asked"};
}

} // namespace

TEST_CASE("A counts table in our own form is read as ever, and nothing is told") {
  const std::string text = "group,animal,eggs_before,eggs_after\nW,101,9,0\nW,102,6,1\n";
  const UnderstoodTables tables = understood(text);
  CHECK(tables.told.empty());
  CHECK(tables.all.empty());
  CHECK(eggs_of(tables) == Lines{"W 101: 9 to 0", "W 102: 6 to 1"});
  ReadOptions options = support::with_factor(50);
  options.trial_name = "t";
  const TrialTable strict = read_trials(text, "t.csv", options);
  CHECK(counts_table(tables.table.trials) == counts_table(strict.trials));
  CHECK(tables.table.trials[0].reading.empty());
}

TEST_CASE("What is wrong with a table in our own form is told by its reader") {
  CHECK(not_understood("group,animal,eggs_before,eggs_after\nW,101,9,0\nW,101,6,1\n") ==
        "t.csv:3: column 2 (animal): found \"101\" again; expected each animal once in group \"W\" "
        "(it is on line 2 already)");
  CHECK(not_understood("group,animal,eggs_before,eggs_afte\nW,101,9,0\n").find("eggs_afte") !=
        std::string::npos);
}

TEST_CASE("A table as people keep them is read, and its trial keeps what it was taken for") {
  const UnderstoodTables tables =
      understood("Lambs: results in EPG\nTag,Mob,Pre,Post,Sex\n101,W,450,0,f\n102,W,300,<50,m\n"
                 "103,W,\"1,050\",n/s,m\nMean,,600,0,\n");
  CHECK(eggs_of(tables) == Lines{"W 101: 9 to 0", "W 102: 6 to 0", "W 103: 21 to -"});
  CHECK(texts_of(tables.all) ==
        Lines{"t.csv: passed over, as sums and means: line 6 (\"Mean\")",
              "t.csv: passed over, as titles: line 1 (\"Lambs: results in EPG\")",
              "t.csv: header on line 2: \"Tag\" = animal, \"Mob\" = group, \"Pre\" = count_before, "
              "\"Post\" = count_after",
              "t.csv: not used: \"Sex\"",
              "counts under \"Pre\", \"Post\" are taken for eggs per gram: \"Lambs: results in "
              "EPG\" says so",
              "\"<50\" is taken for no egg seen in 1 cell: line 4 (102)",
              "\"n/s\" is taken for not sampled in 1 cell: line 5 (103)",
              "marks for thousands in 1 cell: line 5 (103)"});
  CHECK(tables.told.size() + 1 == tables.all.size()); // but titles, which change nothing
  CHECK(tables.table.trials[0].reading == texts_of(tables.all));
}

TEST_CASE("Heads of other languages are read, and Tag 14 is a day in German") {
  CHECK(eggs_of(understood("Ohrmarke;Gruppe;EpG Tag 14;EpG Tag 0\n101;W;0;450\n102;W;50;300\n")) ==
        Lines{"W 101: 9 to 0", "W 102: 6 to 1"});
  CHECK(eggs_of(understood("Boucle;Lot;OPG avant;OPG apr\xC3\xA8s\n101;W;450;0\n")) ==
        Lines{"W 101: 9 to 0"});
  CHECK(eggs_of(understood("Arete;Lote;HPG antes;HPG despu\xC3\xA9s\n101;W;450;0\n")) ==
        Lines{"W 101: 9 to 0"});
}

TEST_CASE("An encoding other than UTF-8 is told") {
  const UnderstoodTables tables =
      understood("Ohrmarke;Gruppe;EpG vor;EpG nach\n101;Wei\xDF;450;0\n");
  CHECK(tables.told[0].text().find("t.csv: read as a text in ") == 0);
  CHECK(eggs_of(tables) == Lines{"Wei\xC3\x9F 101: 9 to 0"});
}

TEST_CASE("A control is one by its role, by its drench, or by a name that says no more") {
  CHECK(eggs_of(understood("Tag,Drench,EPG pre,EPG post\n1,white,450,0\n2,untreated,300,350\n")) ==
        Lines{"white 1: 9 to 0", "untreated (control) 2: 6 to 7"});
  CHECK(eggs_of(understood("Tag,Mob,Treated,EPG pre,EPG post\n1,W,treated,450,0\n"
                           "2,B,control,300,350\n")) ==
        Lines{"W 1: 9 to 0", "B (control) 2: 6 to 7"});
  for (const std::string name : {"Control", "Kontrolle", "Placebo", "T\xC3\xA9moin"}) {
    const UnderstoodTables tables =
        understood("Tag,Mob,EPG pre,EPG post\n1," + name + ",450,400\n2,White,300,0\n");
    CHECK(eggs_of(tables) == Lines{name + " (control) 1: 9 to 8", "White 2: 6 to 0"});
    CHECK_THAT(tables.told.back().text(),
               Catch::Contains("is taken for the untreated control (the setting treated"));
  }
  Layout layout;
  layout.treated = {"Control"};
  CHECK(eggs_of(understood("Tag,Mob,EPG pre,EPG post\n1,Control,450,0\n2,White,300,0\n", layout)) ==
        Lines{"Control 1: 9 to 0", "White 2: 6 to 0"});
}

TEST_CASE("A group called control whose rows tell of a treatment is asked about") {
  const std::string start = "Tag,Mob,EPG pre,EPG post,";
  for (const auto& [head, given] : std::vector<std::pair<std::string, std::string>>{
           {"Drench", "ivermectin"}, {"Class", "ML"}, {"Dose ml", "5"}}) {
    INFO(head);
    const std::string table =
        start + head + "\n1,Control,450,400," + given + "\n2,White,300,0," + given + "\n";
    const std::string asked = not_understood(table, support::layout_of({{"column", "group=Mob"}}));
    CHECK_THAT(asked, Catch::Contains("for \"1\" of the group \"Control\", which is called "
                                      "untreated; expected an answer: the setting control Control "
                                      "(if it was not treated), or the setting treated Control (if "
                                      "it was)"));
    Layout layout = support::layout_of({{"column", "group=Mob"}});
    layout.treated = {"Control"};
    CHECK(eggs_of(understood(table, layout)) == Lines{"Control 1: 9 to 8", "White 2: 6 to 0"});
  }
  CHECK_THAT(not_understood(
                 "Tag,Drench,EPG pre,EPG post,Dose ml\n1,untreated,450,400,5\n2,white,300,0,5\n"),
             Catch::Contains("\"5\" for \"1\" of the group \"untreated\""));
  // What says that nothing was given is no treatment, nor is the day of the others.
  CHECK(eggs_of(understood(start + "Dose ml\n1,Control,450,400,\n2,White,300,0,5\n"))[0] ==
        "Control (control) 1: 9 to 8");
  CHECK(eggs_of(understood(start + "Drench,Date drenched\n1,Control,450,400,none,3 May 2031\n"
                                   "2,White,300,0,white,3 May 2031\n"))[0] ==
        "Control (control) 1: 9 to 8");
}

TEST_CASE("A name that says untreated among other words, or shortly, or twice, is asked about") {
  for (const std::string name : {"Ctrl", "Kontrolle unbehandelt", "-", "Group 3, not treated"})
    CHECK_THAT(not_understood("Tag;Mob;EPG pre;EPG post\n1;" + name + ";450;400\n2;White;300;0\n"),
               Catch::Contains("t.csv:2: role: found no role for group \"" + name +
                               "\", whose name says untreated; expected control in its column "
                               "role, or the setting control") &&
                   Catch::Contains("if it was treated"));
  // A clear drench is one, and so is a group C beside A and B.
  CHECK(eggs_of(understood("Tag,Drench,EPG pre,EPG post\n1,white,450,0\n2,clear,300,50\n")) ==
        Lines{"white 1: 9 to 0", "clear 2: 6 to 1"});
  CHECK(eggs_of(understood("Tag,Mob,EPG pre,EPG post\n1,A,450,0\n2,C,300,50\n")) ==
        Lines{"A 1: 9 to 0", "C 2: 6 to 1"});
  CHECK_THAT(not_understood("Tag,Drench,EPG pre,EPG post\n1,ivermectin,450,0\n2,C,300,350\n"),
             Catch::Contains("no role for group \"C\""));
  CHECK_THROWS_AS(understood("Tag,Mob,EPG pre,EPG post\n1,Control,450,400\n2,Untreated,300,300\n"
                             "3,White,300,0\n"),
                  InputError);
  // Our own form has a column for it, and asks.
  CHECK_THAT(
      not_understood("group,animal,epg_before,epg_after\nControl,1,450,<50\nWhite,2,300,0\n"),
      Catch::Contains("no role for group \"Control\""));
}

TEST_CASE("Merged cells of drenches say the control for all rows below them") {
  CHECK(eggs_of(understood("Tag,Drench,EPG pre,EPG post\n1,white,450,0\n2,,300,50\n"
                           "3,untreated,300,300\n4,,350,350\n")) ==
        Lines{"white 1: 9 to 0", "white 2: 6 to 1", "untreated (control) 3: 6 to 6",
              "untreated (control) 4: 7 to 7"});
  CHECK(not_understood(
            "Tag,Status,EPG pre,EPG post\n1,treated,450,0\n2,treated,300,0\n3,,300,300\n") ==
        "t.csv:4: group: found nothing that says the group of 1 animal; expected a name in each "
        "row; untreated, for animals that had no drench");
}

TEST_CASE("A control within a group of treated animals is refused") {
  CHECK_THROWS_AS(understood("Tag,Mob,Status,EPG pre,EPG post\n1,W,treated,450,0\n"
                             "2,W,control,300,350\n3,B,treated,300,0\n"),
                  InputError);
}

TEST_CASE("Before and after in two files are joined, in whatever order they come") {
  const std::string before = "Tag,Mob,EPG\n101,W,450\n102,W,300\n";
  const std::string after = "Tag,EPG\n102,50\n101,0\n";
  const UnderstoodTables tables = understood({{"lambs post", after}, {"lambs pre", before}});
  CHECK(eggs_of(tables) == Lines{"W 101: 9 to 0", "W 102: 6 to 1"});
  REQUIRE(tables.table.trials.size() == 1);
  CHECK(tables.table.trials[0].name == "lambs");
  CHECK_THROWS_AS(understood({{"a", before}, {"b", after}}), OpenQuestion);
}

TEST_CASE("Before and after in two sheets of a workbook are joined") {
  const auto row = [](const std::string& tag, const std::string& count) {
    return "<row><c t=\"inlineStr\"><is><t>" + tag + "</t></is></c><c t=\"inlineStr\"><is><t>" +
           count + "</t></is></c></row>";
  };
  ReadOptions options = support::with_factor(50);
  const UnderstoodTables tables = understand_tables(
      {{workbook_of(row("Tag", "EPG pre") + row("101", "450")), "pre.xlsx", "pre"},
       {workbook_of(row("Tag", "EPG post") + row("101", "50")), "post.xlsx", "post"}},
      options, {});
  CHECK(eggs_of(tables) == Lines{"all animals 101: 9 to 1"});
}

TEST_CASE("Several tables of their own trials are several trials, and one name is one trial") {
  const std::string text = "Tag,Mob,EPG pre,EPG post\n1,W,450,0\n";
  CHECK(understood({{"a", text}, {"b", text}}).table.trials.size() == 2);
  CHECK(support::input_error([&] {
          understood({{"a", text}, {"a", text}});
        }) ==
        "a.csv: found a trial \"a\" again; expected each trial in one table only (a column trial "
        "names them; a column year or date_treated tells tests of one name apart)");
}

TEST_CASE("A table of counts of one time alone is refused for the time that is missing") {
  CHECK(not_understood("Tag,Mob,EPG pre\n101,W,450\n") ==
        "t.csv: found counts of one time alone, under \"EPG pre\"; expected counts before "
        "treatment and after: name the file or sheet of the other time too, or the column here "
        "(the setting column epg_after=THEIRS); or, if another column tells the time of each row, "
        "that one (the setting column when=THEIRS, with the setting day-before WORD and the "
        "setting day-after WORD)");
}

TEST_CASE("A table without a column of counts is refused with what it has") {
  CHECK(not_understood("Tag,Weight\n101,40\n102,38\n") ==
        "t.csv:1: found no header with a column of counts; the widest row is \"Tag\", \"Weight\"; "
        "expected a header such as animal, group, EPG before, EPG after; or what the columns are "
        "called: the setting column animal=THEIRS and the setting column epg_before=THEIRS and the "
        "setting column epg_after=THEIRS");
}

TEST_CASE("A header without samples, or with sums alone, is refused") {
  for (const char* rows : {"", "Mean,,450,0\n"})
    CHECK_THAT(
        not_understood(std::string("Tag,Mob,EPG pre,EPG post\n") + rows),
        Catch::Contains("found no header with a column of counts; the widest row is \"Tag\", "
                        "\"Mob\", \"EPG pre\", \"EPG post\""));
  CHECK_THROWS_AS(understood({{"pre", "Tag,EPG pre\n"}, {"post", "Tag,EPG post\n1,50\n"}}),
                  InputError);
}

TEST_CASE("Samples of which none has a time are refused, each at its row") {
  const std::string expected =
      "; expected before or after, a day from treatment, or a date; or which words mean which: the "
      "setting day-before THEIRS and the setting day-after THEIRS";
  CHECK(not_understood("Tag,Mob,When,EPG\n1,W,soon,450\n1,W,,0\n") ==
        "t.csv:2: column 3 (When): found \"soon\"" + expected +
            "\nt.csv:3: column 3 (When): found nothing" + expected);
}

TEST_CASE("The day that a head or a cell tells bars a test that came too early") {
  // Taken for a sample on some usual day, these falls would call a drench good that may only have
  // stopped the worms laying.
  std::string wide = "Mob,Tag,Drench,EPG day 0,EPG day 3\n";
  std::string rows = "Mob,Tag,Drench,Day,EPG\n";
  for (int i = 1; i <= 12; ++i) {
    wide += fmt::format("W,{},ivermectin,{},0\n", i, 500 + 50 * i);
    rows += fmt::format("W,{0},ivermectin,Day 0,{1}\nW,{0},ivermectin,Day 3,0\n", i, 500 + 50 * i);
  }
  for (const std::string& text : {wide, rows}) {
    INFO(text);
    const UnderstoodTables tables = understood(text);
    const TrialAnalysis analysis =
        analyse(tables.table.trials.at(0), published_cut_offs(), AnalysisSettings());
    const Standing& standing = analysis.groups.at(0).judgement.standing;
    CHECK(standing.by_counts_alone == VerdictClass::susceptible);
    REQUIRE(!standing.bars.empty());
    CHECK(standing.bars.front().code == BarCode::day);
    CHECK(standing.verdict_class == VerdictClass::not_applicable);
    CHECK_THAT(counts_table(tables.table.trials), Catch::Contains("eggs_day:3"));
  }
}

TEST_CASE("Numbers that any eggs seen could be are not taken for EPG") {
  // Each whole number is an EPG at 1.25, rounded: 1, 3 (2.5), 4 (3.75), 5, 6 (6.25), 8 (7.5) ...
  std::string text = "Tag,Mob,FEC pre,FEC post\n";
  for (int i = 1; i <= 60; ++i)
    text += fmt::format("{},W,{},{}\n", i, 1 + i % 19, i % 3);
  CHECK_THAT(not_understood(text, {}, 1.25),
             Catch::Contains("that may be eggs seen or eggs per gram"));
  // At 33.3 one in 33 is.
  std::string coarse = "Tag,Mob,FEC pre,FEC post\n";
  for (int i = 1; i <= 60; ++i)
    coarse += fmt::format("{},W,{:.0f},0\n", i, 33.3 * (1 + i % 19));
  CHECK(eggs_of(understood(coarse, {}, 33.3)).front() == "W 1: 2 to 0");
}

TEST_CASE("A question is answered by the option that it names") {
  const std::string text = "Tag,Mob,Day 0,Day 7,Day 14\n1,W,450,nd,50\n2,W,300,0,nd\n";
  CHECK_THROWS_AS(understood(text), OpenQuestion);
  const std::vector<std::pair<std::string, std::string>> answers{{"day-before", "Day 0"},
                                                                 {"day-after", "Day 14"},
                                                                 {"cell", "nd=none-seen"},
                                                                 {"counts", "epg"}};
  for (std::size_t given = 0; given < answers.size(); ++given)
    if (given != 1) // the days are one answer
      CHECK_THROWS_AS(
          understood(text, layout_of({answers.begin(),
                                      answers.begin() + static_cast<std::ptrdiff_t>(given)})),
          OpenQuestion);
  CHECK(eggs_of(understood(text, layout_of(answers))) == Lines{"W 1: 9 to 1", "W 2: 6 to 0"});
}

TEST_CASE("A column may be said to be a visit of a day") {
  const UnderstoodTables tables = understood(
      "Tag,Mob,EPG pre,Third look,Fourth look\n1,W,450,0,50\n2,W,300,0,100\n",
      layout_of({{"column", "epg_day:14=Third look"}, {"column", "epg_day:28=Fourth look"}}));
  const Animal& animal = tables.table.trials.at(0).groups.at(0).animals.at(0);
  REQUIRE(animal.visits.size() == 2);
  CHECK(animal.visits[0].day == 14);
  CHECK(animal.visits[1].day == 28);
  CHECK(animal.visits[1].count.eggs.value() == 1);
  CHECK_THROWS_AS(layout_of({{"column", "epg_day:0=Third look"}}), InputError);
  CHECK_THROWS_AS(layout_of({{"column", "epg_day:401=Third look"}}), InputError);
}

TEST_CASE("A table of ours with a visit before treatment is refused and not read in another way") {
  CHECK_THAT(
      not_understood("group,animal,eggs_before,eggs_day:0,eggs_day:14\nW,1,9,8,0\n"),
      Catch::Contains("(eggs_day:0): found a visit on day 0; expected a day after treatment"));
}

TEST_CASE("A day that is said chooses among the visits of a table in our own form") {
  const std::string text = "group,animal,role,eggs_before,eggs_day:10,eggs_day:14\n"
                           "W,1,treated,9,0,4\nW,2,treated,8,0,5\nK,3,control,7,6,8\n";
  CHECK(understood(text).table.trials[0].groups[0].animals[0].visits.size() == 2);
  for (const char* said : {"14", "day 14"}) {
    INFO(said);
    const UnderstoodTables tables = understood(text, layout_of({{"day-after", said}}));
    CHECK(eggs_of(tables) == Lines{"W 1: 9 to 4", "W 2: 8 to 5", "K (control) 3: 7 to 8"});
    const Group& white = tables.table.trials[0].groups[0];
    CHECK(white.animals[0].visits.empty());
    CHECK(white.animals[0].days_after == 14);
    CHECK(tables.table.trials[0].groups[1].role == Role::control);
  }
  // Each visit may have a factor of its own.
  const UnderstoodTables own = understood("group,animal,eggs_before,factor_before,eggs_day:10,"
                                          "factor_day:10,eggs_day:14,factor_day:14\n"
                                          "W,1,9,15,0,15,4,30\nW,2,8,15,0,15,5,30\n",
                                          layout_of({{"day-after", "14"}}));
  CHECK(own.table.trials[0].groups[0].animals[0].after->factor.value() == 30);
  REQUIRE(own.told.size() == 1);
  CHECK_THAT(own.told[0].text(), Catch::EndsWith("those of the visit of day 14; not used: the "
                                                 "visits of day 10"));
  CHECK_THAT(not_understood(text, layout_of({{"day-after", "99"}})),
             Catch::Contains("day-after: found \"99\"; expected the day of one of the visits in") &&
                 Catch::EndsWith(": 10, 14"));
}

TEST_CASE("Columns are what their owner says, even in our own form") {
  const std::string text = "group,animal,eggs_before,eggs_after,Recount\nW,1,9,0,4\n";
  CHECK(eggs_of(understood(text)) == Lines{"W 1: 9 to 0"});
  CHECK(eggs_of(understood(text, layout_of({{"column", "eggs_after=Recount"},
                                            {"column", "eggs_before=eggs_before"}}))) ==
        Lines{"W 1: 9 to 4"});
}

TEST_CASE("A column that the owner names and no table has is refused") {
  const std::string text = "Tag,Mob,EPG pre,EPG post\n1,W,450,0\n";
  CHECK(not_understood(text, layout_of({{"column", "epg_after=EPG pst"}})) ==
        "column: found \"EPG pst\" for epg_after; expected a head of the table: \"Tag\", \"Mob\", "
        "\"EPG pre\", \"EPG post\"");
  CHECK(not_understood(text, layout_of({{"column", "drench=Mob"}, {"column", "group=mob"}})) ==
        "column: found \"mob\" both for drench and for group; expected one meaning of a column");
}

TEST_CASE("Numbers below the columns that say nothing of themselves are told, not animals") {
  const UnderstoodTables tables = understood(
      "Tag,Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n3,W,300,100\n,,1050,150\n,,350,50\n");
  CHECK(eggs_of(tables) == Lines{"W 1: 9 to 0", "W 2: 6 to 1", "W 3: 6 to 2"});
  CHECK(tables.told[0].text() ==
        "t.csv: passed over, as sums or means without a word that says so: line "
        "5 (\"1050\"), line 6 (\"350\")");
  CHECK(not_understood("Tag,Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n,,800,50\n")
            .find("t.csv:4: group: found nothing that says the group of 1 animal") !=
        std::string::npos);
}

TEST_CASE("A worm of one time alone is left out of the table, and told") {
  const UnderstoodTables tables =
      understood("Tag,Mob,EPG pre,Nematodirus EPG pre,EPG post\n1,W,450,50,0\n");
  CHECK(eggs_of(tables) == Lines{"W 1: 9 to 0"});
  const Lines told = texts_of(tables.told);
  CHECK(std::ranges::find(
            told, "t.csv: \"Nematodirus EPG pre\" is not used: nematodirus was told apart at "
                  "one time alone") != told.end());
  const UnderstoodTables joined =
      understood({{"pre", "Tag,EPG,Nematodirus EPG\n1,450,50\n"}, {"post", "Tag,EPG\n1,0\n"}});
  CHECK(eggs_of(joined) == Lines{"all animals 1: 9 to 0"});
  CHECK(joined.told.back().text().find("nematodirus") != std::string::npos);
}

TEST_CASE("Eggs and EPG side by side that do not agree are asked about, at their row") {
  const std::string head = "Tag,Mob,Eggs pre,EPG pre,Eggs post,EPG post\n1,W,9,450,2,100\n";
  const std::string answers = "; expected an answer: the setting column \"eggs_after=Eggs post\" "
                              "(read the eggs alone, and so at both times), or the setting column "
                              "\"epg_after=EPG post\" (read the EPG alone, and so at both times)";
  CHECK(eggs_of(understood(head + "2,W,24,\"1,200\",neg,0\n")) ==
        Lines{"W 1: 9 to 2", "W 2: 24 to 0"});
  CHECK(not_understood(head + "2,W,6,300,0,50\n") ==
        "t.csv:3: column 6 (EPG post): found \"50\" EPG beside 0 eggs seen, which are 0 EPG at a "
        "factor of 50" +
            answers);
  CHECK_THAT(not_understood(head + "2,W,6,300,2,200\n"),
             Catch::Contains("t.csv:3: column 6 (EPG post): found \"200\" EPG beside 2 eggs seen, "
                             "which are 100 EPG at a factor of 50; expected an answer: the setting "
                             "factor-after 100 (if one egg stands for that), "));
  // The EPG of an animal whose eggs nobody noted would be lost, and it may be the worst of them.
  CHECK(not_understood(head + "2,W,6,300,,250\n") ==
        "t.csv:3: column 6 (EPG post): found \"250\" EPG beside no number of eggs" + answers);
}

TEST_CASE("One animal twice is refused, however its table is kept") {
  CHECK(
      not_understood("Tag,Mob,EPG pre,EPG post\n1,W,450,0\n1,W,300,50\n") ==
      "t.csv:3: column 1 (animal): found \"1\" again; expected each animal once in group \"W\" (it "
      "is on line 2 already)");
}

TEST_CASE("Weights in pounds and doses with their unit are read as kg and mL") {
  const Animal animal = understood("Tag,Mob,Weight (lb),Dose,EPG pre,EPG post\n"
                                   "1,W,100,6 ml,450,0\n")
                            .table.trials[0]
                            .groups[0]
                            .animals[0];
  CHECK(animal.weight_kg == 45.36);
  CHECK(animal.dose_ml == 6);
  CHECK(not_understood("Tag,Mob,Weight,Dose,EPG pre,EPG post\n1,W,40,225 mg,450,0\n")
            .find("\"225 mg\"") != std::string::npos);
}

TEST_CASE(
    "The label's rate is read in whatever unit it is written, and checked against the doses") {
  const auto rate = [](const std::string& text, const Layout& layout = {}) {
    return understood(text, layout).table.trials[0].groups[0].animals[0].label_ml_per_kg;
  };
  CHECK(rate("Tag,Mob,Weight kg,Dose ml,Label ml/10 kg,EPG pre,EPG post\n1,W,40,8,2,450,0\n") ==
        0.2);
  CHECK(rate("Tag,Mob,Weight kg,Dose ml,Label dose,EPG pre,EPG post\n1,W,40,8,1 ml/5 kg,450,0\n") ==
        0.2);
  CHECK(rate("Tag,Mob,Weight kg,Dose ml,Label: 1 ml/5 kg,EPG pre,EPG post\n1,W,40,8,,450,0\n") ==
        0.2);
  CHECK(rate("Tag,Mob,Weight kg,Dose ml,Label mg/kg,Strength mg/ml,EPG pre,EPG post\n"
             "1,W,40,8,7.5,37.5,450,0\n") == 0.2);
  // Its owner's answer keeps to what the head says.
  CHECK(rate("Tag,Mob,Weight kg,Dose ml,Dose ml/10 kg,EPG pre,EPG post\n1,W,40,8,2,450,0\n",
             layout_of({{"column", "label_ml_per_kg=Dose ml/10 kg"}})) == 0.2);
  // A table in our own form may have it under such a head too.
  CHECK(rate("group,animal,eggs_before,eggs_after,weight_kg,dose_ml,Label ml/10 kg\n"
             "W,1,9,0,40,8,2\n") == 0.2);
  CHECK_FALSE(rate("group,animal,eggs_before,eggs_after,weight_kg,dose_ml\nW,1,9,0,40,8\n"));
}

TEST_CASE("A label's rate that cannot be used is told, and why") {
  const auto told = [](const std::string& head, const std::string& cell) {
    return understood("Tag,Mob,Weight kg,Dose ml," + head + ",EPG pre,EPG post\n1,W,40,8," + cell +
                      ",450,0\n");
  };
  const auto last_told = [&](const std::string& head, const std::string& cell) {
    return texts_of(told(head, cell).told).back();
  };
  CHECK(last_told("Label dose (ml)", "8") ==
        "t.csv: not used: \"Label dose (ml)\" (it speaks of a label, and of no rate such as mL/10 "
        "kg)");
  CHECK(last_told("Label 1 ml/5 kg", "8") ==
        "t.csv: not used: \"Label 1 ml/5 kg\" (its head has a whole rate, and there is something "
        "else below it)");
  CHECK(last_told("Label ml/kg", "see box") ==
        "t.csv: not used: \"Label ml/kg\" (none of its cells is a number)");
  CHECK_FALSE(told("Label ml/kg", "see box").table.trials[0].groups[0].animals[0].label_ml_per_kg);
}

TEST_CASE("Counts of a sample side by side are repeats, whose factor is that of their sum") {
  const Animal animal =
      understood("Tag,Mob,epg_before_1,epg_before_2,epg_after_1,epg_after_2\n1,W,450,400,0,50\n")
          .table.trials[0]
          .groups[0]
          .animals[0];
  CHECK(animal.before->eggs.value() == 17);
  CHECK(animal.before->factor.value() == 25);
  CHECK(animal.after->eggs.value() == 1);
}

TEST_CASE("Of groups side by side, an animal of the longer one is no sum of those above it") {
  const std::string text = "Tag,North EPG pre,North EPG post,Tag,Lower EPG pre,Lower EPG post\n"
                           "101,450,0,201,450,0\n102,300,0,202,300,0\n103,350,0,203,350,0\n"
                           ",,,204,,0\n";
  CHECK(eggs_of(understood(text)).back() == "Lower 204: - to 0");
}

TEST_CASE("Edge inputs are no table that can be understood, and its edge forms can be") {
  support::check_edge_inputs_refused("t.csv", [](const std::string& bytes) { understood(bytes); });
  support::check_edge_forms_alike(
      "Tag,Mob,EPG pre,EPG post\n1,White,450,0\n2,White,300,50\n",
      [](const std::string& bytes) { return counts_table(understood(bytes).table.trials); });
}

TEST_CASE("EPG of 0 beside eggs seen offer no factor, since none is 0") {
  const std::string asked = not_understood("Tag,Mob,Eggs before,EPG before,Eggs after,EPG after\n"
                                           "1,W,20,1000,11,0\n2,W,30,1500,0,0\n");
  CHECK_THAT(asked, Catch::Contains("found \"0\" EPG beside 11 eggs seen") &&
                        Catch::Contains("eggs_after=Eggs after") &&
                        !Catch::Contains("factor-after"));
}

TEST_CASE("A row called Total for mob is looked at by its numbers in our own form too") {
  const std::string start = "group,animal,eggs_before,eggs_after\nW,1,40,5\nW,2,4,0\n";
  CHECK(eggs_of(understood(start + "W,Total for mob,44,5\n")) ==
        Lines{"W 1: 40 to 5", "W 2: 4 to 0"});
  CHECK_THAT(not_understood(start + "W,Total for mob,45,5\n"),
             Catch::Contains("which reads as a sum or a mean"));
  CHECK(eggs_of(understood(start + "W,Summer,44,5\n")).size() == 3);
}

TEST_CASE("Cells that say their unit say it of their column, each of its own") {
  CHECK(eggs_of(understood("Tag,Mob,Before,After\n1,W,6 eggs,200 epg\n2,W,9 eggs,0\n3,W,24 eggs,50 "
                           "epg\n")) == Lines{"W 1: 6 to 4", "W 2: 9 to 0", "W 3: 24 to 1"});
  CHECK(not_understood("Tag,Mob,Before,After\n1,W,6 eggs,4 eggs\n2,W,450 epg,0\n") ==
        "t.csv:2: column 3 (Before): found \"6 eggs\" in a column with \"450 epg\"; expected eggs "
        "seen or eggs per gram, the same in all cells of a column");
}

TEST_CASE("Cells below heads of counts that are no counts are the problem, and not the header") {
  CHECK(not_understood("Tag,Before,After\n1,6 x 50,4 x 50\n2,9 x 50,6 x 50\n") ==
        "t.csv:2: column 2 (Before): found \"6 x 50\"; expected one number of eggs or EPG, such as "
        "12, 350 or <50, in some cell of a column of counts (empty: not sampled)");
}

TEST_CASE("Counts of one time alone may have their times in a column that is not known") {
  CHECK(
      not_understood("Tag,Mob,Month,EPG before\n1,W,May,300\n1,W,June,0\n")
          .find("or, if another column tells the time of each row, that one (the setting column "
                "when=THEIRS, with the setting day-before WORD and the setting day-after WORD)") !=
      std::string::npos);
}

TEST_CASE("A question about one sheet of a workbook may be answered by reading another alone") {
  const auto row = [](const Lines& cells) {
    std::string xml = "<table:table-row>";
    for (const std::string& cell : cells)
      xml += ods_text(cell);
    return xml + "</table:table-row>";
  };
  const auto sheet = [](const std::string& name, const std::string& rows) {
    return "<table:table table:name=\"" + name + "\">" + rows + "</table:table>";
  };
  const std::string book = zip_of(parts_of_ods(
      sheet("Data", row({"Tag", "Mob", "EPG before", "EPG after"}) + row({"1", "W", "300", "0"})) +
      sheet("Summary",
            row({"Mob", "Mean EPG before", "Mean EPG after"}) + row({"W", "300", "0"}))));
  CHECK(not_understood(book).find(
            "the setting sheet Data (if the trial is in that sheet, and it is read "
            "alone)") != std::string::npos);
}

TEST_CASE("Dates without a year in heads are asked about, and the answer reads the right column") {
  for (const auto& [first, second] :
       std::vector<std::pair<std::string, std::string>>{{"EPG 30 April", "EPG 14 May"},
                                                        {"EPG May 30", "EPG June 14"},
                                                        {"EPG 5/30", "EPG 6/14"},
                                                        {"EPG 30Apr", "EPG 14May"},
                                                        {"EPG 30.4.", "EPG 14.5."},
                                                        {"EPG 28 Dec", "EPG 11 Jan"}}) {
    INFO(first);
    CHECK(by_answers("Tag," + first + "," + second + "\n1,50,2000\n") ==
          Lines{"all animals 1: 1 to 40"});
    CHECK(by_answers("Tag," + second + "," + first + "\n1,2000,50\n") ==
          Lines{"all animals 1: 1 to 40"});
    const Layout said =
        layout_of({{"column", "epg_before=" + first}, {"column", "epg_after=" + second}});
    CHECK(eggs_of(understood("Tag," + first + "," + second + "\n1,50,2000\n", said)) ==
          Lines{"all animals 1: 1 to 40"});
  }
  CHECK(eggs_of(understood("Tag,EPG 28 Feb 2031,EPG 14 Mar 2031\n1,50,2000\n")) ==
        Lines{"all animals 1: 1 to 40"});
}

TEST_CASE("Samples too near by dates without a year are asked about, and the day is kept") {
  CHECK(by_answers("Tag,Before 13/5,After 16/5\n1,450,0\n") ==
        Lines{"all animals 1: 9 to -, day 3", "all animals 1: 450 to -, day 3"});
  CHECK(by_answers("Tag,Pre EPG (13 May),Post EPG (16 May)\n1,450,0\n") ==
        Lines{"all animals 1: 9 to -, day 3"});
  CHECK(by_answers("Tag,Pre EPG (3 May),Post EPG (17 May)\n1,450,0\n") ==
        Lines{"nothing is asked"});
  CHECK(by_answers("Tag,Pre EPG 30 Dec,Post EPG 2 Jan\n1,450,0\n") ==
        Lines{"all animals 1: 9 to -, day 3"});
  // Known by the owner's answer, or by a day of treatment that they cannot be held against.
  CHECK(by_answers("Tag,EPG 13 May,EPG 16 May\n1,450,0\n") == Lines{"asked"});
  CHECK(by_answers("Tag,EPG 13 May,EPG 16 May\n1,450,0\n",
                   layout_of({{"day-before", "13 May"}, {"day-after", "16 May"}})) ==
        Lines{"all animals 1: 9 to -, day 3"}); // the first answer still stands beside the second
  CHECK_THAT(not_understood("Tag,Treated on,Pre EPG 3 May,Post EPG 17 May\n1,2031-05-10,450,0\n"),
             Catch::Contains("a date without its year, 14 days behind") &&
                 !Catch::Contains("the setting"));
  // 5 June to 8 June, or 6 May to 6 August.
  CHECK(by_answers("Tag,Pre EPG 5/6,Post EPG 8/6\n1,450,0\n") == Lines{"asked", "asked"});
}

TEST_CASE("A number after treatment of which nobody says the unit is asked about") {
  CHECK(by_answers("Tag,EPG0,EPG3\n1,450,0\n") ==
        Lines{"all animals 1: 9 to -, day 3", "all animals 1: 9 to -, day 21"});
  CHECK(by_answers("Tag,EPG before,EPG after drench +3\n1,450,0\n") ==
        Lines{"all animals 1: 9 to -, day 3", "all animals 1: 9 to -, day 21"});
  const UnderstoodTables by_days = understood("Tag,EPG 0,EPG 28\n1,450,0\n");
  const std::vector<Visit>& visits = by_days.table.trials[0].groups[0].animals[0].visits;
  REQUIRE(visits.size() == 1);
  CHECK(visits[0].day == 28);
  CHECK(eggs_of(understood("Tag,EPG 1,EPG 2\n1,450,0\n")) == Lines{"all animals 1: 9 to 0"});
  CHECK_THAT(not_understood("Tag,Time,EPG\n1,0,450\n1,3,0\n"),
             Catch::Contains("whether it is of days or of weeks"));
  CHECK(eggs_of(understood("Tag,Visit,EPG\n1,1,450\n1,2,0\n")) == Lines{"all animals 1: 9 to 0"});
  CHECK_THAT(not_understood("Tag,When,EPG\n1,13 May,450\n1,16 May,0\n",
                            layout_of({{"day-before", "13 May"}, {"day-after", "16 May"}})),
             Catch::Contains("dates without their year, 3 days apart"));
}

TEST_CASE("Two words of one time in rows are asked about, and the answer chooses between them") {
  const std::string rows = "ID,When,EPG\n1,before,450\n1,after,400\n1,after 2nd drench,0\n";
  CHECK(by_answers(rows) == Lines{"all animals 1: 9 to 8"});
  CHECK(eggs_of(understood(
            rows, layout_of({{"day-before", "before"}, {"day-after", "after 2nd drench"}}))) ==
        Lines{"all animals 1: 9 to 0"});
  // Two clerks' words for one sample are no question.
  CHECK(eggs_of(understood("ID,When,EPG\n1,before,450\n1,after,400\n2,pre,300\n2,post,0\n")) ==
        Lines{"all animals 1: 9 to 8", "all animals 2: 6 to 0"});
}

TEST_CASE("A retest is no word for after treatment, and the answers choose it or leave it out") {
  const std::string rows = "ID,When,EPG\n1,before,450\n1,after,400\n1,retest,0\n";
  CHECK_THAT(not_understood(rows), Catch::Contains("found \"retest\"; expected before or after"));
  CHECK(eggs_of(understood(rows, layout_of({{"day-before", "before"}, {"day-after", "after"}}))) ==
        Lines{"all animals 1: 9 to 8"});
  CHECK(eggs_of(understood(rows, layout_of({{"day-before", "before"}, {"day-after", "retest"}}))) ==
        Lines{"all animals 1: 9 to 0"});
}

TEST_CASE(
    "Numbers in a column of dates are read as dates, or refused without an answer that fails") {
  CHECK(eggs_of(understood("Tag,Date,EPG\n1,20310501,450\n1,20310515,0\n")) ==
        Lines{"all animals 1: 9 to 0"});
  const std::string serials = "Tag,Date,EPG\n1,48334,450\n1,48348,0\n";
  CHECK(by_answers("Tag,Date,EPG\n1,20310501,450\n1,20310515,0\n") == Lines{"nothing is asked"});
  CHECK_THAT(not_understood(serials),
             Catch::Contains("format the cells as dates") && !Catch::Contains("day-before"));
  CHECK_THAT(not_understood("Tag,Date,EPG\n1,30.4.,450\n1,14.5.,0\n"),
             !Catch::Contains("format the cells"));
  CHECK_THAT(not_understood("Tag,Date,EPG\n1,30 April,450\n1,14 May,0\n"),
             Catch::Contains("a date with its year") && !Catch::Contains("day-before"));
}

TEST_CASE("A title or a note that says another factor than the one given is asked about") {
  const std::string rows = "Tag,Eggs before,Eggs after\n1,6,0\n2,9,1\n";
  CHECK(not_understood("One egg = 15 epg\n" + rows) ==
        "t.csv:1: found \"One egg = 15 epg\", in which 15 reads as what one egg stands for, and a "
        "factor of 50 before treatment; expected an answer: the setting factor 15 (if one egg seen "
        "stands for so many EPG; if not, or if a column of the table says another factor, mend the "
        "text, which must not say so)");
  for (const std::string& text : {"Factor,15\n" + rows, rows + "\nfactor 15,,\n",
                                  "Factor 50 before and factor 15 after\n" + rows})
    CHECK(not_understood(text).find(
              "in which 15 reads as what one egg stands for, and a factor of 50") !=
          std::string::npos);
  CHECK(eggs_of(understood("Factor 50\n" + rows)) ==
        Lines{"all animals 1: 6 to 0", "all animals 2: 9 to 1"});
  CHECK(eggs_of(understood("Factor 15\n" + rows, {}, 15)).size() == 2);
  CHECK(eggs_of(understood("Lambs of 2031, drenched 2 x\n" + rows)).size() == 2);
  const UnderstoodTables limit = understood("Egg counts with the limit 15\n" + rows);
  const Lines told = texts_of(limit.told);
  CHECK(std::ranges::count(
            told, "\"Egg counts with the limit 15\" says a limit of 15, which is "
                  "often what one egg stands for, and counts are read by a factor of 50: is "
                  "it right?") == 1);
}

TEST_CASE("A dose of 0 is no dose in untreated animals, and refused in treated ones") {
  const std::string head = "Tag,Group,Role,EPG pre,EPG post,Dose ml\n";
  const UnderstoodTables tables = understood(
      head + "1,W,treated,450,0,8\n2,C,untreated,450,400,0\n3,C,untreated,300,300,0 ml\n");
  CHECK_FALSE(tables.table.trials[0].groups[1].animals[0].dose_ml);
  CHECK(texts_of(tables.told).back() ==
        "a dose of 0 is taken for no dose in 2 rows of untreated animals");
  CHECK(not_understood(head + "1,W,treated,450,0,0\n2,C,untreated,450,400,0\n")
            .find("found \"0\"; expected a dose in mL from 0.001 to 2000") != std::string::npos);
  // By its name, and in our own form.
  for (const char* text : {"Tag,Group,EPG pre,EPG post,Dose ml\n1,W,450,0,8\n2,Control,450,400,0\n",
                           "group,animal,role,epg_before,epg_after,dose_ml\nW,1,treated,450,0,8\n"
                           "C,2,control,450,400,0\n"}) {
    const UnderstoodTables read = understood(text);
    const Group& control = read.table.trials[0].groups[1];
    CHECK(control.role == Role::control);
    CHECK_FALSE(control.animals[0].dose_ml);
  }
}

TEST_CASE("The number of a day before a month is no day of that month") {
  for (const char* heads :
       {"Day 0 May 3,Day 14 May 17", "D0 Mar 3,D14 Mar 17", "Week 0 May 3,Week 2 May 17"}) {
    INFO(heads);
    CHECK(eggs_of(understood(std::string("Tag,") + heads + "\n1,450,0\n2,300,50\n",
                             layout_of({{"counts", "epg"}}))) ==
          Lines{"all animals 1: 9 to 0", "all animals 2: 6 to 1"});
  }
}

TEST_CASE("A label's rate of 0 in untreated animals is none, as a dose of 0 is") {
  const UnderstoodTables tables =
      understood("Tag,Group,Role,EPG pre,EPG post,Weight kg,Dose ml,Label ml/10 kg\n"
                 "1,W,treated,450,0,40,8,2\n2,C,untreated,450,400,40,0,0\n");
  CHECK_FALSE(tables.table.trials[0].groups[1].animals[0].label_ml_per_kg);
  CHECK(tables.table.trials[0].groups[0].animals[0].label_ml_per_kg == 0.2);
}

TEST_CASE("A test over New Year whose rows have two years is refused with that reason") {
  CHECK(not_understood("Tag,Year,Date,EPG\n1,2031,2031-12-28,450\n1,2032,2032-01-11,0\n"
                       "2,2031,2031-12-28,300\n2,2032,2032-01-11,50\n")
            .find("of one over New Year, write one year in all its rows") != std::string::npos);
}

TEST_CASE("Of several dates the question offers those of a usual test, in columns and in rows") {
  CHECK_THAT(not_understood("Tag,Mob,EPG 3/5/2031,EPG 23/5/2031,EPG 10/5/2031\n1,W,450,0,350\n"),
             Catch::Contains("day-before 10/5/2031") && Catch::Contains("day-after 23/5/2031"));
  CHECK_THAT(not_understood("Tag,Mob,Date,EPG\n1,W,3/5/2031,450\n1,W,10/5/2031,350\n"
                            "1,W,23/5/2031,0\n"),
             Catch::Contains("day-before 10/5/2031") && Catch::Contains("day-after 23/5/2031"));
}
