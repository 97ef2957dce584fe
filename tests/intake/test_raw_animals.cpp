#include "intake/raw_animals.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;
using support::Lines;
using support::ReadText;

namespace {

/// Animals as "White 101: before 450, after 0", with what else is known of them.
struct Folded {
  Lines animals;
  Lines told;
  SheetAnimals sheet;

  explicit Folded(const std::string& text, const Layout& layout = {},
                  std::optional<DateOrder> order = std::nullopt) {
    ReadText read(text, layout);
    Problems problems;
    ReadingLog log;
    sheet = animals_of(read.reading, layout, order, problems, log);
    problems.throw_if_any();
    told = texts_of(log.told());
    for (const RawAnimal& animal : sheet.animals) {
      std::string line = animal.group + ' ' + animal.tag.text + ':';
      const char* between = " ";
      for (const auto& [key, count] : animal.counts) {
        line += fmt::format("{}{}{}{} {}", between, to_string(key.time),
                            key.repeat > 0 ? fmt::format(" {}", key.repeat) : "",
                            key.worm.empty() ? "" : ' ' + key.worm,
                            count.cell.text.empty() ? "-" : count.cell.text);
        between = ", ";
      }
      for (const auto& [name, cell] : animal.attributes)
        line += fmt::format("; {} {}", name, cell.text);
      animals.push_back(line);
    }
  }

  bool tells(const std::string& line) const { return std::ranges::find(told, line) != told.end(); }
};

std::string refusal(const std::string& text, const Layout& layout = {}) {
  return support::input_error([&] { Folded folded(text, layout); });
}

} // namespace

TEST_CASE("One row is an animal with its counts before and after, by heads and not by places") {
  const Folded folded("EPG post,Tag,EPG pre,Mob,Sex\n0,101,450,W,f\n50,102,300,W,m\n");
  CHECK(folded.animals == Lines{"W 101: before 450, after 0", "W 102: before 300, after 50"});
  CHECK(folded.told == Lines{"t.csv: header on line 1: \"EPG post\" = epg_after, \"Tag\" = animal, "
                             "\"EPG pre\" = epg_before, \"Mob\" = group",
                             "t.csv: not used: \"Sex\""});
  CHECK(folded.sheet.has_tags);
  CHECK(folded.sheet.has_groups);
  CHECK_FALSE(folded.sheet.time_is_open);
}

TEST_CASE("Counts of one sample side by side are repeats of it, and of a worm its own") {
  CHECK(Folded("Tag,Mob,eggs_before_1,eggs_before_2,eggs_after_1,eggs_after_2\n1,W,450,400,0,50\n")
            .animals == Lines{"W 1: before 1 450, before 2 400, after 1 0, after 2 50"});
  CHECK(Folded("Tag,Mob,EPG pre,EPG post,Nematodirus EPG pre,Nematodirus EPG "
               "post\n1,W,450,0,50,0\n")
            .animals ==
        Lines{"W 1: before 450, before nematodirus 50, after 0, after nematodirus 0"});
}

TEST_CASE("A worm that is told apart at one time alone is told to be left out") {
  const Folded folded("Tag,Mob,EPG pre,Nematodirus EPG pre,EPG post\n1,W,450,50,0\n");
  CHECK(folded.animals == Lines{"W 1: before 450, after 0"});
  CHECK(
      folded.tells("t.csv: \"Nematodirus EPG pre\" is not used: nematodirus was told apart at one "
                   "time alone"));
}

TEST_CASE("Animals without names are called by their rows, and groups that nothing tells are one") {
  const Folded folded("EPG pre,EPG post\n450,0\n300,50\n");
  CHECK(folded.animals == Lines{"all animals line 2: before 450, after 0",
                                "all animals line 3: before 300, after 50"});
  CHECK(folded.tells("t.csv: no column names animals: they are called by their rows"));
  CHECK_FALSE(folded.sheet.has_groups);
}

TEST_CASE("Rows that take the name of a group above them are counted") {
  const Folded folded("Tag,Mob,EPG pre,EPG post\n1,A,450,0\n2,,300,0\n3,B,300,0\n");
  CHECK(folded.tells("t.csv: 1 rows without a group are taken for the group above them"));
}

