#include "intake/join_sheets.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;
using support::Lines;

namespace {

using Texts = std::vector<std::pair<std::string, std::string>>;

/// Sheets by the names of their files, joined.
struct Joined {
  std::vector<JoinedAnimals> trials;
  Lines animals; ///< "W 101: 450 to 0"
  Lines told;

  explicit Joined(const Texts& texts, const Layout& layout = {}) {
    Problems problems;
    ReadingLog log;
    std::vector<NamedSheet> sheets;
    std::vector<std::unique_ptr<support::ReadText>> read;
    for (const auto& [name, text] : texts) {
      read.push_back(std::make_unique<support::ReadText>(text, layout));
      read.back()->reading.sheet = &named(*read.back(), name);
      ReadingLog of_sheet;
      sheets.push_back(
          {name, name,
           animals_of(read.back()->reading, layout, DateOrder::day_first, problems, of_sheet)});
    }
    trials = joined_sheets(std::move(sheets), layout, DateOrder::day_first, problems, log);
    problems.throw_if_any();
    told = texts_of(log.told());
    for (const JoinedAnimals& trial : trials)
      for (const RawAnimal& animal : trial.animals)
        animals.push_back(animal.group + ' ' + animal.tag.text + ": " +
                          text_of(animal, Occasion::before) + " to " +
                          text_of(animal, Occasion::after));
  }

private:
  static const RawSheet& named(support::ReadText& read, const std::string& name) {
    read.book.sheets[0].source = Source(name + ".csv");
    return read.book.sheets[0];
  }

  static std::string text_of(const RawAnimal& animal, Occasion occasion) {
    const auto found = animal.counts.find({{occasion, 0}, {}, 0});
    return found == animal.counts.end() || found->second.cell.text.empty()
               ? "-"
               : found->second.cell.text;
  }
};

std::string refusal(const Texts& texts, const Layout& layout = {}) {
  return support::input_error([&] { Joined joined(texts, layout); });
}

const std::string before = "Tag,Mob,EPG\n101,W,450\n102,W,300\n103,B,350\n";
const std::string after = "Tag,EPG\n103,400\n101,0\n102,50\n";

} // namespace

TEST_CASE("Two sheets are joined by the names of animals, never by the order of rows") {
  const Joined joined({{"lambs before", before}, {"lambs after", after}});
  CHECK(joined.animals == Lines{"W 101: 450 to 0", "W 102: 300 to 50", "B 103: 350 to 400"});
  REQUIRE(joined.trials.size() == 1);
  CHECK(joined.trials[0].name == "lambs");
  CHECK(joined.told ==
        Lines{"lambs before.csv: counts before treatment (its name or a title says "
              "so)",
              "lambs after.csv: counts after treatment (its name or a title says so)",
              "lambs before.csv and lambs after.csv: joined by the names of 3 animals"});
}

TEST_CASE("The order in which sheets are given does not say which is before") {
  const Joined joined({{"post", after}, {"pre", before}});
  CHECK(joined.animals == Lines{"W 101: 450 to 0", "W 102: 300 to 50", "B 103: 350 to 400"});
  CHECK_THROWS_AS(Joined({{"a", before}, {"b", after}}), OpenQuestion);
  CHECK(refusal({{"a", before}, {"b", after}}) ==
        "b.csv: found two sheets of counts, \"a\", \"b\", and nothing that tells which of them is "
        "before treatment and which after; expected an answer: the setting occasions before,after "
        "(in the order given), or the setting occasions after,before");
  const Joined said({{"a", after}, {"b", before}},
                    support::layout_of({{"occasions", "after"}, {"occasions", "before"}}));
  CHECK(said.animals[0] == "W 101: 450 to 0");
}

TEST_CASE("One sheet whose time is told settles the other, and the heads go before names") {
  const Joined joined({{"lab 1", before}, {"after", after}});
  CHECK(joined.told[1] == "lab 1.csv: counts before treatment (as the other sheet is not)");
  const Joined by_heads(
      {{"before", "Tag,Mob,EPG post\n101,W,0\n"}, {"after", "Tag,EPG pre\n101,450\n"}});
  CHECK(by_heads.animals == Lines{"W 101: 450 to 0"});
}