TEST_CASE("Days 0, 7 and 14 are a sample before and two visits, and told so") {
  const Folded folded("Tag,Mob,Day 0,Day 7,Day 14\n1,W,450,0,50\n");
  CHECK(folded.animals == Lines{"W 1: before 450, day:7 0, day:14 50"});
  CHECK(folded.tells("t.csv: one sample before treatment (\"Day 0\") and visits on day 7 (\"Day "
                     "7\") and day 14 (\"Day 14\")"));
}

TEST_CASE("Visits in rows are folded, by days, by weeks, and by dates beside that of treatment") {
  CHECK(Folded("Tag,Week,EPG\n1,0,450\n1,2,0\n1,4,50\n2,4,10\n2,0,90\n").animals ==
        Lines{"all animals 1: before 450, day:14 0, day:28 50",
              "all animals 2: before 90, day:28 10"});
  CHECK(Folded("Tag,Day,EPG\n1,0,450\n1,2,0\n1,4,50\n").animals ==
        Lines{"all animals 1: before 450, day:2 0, day:4 50"});
  // A column that says neither: 2 and 4 may be weeks.
  CHECK_THROWS_AS(Folded("Tag,When,EPG\n1,0,450\n1,2,0\n1,4,50\n"), OpenQuestion);
  const std::string by_dates = "Tag,Treated on,Sampled,EPG\n1,3 May 2031,2 May 2031,450\n"
                               "1,3 May 2031,17 May 2031,0\n1,3 May 2031,31 May 2031,50\n";
  CHECK(Folded(by_dates).animals ==
        Lines{"all animals 1: before 450, day:14 0, day:28 50; date_before 2 May 2031; "
              "date_treated 3 May 2031"});
  CHECK_THROWS_AS(Folded("Tag,Sampled,EPG\n1,2 May 2031,450\n1,17 May 2031,0\n"
                         "1,31 May 2031,50\n"),
                  OpenQuestion);
  // Two samples before treatment are not chosen among.
  CHECK_THROWS_AS(Folded(by_dates + "1,3 May 2031,1 May 2031,400\n"), OpenQuestion);
}

TEST_CASE("Two days of which both may be after treatment are asked about") {
  CHECK_THROWS_AS(Folded("Tag,EPG day 7,EPG day 21\n1,450,50\n"), OpenQuestion);
  CHECK(Folded("Tag,EPG day 1,EPG day 15\n1,450,50\n").animals ==
        Lines{"all animals 1: before 450, day:14 50"});
}

TEST_CASE("The day of a sample is not lost where a column for dates is empty there") {
  const std::string head = "Tag,Treated on,Sampled,Day,EPG\n1,3 May 2031,2 May 2031,0,450\n";
  CHECK(Folded(head + "1,3 May 2031,,7,50\n").animals ==
        Lines{"all animals 1: before 450, day:7 50; date_before 2 May 2031; "
              "date_treated 3 May 2031"});
  CHECK(Folded("Tag,Date after,EPG day 0,EPG day 7\n1,,450,50\n").animals ==
        Lines{"all animals 1: before 450, day:7 50"});
  // A date of its own tells the day.
  CHECK(Folded(head + "1,3 May 2031,10 May 2031,7,50\n").animals ==
        Lines{"all animals 1: before 450, after 50; date_after 10 May 2031; "
              "date_before 2 May 2031; date_treated 3 May 2031"});
}

TEST_CASE("Dates above columns are visits by the one date of treatment in the rows") {
  const std::string text = "Tag,Treated on,2 May 2031,17 May 2031,31 May 2031\n"
                           "1,3 May 2031,450,0,50\n2,3 May 2031,300,0,n/s\n";
  CHECK(Folded(text).animals[1] ==
        "all animals 2: before 300, day:14 0, day:28 n/s; date_before 2 May 2031; date_treated 3 "
        "May 2031");
  std::string two_dates = text;
  two_dates.replace(two_dates.rfind("3 May"), 1, "4");
  CHECK_THROWS_AS(Folded(two_dates), OpenQuestion);
}