TEST_CASE("Dates tell which sheet is before") {
  const Joined joined(
      {{"a", "Tag,Mob,Date,EPG\n101,W,17/5/2031,0\n"}, {"b", "Tag,Date,EPG\n101,3/5/2031,450\n"}});
  CHECK(joined.animals == Lines{"W 101: 450 to 0"});
  CHECK(joined.trials[0].animals[0].attributes.at("date_before").text == "3/5/2031");
  CHECK(joined.trials[0].animals[0].attributes.at("date_after").text == "17/5/2031");
  CHECK(joined.told[0] == "a.csv: counts after treatment (by its dates)");
}

TEST_CASE("A name that says both times says neither") {
  CHECK_THROWS_AS(Joined({{"before drench, after shearing", before}, {"b", after}}), OpenQuestion);
}

TEST_CASE("Two sheets of one time are asked about, not joined") {
  CHECK_THROWS_AS(Joined({{"after 1", before}, {"after 2", after}}), OpenQuestion);
}

TEST_CASE("More than two sheets of one time are asked about") {
  CHECK(refusal({{"a", before}, {"b", after}, {"c", after}}) ==
        "c.csv: found 3 sheets with counts of one time each, \"a\", \"b\", \"c\"; expected an "
        "answer: the setting sheet a,b (the two of one trial, or others of them)");
}

TEST_CASE("Who is in one sheet alone is told, and without a group left out") {
  const Joined joined({{"before", before}, {"after", "Tag,EPG\n101,0\n104,250\n"}});
  CHECK(joined.animals == Lines{"W 101: 450 to 0", "W 102: 300 to -", "B 103: 350 to -"});
  CHECK(joined.told.back() ==
        "before.csv and after.csv: joined by the names of 1 animals; in the first alone: \"102\", "
        "\"103\"; in the second alone: \"104\" (those without a group are left out)");
  const Joined with_groups({{"before", before}, {"after", "Tag,Mob,EPG\n101,W,0\n104,W,250\n"}});
  CHECK(with_groups.animals.back() == "W 104: - to 250");
}

TEST_CASE("An animal whose group differs between two sheets is refused, not made into two") {
  const std::string with_groups = "Tag,Mob,EPG\n101,W,0\n102,W,0\n103,W,250\n";
  CHECK(refusal({{"before", before}, {"after", with_groups}}) ==
        "after.csv:4: column 1 (Tag): found \"103\" of \"W\", which is of \"B\" on line 4 of "
        "before.csv; expected the same group in all rows of an animal; of two animals, names that "
        "differ");
  // A number that each group has is a name within its group.
  const std::string numbers = "Tag,Mob,EPG\n1,W,450\n2,W,300\n1,B,350\n2,B,400\n3,B,400\n";
  const Joined joined({{"before", numbers}, {"after", "Tag,Mob,EPG\n1,W,0\n2,W,0\n1,B,50\n"}});
  CHECK(joined.animals.size() == 5);
}

TEST_CASE("An animal twice in the sheet of after is refused") {
  CHECK(refusal({{"before", before}, {"after", "Tag,EPG\n101,250\n101,0\n"}}) ==
        "after.csv:3: column 1 (Tag): found \"101\" again; expected each animal once in a sheet of "
        "one time");
}

TEST_CASE("An animal of two groups needs its group in both sheets") {
  const std::string twice = "Tag,Mob,EPG\n101,W,450\n101,B,300\n";
  CHECK(refusal({{"before", twice}, {"after", "Tag,EPG\n101,0\n"}}) ==
        "after.csv:2: column 1 (Tag): found \"101\"; expected a name that one animal alone has in "
        "before.csv (several groups have it: give the group here too)");
  CHECK(Joined({{"before", twice}, {"after", "Tag,Mob,EPG\n101,B,300\n101,w,0\n"}}).animals ==
        Lines{"W 101: 450 to 0", "B 101: 300 to 300"});
}