TEST_CASE("Two samples of an animal on one visit are refused") {
  CHECK(support::input_error([] { Folded("Tag,Week,EPG\n1,0,450\n1,2,0\n1,2,50\n1,4,50\n"); }) ==
        "t.csv:4: column 3 (EPG): found a second sample of \"1\" on day 14 (the first is on "
        "line 3); expected one (put counts of one sample side by side, in columns "
        "eggs_before_1, eggs_before_2; of two trials, a column trial, farm or year that tells them "
        "apart)");
}

TEST_CASE("Eggs told apart at several visits are asked about") {
  CHECK_THROWS_AS(Folded("Tag,Mob,Day 0,Day 14,Day 28,Nematodirus day 0,Nematodirus day 14,"
                         "Nematodirus day 28\n1,W,450,0,50,1,2,3\n"),
                  OpenQuestion);
}

TEST_CASE("Of days 0, 7 and 14 those that are not wanted are told") {
  const std::string text = "Tag,Mob,Day 0,Day 7,Day 14\n1,W,450,0,50\n";
  const Folded folded(text, support::layout_of({{"day-before", "0"}, {"day-after", "14"}}));
  CHECK(folded.animals == Lines{"W 1: before 450, day:14 50"});
  CHECK(folded.tells("t.csv: not used: \"Day 7\""));
}

TEST_CASE("Eggs seen are read before the EPG beside them, if one egg always stands for the same") {
  const Folded folded("Tag,Mob,Eggs pre,EPG pre,Eggs post,EPG post\n1,W,9,450,0,0\n"
                      "2,W,24,\"1,200\",neg,0\n3,W,n/s,n/s,1,50\n");
  CHECK(folded.animals ==
        Lines{"W 1: before 9, after 0", "W 2: before 24, after neg", "W 3: before n/s, after 1"});
  CHECK(folded.told[1] ==
        "t.csv: the eggs seen are read, and not the EPG beside them (\"EPG pre\", "
        "\"EPG post\")");
}

TEST_CASE("Two columns of one time are asked about, with names of that time") {
  CHECK(refusal("Tag,Mob,EPG pre,EPG post,EPG post (again)\n1,W,450,0,100\n") ==
        "t.csv:1: column 5 (EPG post (again)): found two columns for counts after treatment, this "
        "and \"EPG post\"; expected an answer: the setting column \"epg_after=EPG post\" (and so "
        "each that is wanted), or the setting column \"epg_after=EPG post (again)\"");
  const Folded folded("Tag,Mob,EPG pre,EPG post,EPG post (again)\n1,W,450,0,100\n",
                      support::layout_of({{"column", "epg_before=EPG pre"},
                                          {"column", "epg_after=EPG post (again)"}}));
  CHECK(folded.animals == Lines{"W 1: before 450, after 100"});
  CHECK(folded.tells("t.csv: not used: \"EPG post\""));
}

TEST_CASE("A column that may be eggs or EPG is offered as either") {
  CHECK(refusal("Tag,Mob,FEC pre,Count pre,EPG post\n1,W,450,9,0\n") ==
        "t.csv:1: column 4 (Count pre): found two columns for counts before treatment, this and "
        "\"FEC pre\"; expected an answer: the setting column \"epg_before=FEC pre\" (and so each "
        "that is wanted), the setting column \"eggs_before=FEC pre\" (and so each that is wanted), "
        "the setting column \"epg_before=Count pre\", or the setting column \"eggs_before=Count "
        "pre\"");
}

TEST_CASE("Numbers behind a time may be repeats, visits or groups, and are asked about") {
  CHECK_THROWS_AS(Folded("Tag,Mob,pre 1,pre 2,post 1,post 2\n1,W,450,400,0,50\n"), OpenQuestion);
}

TEST_CASE("An answer to two columns of a sheet of one time leaves open which time that is") {
  const std::string text = "Tag,Mob,EPG,FEC\n1,W,450,9\n";
  CHECK(refusal(text) == "t.csv:1: column 4 (FEC): found two columns for counts, this and \"EPG\"; "
                         "expected an answer: the setting column epg=EPG (and so each that is "
                         "wanted), the setting column epg=FEC, or the setting column eggs=FEC");
  const Folded folded(text, support::layout_of({{"column", "epg=EPG"}}));
  CHECK(folded.sheet.time_is_open);
  CHECK(folded.animals == Lines{"W 1: before 450"});
  CHECK(folded.sheet.occasions == std::set{Occasion::before});
}