TEST_CASE("A tag that stands twice in the first sheet is told by its lines") {
  const std::string twice = "Tag,EPG\n100,450\n101,300\n100,350\n";
  CHECK(refusal({{"before", twice}, {"after", "Tag,EPG\n100,0\n"}}) ==
        "after.csv:2: column 1 (Tag): found \"100\"; expected a name that one animal alone has in "
        "before.csv (it is on line 2 and on line 4)");
}

TEST_CASE("Animals of one tag on two farms are found each on its own, in two sheets too") {
  const std::string farms = "Tag,Farm,EPG\n1,Hill,450\n2,Hill,300\n1,Dale,350\n";
  CHECK(Joined({{"before", farms}, {"after", "Tag,Farm,EPG\n1,dale,340\n1,Hill,0\n"}}).animals ==
        Lines{"all animals 1: 450 to 0", "all animals 2: 300 to -", "all animals 1: 350 to 340"});
  CHECK(refusal({{"before", farms}, {"after", "Tag,EPG\n1,0\n"}}) ==
        "after.csv:2: column 1 (Tag): found \"1\"; expected a name that one animal alone has in "
        "before.csv (animals of several farms have it: give the farm here too)");
  // An empty cell agrees with anything.
  CHECK(Joined({{"before", farms}, {"after", "Tag,EPG\n2,50\n"}}).animals[1] ==
        "all animals 2: 300 to 50");
}

TEST_CASE("Sheets of two years are not joined") {
  CHECK(
      refusal({{"before", "Tag,Year,EPG\n1,2030,450\n"}, {"after", "Tag,Year,EPG\n1,2031,0\n"}}) ==
      "after.csv:2: column 2 (Year): found \"2031\" for \"1\", and \"2030\" on line 2 of "
      "before.csv; expected the same year in all rows of an animal; of two animals, names that "
      "differ");
}

TEST_CASE("No drench in the sheet before treatment and one in the sheet after is that drench") {
  const Joined joined({{"before", "Tag,Mob,Drench,EPG\n1,W,none,450\n2,C,none,300\n"},
                       {"after", "Tag,Mob,Drench,EPG\n1,W,ivermectin,400\n2,C,none,300\n"}});
  CHECK(joined.trials[0].animals[0].attributes.at("drench").text == "ivermectin");
  CHECK(joined.trials[0].animals[1].attributes.at("drench").text == "none");
  CHECK(joined.told.back() ==
        "before.csv: a drench that is named at one time and none at the other is the animal's, 1 "
        "time: \"ivermectin\" for \"1\"");
}

TEST_CASE("A control in one sheet that is treated in the other is refused") {
  CHECK(
      refusal({{"before", "Tag,Mob,Status,EPG\n101,W,control,450\n102,B,treated,450\n"},
               {"after", "Tag,Mob,Status,EPG\n101,W,treated,0\n102,B,Treated,50\n"}}) ==
      "after.csv:2: column 3 (Status): found \"treated\" for \"101\", and \"control\" on line 2 of "
      "before.csv; expected the same role in all rows of an animal");
  CHECK(refusal({{"before", "Tag,Mob,Drench,EPG\n101,W,white,450\n102,B,blue,450\n"},
                 {"after", "Tag,Mob,Drench,EPG\n101,W,White,0\n102,B,white,50\n"}}) ==
        "after.csv:3: column 3 (Drench): found \"white\" for \"102\", and \"blue\" on line 3 of "
        "before.csv; expected the same drench in all rows of an animal");
}

TEST_CASE("Groups that two sheets call otherwise are told to be why no animal is in both") {
  CHECK(
      refusal({{"before", before}, {"after", "Tag,Status,EPG\n101,treated,0\n103,control,50\n"}}) ==
      "after.csv: found no animal that is in before.csv too (here \"101\" of \"treated\", there "
      "\"101\" of \"W\"); expected the same names of animals and of their groups before and after");
}