TEST_CASE("Groups side by side are told apart by their heads, each with animals of its own") {
  const Folded folded("Tag,White pre EPG,White post EPG,Tag,Blue pre EPG,Blue post EPG\n"
                      "101,450,0,201,300,300\n102,300,50,202,350,350\n,,,203,50,50\n");
  CHECK(folded.animals == Lines{"White 101: before 450, after 0", "Blue 201: before 300, after 300",
                                "White 102: before 300, after 50",
                                "Blue 202: before 350, after 350",
                                "Blue 203: before 50, after 50"});
  CHECK(folded.told[1] == "t.csv: groups stand side by side: \"White\", \"Blue\"");
}

TEST_CASE("Rows of one sample each are folded by animal, whatever their order") {
  const Folded folded("Tag,Mob,Sample,EPG\n1,W,Post,0\n2,W,Pre,300\n1,W,Pre,450\n2,W,Post,50\n"
                      "3,W,Pre,100\n");
  CHECK(folded.animals ==
        Lines{"W 1: before 450, after 0", "W 2: before 300, after 50", "W 3: before 100"});
  CHECK(folded.tells("t.csv: one row a sample, folded by \"Tag\" at the times under \"Sample\": "
                     "\"Pre\" = before, \"Post\" = after"));
}

TEST_CASE("A second sample of one time is refused, not taken for the first or last") {
  CHECK(refusal("Tag,Mob,Sample,EPG\n1,W,Pre,450\n1,W,Post,250\n1,W,Post,0\n") ==
        "t.csv:4: column 4 (EPG): found a second sample of \"1\" after treatment (the first is on "
        "line 3); expected one (put counts of one sample side by side, in columns eggs_before_1, "
        "eggs_before_2; of two trials, a column trial, farm or year that tells them apart)");
}

TEST_CASE("A sample whose time is not told is refused") {
  CHECK(refusal("Tag,Mob,Sample,EPG\n1,W,Pre,450\n1,W,,0\n2,W,Post,0\n") ==
        "t.csv:3: column 3 (Sample): found nothing; expected before or after, a day from "
        "treatment, or a date; or which words mean which: the setting day-before THEIRS and the "
        "setting day-after THEIRS");
}

TEST_CASE("Samples in rows of their own are never paired by their order") {
  CHECK(refusal("Mob,Sample,EPG\nW,Pre,450\nW,Post,0\n") ==
        "t.csv:1: found samples before and after in rows of their own, and no column that names "
        "animals (rows are never paired by their order); expected an answer: the setting column "
        "animal=THEIRS (the head of the column that names them)");
}

TEST_CASE("Days of samples in rows are before and after, or visits") {
  CHECK(Folded("Tag,Mob,Day,EPG\n1,W,0,450\n1,W,14,0\n").animals ==
        Lines{"W 1: before 450, day:14 0"});
  CHECK(Folded("Tag,Mob,Day,EPG\n1,W,0,450\n1,W,7,0\n1,W,14,50\n").animals ==
        Lines{"W 1: before 450, day:7 0, day:14 50"});
  const Folded folded("Tag,Mob,Day,EPG\n1,W,0,450\n1,W,7,0\n1,W,14,50\n",
                      support::layout_of({{"day-before", "0"}, {"day-after", "14"}}));
  CHECK(folded.animals == Lines{"W 1: before 450, day:14 50"});
  CHECK(folded.told[2] == "t.csv: one row a sample, folded by \"Tag\" at the times under \"Day\": "
                          "\"7\" not used, \"0\" = before, \"14\" = day:14");
}

TEST_CASE("Dates of samples in rows are in the order of the table, and become dates of sampling") {
  const std::string text = "Tag,Mob,Date,EPG\n1,W,3/5/2031,450\n2,W,3/5/2031,300\n"
                           "1,W,5/4/2031,0\n2,W,5/4/2031,50\n";
  CHECK(Folded(text, {}, DateOrder::month_first).animals ==
        Lines{"W 1: before 450, after 0; date_after 5/4/2031; date_before 3/5/2031",
              "W 2: before 300, after 50; date_after 5/4/2031; date_before 3/5/2031"});
  CHECK(Folded(text, {}, DateOrder::day_first).animals[0] ==
        "W 1: before 0, after 450; date_after 3/5/2031; date_before 5/4/2031");
}

TEST_CASE("Animals sampled on other days are of the time that theirs fit, or are asked about") {
  CHECK(Folded("Tag,Mob,Date,EPG\n1,W,2031-05-03,450\n1,W,2031-05-17,0\n2,W,2031-05-04,300\n"
               "2,W,2031-05-18,50\n3,W,2031-05-18,100\n")
            .animals[2] == "W 3: after 100; date_after 2031-05-18");
  CHECK_THROWS_AS(Folded("Tag,Mob,Date,EPG\n1,W,2031-05-03,450\n1,W,2031-05-17,0\n"
                         "2,W,2031-05-10,300\n"),
                  OpenQuestion);
  CHECK_THROWS_AS(Folded("Tag,Mob,Date,EPG\n1,W,2031-05-03,450\n1,W,2031-05-17,0\n"
                         "1,W,2031-05-31,300\n"),
                  OpenQuestion);
}

TEST_CASE("Animals of one name in two groups are two") {
  CHECK(
      Folded("Tag,Mob,Sample,EPG\n1,W,Pre,450\n1,B,Pre,300\n1,W,Post,0\n1,B,Post,300\n").animals ==
      Lines{"W 1: before 450, after 0", "B 1: before 300, after 300"});
}

TEST_CASE("What is known of an animal goes with it, of a sample with its time") {
  CHECK(Folded("Tag,Drench,Weight,Factor,EPG pre,EPG post\n1,white,40,50,450,0\n").animals ==
        Lines{"white 1: before 450, after 0; drench white; factor 50; weight_kg 40"});
  CHECK(Folded("Tag,Mob,Sample,Factor,EPG\n1,W,Pre,50,450\n1,W,Post,15,30\n").animals ==
        Lines{"W 1: before 450, after 30; factor_after 15; factor_before 50"});
}

TEST_CASE("Animals of one tag on two farms, in two years or two trials are two") {
  for (const std::string head : {"Farm", "Trial", "Year"}) {
    const std::string one = head == "Year" ? "2030" : "Hill";
    const std::string two = head == "Year" ? "2031" : "Dale";
    const std::string name = head == "Farm" ? "farm" : head == "Trial" ? "trial" : "year";
    const Folded folded(fmt::format("{0},Tag,Sample,EPG\n{1},1,Pre,450\n{2},1,Pre,300\n"
                                    "{2},1,Post,0\n{1},1,Post,400\n",
                                    head, one, two));
    CHECK(folded.animals ==
          Lines{fmt::format("all animals 1: before 450, after 400; {} {}", name, one),
                fmt::format("all animals 1: before 300, after 0; {} {}", name, two)});
  }
}

TEST_CASE("One farm before and another after are no farm that was sampled twice") {
  // A laboratory's log, in which each farm numbers its animals from 1.
  CHECK(refusal("Farm,Tag,Sample,EPG\nHill,1,Pre,450\nHill,2,Pre,300\nDale,1,Post,0\n") ==
        "t.csv:4: column 1 (Farm): found \"Dale\" for \"1\" after treatment, and \"Hill\" before "
        "treatment on line 2; expected the same farm in all rows of an animal; of two animals, "
        "names that differ, or a row for both times of each (its count empty where it was not "
        "sampled)");
  // The advice works.
  CHECK(Folded("Farm,Tag,Sample,EPG\nHill,1,Pre,450\nHill,1,Post,\nDale,1,Pre,\nDale,1,Post,0\n")
            .animals == Lines{"all animals 1: before 450, after -; farm Hill",
                              "all animals 1: before -, after 0; farm Dale"});
  // Another farm that has both times does not hide it.
  CHECK(refusal("Farm,Tag,Sample,EPG\nMoor,1,Pre,90\nMoor,1,Post,80\nHill,1,Pre,450\n"
                "Dale,1,Post,0\n")
            .starts_with("t.csv:5: column 1 (Farm): found \"Dale\" for \"1\" after treatment"));
}