TEST_CASE("Sheets without an animal in common, or without names, are not joined") {
  CHECK(refusal({{"before", before}, {"after", "Tag,EPG\n901,0\n"}}) ==
        "after.csv: found no animal that is in before.csv too (here \"901\", there \"101\"); "
        "expected the same names of animals before and after");
  CHECK(refusal({{"before", "Mob,EPG\nW,450\n"}, {"after", "Mob,EPG\nW,0\n"}}) ==
        "before.csv: found no column that names animals (rows of two sheets are never paired by "
        "their order); expected an answer: the setting column animal=THEIRS (the head of the "
        "column that names them)");
}

TEST_CASE("Sheets of both times stand for themselves, and half of a trial is left for refusal") {
  const Joined whole({{"a", "Tag,Mob,EPG pre,EPG post\n1,W,450,0\n"},
                      {"b", "Tag,Mob,EPG pre,EPG post\n1,W,300,50\n"}});
  CHECK(whole.trials.size() == 2);
  CHECK(whole.animals == Lines{"W 1: 450 to 0", "W 1: 300 to 50"});
  const Joined half({{"after", after}});
  CHECK(half.animals[0] == "all animals 103: - to 400");
}

TEST_CASE("A title that both sheets have tells neither of them before or after") {
  const std::string title = "Drench check\n";
  CHECK_THROWS_AS(Joined({{"one", title + before}, {"two", title + after}}), OpenQuestion);
  const Joined named({{"lambs pre", title + before}, {"lambs post", title + after}});
  CHECK(named.animals == Lines{"W 101: 450 to 0", "W 102: 300 to 50", "B 103: 350 to 400"});
}

TEST_CASE("Dates tell two sheets apart, and names against them are asked about") {
  const std::string early = "Tag,Mob,EPG,Date\n101,W,450,2031-05-03\n102,W,300,2031-05-03\n";
  const std::string late = "Tag,EPG,Date\n101,0,2031-05-17\n102,50,2031-05-17\n";
  const Lines expected{"W 101: 450 to 0", "W 102: 300 to 50"};
  CHECK(Joined({{"one", early}, {"two", late}}).animals == expected);
  CHECK_THROWS_AS(Joined({{"post", early}, {"pre", late}}), OpenQuestion);
  CHECK_THROWS_AS(Joined({{"post", early}, {"two", late}}), OpenQuestion);
}

TEST_CASE("A name common to two sheets ends where a word does") {
  const auto name = [](const std::string& first, const std::string& second) {
    Layout layout;
    layout.occasions = {Occasion::before, Occasion::after};
    return Joined({{first, before}, {second, after}}, layout).trials.at(0).name;
  };
  CHECK(name("lambs_pre", "lambs_post") == "lambs");
  CHECK(name("lambs one", "lambs other") == "lambs");
  CHECK(name("lambs1", "lambs2") == "lambs");
  CHECK(name("lambsBefore", "lambsAfter") == "lambs");
  CHECK(name("before", "belated") == "before");
}

TEST_CASE("Blanks and hyphens in an animal's name are left out, but for those between numbers") {
  const Joined joined({{"before", "Tag,Mob,EPG\nA 10,W,300\nB-7,W,450\n1-12,W,200\n"},
                       {"after", "Tag,EPG\nA10,300\nB7,400\n112,0\n"}});
  CHECK(std::ranges::find(joined.animals, "W A 10: 300 to 300") != joined.animals.end());
  CHECK(std::ranges::find(joined.animals, "W B-7: 450 to 400") != joined.animals.end());
  CHECK(std::ranges::find(joined.animals, "W 1-12: 200 to -") != joined.animals.end());
}

namespace {

/// The days after treatment, and the dates, of the first animal that is in both sheets.
std::string days_of(const Texts& texts, const Layout& layout = {}) {
  const Joined joined(texts, layout);
  const RawAnimal& animal = joined.trials.at(0).animals.at(0);
  std::string out;
  for (const auto& [key, count] : animal.counts)
    out += (out.empty() ? "" : " ") + to_string(key.time);
  for (const auto& [name, cell] : animal.attributes)
    if (name.starts_with("date_"))
      out += " " + name + " " + cell.text;
  return out;
}

const std::string one = "Tag,EPG\n101,450\n102,300\n";
const std::string other = "Tag,EPG\n101,0\n102,50\n";

} // namespace

TEST_CASE("The day after treatment in the names of sheets is kept") {
  CHECK(days_of({{"Day 0", one}, {"Day 3", other}}) == "before day:3");
  CHECK(days_of({{"day3", other}, {"day0", one}}) == "before day:3");
  CHECK(days_of({{"before", one}, {"72 h after", other}}) == "before day:3");
  CHECK(days_of({{"Day 0", one}, {"Day 14", other}}) == "before day:14");
  CHECK(days_of({{"lot 2d before", one}, {"lot 2d after", other}}) == "before after");
  CHECK(days_of({{"before", one}, {"after", "Day 3 after treatment\n" + other}}) == "before day:3");
  CHECK(days_of({{"Day 0", one}, {"Day 3", "Tag,Date,EPG\n101,2031-05-16,0\n"}}) ==
        "before after date_after 2031-05-16");
  const Layout said = support::layout_of({{"occasions", "before"}, {"occasions", "after"}});
  CHECK(days_of({{"Day 0", one}, {"Day 3", other}}, said) == "before day:3");
  CHECK(days_of({{"a", "Tag,EPG day 0\n101,450\n"}, {"b", "Tag,EPG day 3\n101,0\n"}}, said) ==
        "before day:3");
  CHECK_THAT(refusal({{"T0", one}, {"T3", other}}),
             Catch::Contains("whether it is of days or of weeks"));
  CHECK_THAT(refusal({{"before", one}, {"Day 3", "Week 1\n" + other}}),
             Catch::Contains("one day of the samples"));
}

TEST_CASE("A date in a title above the counts of one time is that of its samples") {
  CHECK(days_of(
            {{"before", "Sampled 13/5/2031\n" + one}, {"after", "Sampled 16/5/2031\n" + other}}) ==
        "before after date_after 2031-05-16 date_before 2031-05-13");
  // Then it tells which of them is before, too.
  CHECK(days_of({{"b", "Sampled 16/5/2031\n" + other}, {"a", "Sampled 13/5/2031\n" + one}}) ==
        "before after date_after 2031-05-16 date_before 2031-05-13");
  CHECK(days_of({{"2031-05-16", other}, {"2031-05-13", one}}) ==
        "before after date_after 2031-05-16 date_before 2031-05-13");
  // Of both sheets, or of something else, it dates no samples.
  CHECK(days_of({{"before", "Sampled 13/5/2031\n" + one},
                 {"after", "Sampled 13/5/2031\n" + other}}) == "before after");
  CHECK(days_of({{"before", "Report of 20/5/2031\n" + one},
                 {"after", "Report of 27/5/2031\n" + other}}) == "before after");
  const Joined told({{"before", one}, {"after", "Report of 27/5/2031\n" + other}});
  CHECK(std::ranges::any_of(told.told, [](const std::string& line) {
    return line.find("is not taken for the day of its samples") != std::string::npos;
  }));
  CHECK_THAT(
      refusal({{"before", "Sampled 3/5/2031\n" + one}, {"after", "Sampled 5/6/2031\n" + other}}),
      Catch::Contains("none tells day from month"));
}

TEST_CASE("Dates of sheets without a year are refused where the days between them matter") {
  CHECK_THAT(refusal({{"before", "Sampled 13 May\n" + one}, {"after", "Sampled 16 May\n" + other}}),
             Catch::Contains("dates without a year, 3 days apart"));
  CHECK(days_of({{"before", "Sampled 3 May\n" + one}, {"after", "Sampled 17 May\n" + other}}) ==
        "before after");
  const Layout said = support::layout_of({{"occasions", "before"}, {"occasions", "after"}});
  CHECK_THAT(refusal({{"a", "Tag,EPG 13 May\n101,450\n"}, {"b", "Tag,EPG 16 May\n101,0\n"}}, said),
             Catch::Contains("dates without a year, 3 days apart"));
  CHECK(days_of({{"a", "Tag,EPG 13/5/2031\n101,450\n"}, {"b", "Tag,EPG 16/5/2031\n101,0\n"}}) ==
        "before after date_after 16/5/2031 date_before 13/5/2031");
}