TEST_CASE("Tests of one trial that were treated in spring and in autumn are two") {
  const std::string head = "Tag,Treated on,Sample,EPG\n1,2031-05-01,Pre,450\n1,2031-05-01,Post,0\n";
  CHECK(Folded(head + "1,2031-10-01,Pre,300\n1,2031-10-01,Post,200\n").animals ==
        Lines{"all animals 1: before 450, after 0; date_treated 2031-05-01",
              "all animals 1: before 300, after 200; date_treated 2031-10-01"});
  CHECK(refusal("Tag,Treated on,Sample,EPG\n1,2030-05-01,Pre,450\n1,2031-05-01,Post,0\n")
            .starts_with("t.csv:3: column 2 (Treated on): found \"2031-05-01\" for \"1\" after "
                         "treatment, and \"2030-05-01\" before treatment on line 2"));
  CHECK(
      refusal("Tag,Treated on,Sample,EPG\n1,2031-05-01,Pre,450\n1,2031-05-02,Post,0\n") ==
      "t.csv:3: column 2 (Treated on): found \"2031-05-02\" for \"1\", and \"2031-05-01\" on line "
      "2; expected the same date_treated in all rows of an animal");
}

TEST_CASE("Each farm of a table has days of sampling of its own") {
  const std::string two = "Farm,Tag,Date,EPG\nHill,1,2031-05-01,450\nHill,1,2031-05-15,0\n"
                          "Dale,1,2031-05-20,300\nDale,1,2031-06-03,200\n";
  CHECK(Folded(two).animals ==
        Lines{"all animals 1: before 450, after 0; date_after 2031-05-15; date_before 2031-05-01; "
              "farm Hill",
              "all animals 1: before 300, after 200; date_after 2031-06-03; date_before "
              "2031-05-20; farm Dale"});
  // Days of two farms at one time each are no two days of one animal.
  const Folded once("Farm,Tag,Date,EPG\nHill,1,2031-05-01,450\nDale,1,2031-05-15,0\n");
  CHECK(once.animals.size() == 2);
  CHECK(once.sheet.time_is_open);
}

TEST_CASE("An animal under one group before treatment and under another after is refused") {
  CHECK(refusal("Tag,Mob,Sample,EPG\n1,W,Pre,450\n2,B,Pre,300\n1,B,Post,0\n2,B,Post,300\n") ==
        "t.csv:4: column 1 (Tag): found \"1\" under \"B\", and under \"W\" on line 2; expected the "
        "same group in all rows of an animal; of two animals, names that differ");
}

TEST_CASE("What two rows of an animal contradict each other in is refused, with both places") {
  const std::string head = "Tag,Mob,Host,Class,Sample,EPG\n1,W,sheep,BZ,Pre,450\n";
  CHECK(refusal(head + "1,W,goats,BZ,Post,0\n") ==
        "t.csv:3: column 3 (Host): found \"goats\" for \"1\", and \"sheep\" on line 2; expected "
        "the same host in all rows of an animal");
  CHECK(refusal(head + "1,W,sheep,ML,Post,0\n") ==
        "t.csv:3: column 4 (Class): found \"ML\" for \"1\", and \"BZ\" on line 2; expected the "
        "same class in all rows of an animal");
}

TEST_CASE("The weight at the earlier sample counts, whichever row comes first") {
  const Folded folded("Tag,Mob,Sample,Weight,EPG\n1,W,Post,44,0\n1,W,Pre,40,450\n");
  CHECK(folded.animals == Lines{"W 1: before 450, after 0; weight_kg 40"});
  CHECK(folded.tells("t.csv: 1 animal with two weights: that of the earlier sample counts"));
}

TEST_CASE("A sheet of one time keeps open which that is") {
  const Folded folded("Tag,Mob,Date,EPG\n1,W,2031-05-03,450\n2,W,2031-05-03,300\n");
  CHECK(folded.sheet.time_is_open);
  CHECK(folded.animals[0] == "W 1: before 450; date_before 2031-05-03");
}
