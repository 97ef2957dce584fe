#include "intake/group_names.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::Lines;
using support::ReadText;

namespace {

/// Of a table's rows, in their order; then what was told.
struct Named {
  Lines groups;
  Lines told;
  bool are_told = false;
  std::size_t filled_down = 0;

  explicit Named(const std::string& text, const Layout& layout = {}) {
    const ReadText read(text, layout);
    ReadingLog log;
    GroupNames names(read.reading, log);
    for (const SampleRow& row : read.reading.rows)
      groups.push_back(names.name_of(row));
    told = texts_of(log.told());
    are_told = names.are_told();
    filled_down = names.filled_down();
  }
};

} // namespace

TEST_CASE("A column of groups names them") {
  const Named named("Tag,Mob,EPG pre,EPG post\n1,A,450,0\n2,B,300,0\n");
  CHECK(named.groups == Lines{"A", "B"});
  CHECK(named.told.empty());
  CHECK(named.are_told);
}

TEST_CASE("Without one the drench does, or else the role, or titles, or all are one group") {
  CHECK(Named("Tag,Drench,EPG pre,EPG post\n1,white,450,0\n2,none,300,300\n").groups ==
        Lines{"white", "none"});
  CHECK(Named("Tag,Status,EPG pre,EPG post\n1,treated,450,0\n2,control,300,300\n").groups ==
        Lines{"treated", "control"});
  CHECK(Named("Tag,EPG before,EPG after\nWhite,,\n1,450,0\nBlue,,\n2,300,0\n").groups ==
        Lines{"White", "Blue"});
  const Named one("Tag,EPG pre,EPG post\n1,450,0\n2,300,0\n");
  CHECK(one.groups == Lines{"all animals", "all animals"});
  CHECK_FALSE(one.are_told);
}

TEST_CASE("An animal whose role is left empty is not taken for a treated one") {
  CHECK(
      Named("Tag,Status,EPG pre,EPG post\n1,treated,450,0\n2,treated,300,0\n3,,300,300\n").groups ==
      Lines{"treated", "treated", ""});
}

TEST_CASE("A mob that is the same in every row does not hide its drenches, nor its control") {
  const Named drenches("Tag,Mob,Drench,EPG pre,EPG post\n1,A,white,450,0\n2,A,blue,300,0\n");
  CHECK(drenches.groups == Lines{"white", "blue"});
  CHECK(drenches.told ==
        Lines{"t.csv: \"Mob\" is the same in every row: \"Drench\" names the groups"});
  const Named roles("Tag,Mob,Status,EPG pre,EPG post\n1,A,treated,450,0\n2,A,control,300,300\n");
  CHECK(roles.groups == Lines{"treated", "control"});
}

TEST_CASE("Two drenches in one group of several are asked about") {
  const std::string text = "Tag,Mob,Drench,EPG pre,EPG post\n1,A,white,450,0\n2,A,none,300,300\n"
                           "3,B,white,300,0\n";
  CHECK(support::input_error([&] { Named named(text); }) ==
        "t.csv:3: column 3 (Drench): found animals of one \"Mob\" with different entries under "
        "\"Drench\", so that either could name the groups; expected an answer: the setting column "
        "group=Drench (compare these), or the setting column group=Mob (each with one drench, once "
        "mended)");
  CHECK_THROWS_AS(Named(text), OpenQuestion);
  CHECK(Named(text, support::layout_of({{"column", "group=Drench"}})).groups ==
        Lines{"white", "none", "white"});
}

TEST_CASE("A group of one farm may have another drench than that of its name on the next") {
  CHECK(Named("Farm,Tag,Mob,Drench,EPG pre,EPG post\nHill,1,A,white,450,0\nHill,2,B,blue,300,300\n"
              "Dale,3,A,blue,300,0\n")
            .groups == Lines{"A", "B", "A"});
}

TEST_CASE("Merged cells name their rows, once each") {
  const Named named("Tag,Mob,EPG pre,EPG post\n1,A,450,0\n2,,300,0\n3,,300,0\n4,B,300,0\n"
                    "5,,300,0\n");
  CHECK(named.groups == Lines{"A", "A", "A", "B", "B"});
  CHECK(named.filled_down == 3);
}

TEST_CASE("A group that stands more than once is not merged: a row without one has none") {
  const Named named("Tag,Mob,EPG pre,EPG post\n1,A,450,0\n2,,300,0\n3,A,300,0\n4,B,300,0\n");
  CHECK(named.groups == Lines{"A", "", "A", "B"});
  CHECK(named.filled_down == 0);
}

TEST_CASE("Rows above the first merged name have none") {
  const Named named("Tag,Mob,EPG pre,EPG post\n1,,450,0\n2,A,300,0\n3,,300,0\n");
  CHECK(named.groups == Lines{"", "A", "A"});
}

TEST_CASE("Merged is a column of which each text stands once, with empty cells between") {
  const ReadText read("Tag,Mob,Pen,EPG pre,EPG post\n1,A,1,450,0\n2,,2,300,0\n",
                      support::layout_of({{"column", "group=Mob"}}));
  CHECK(is_merged(read.reading, read.reading.columns[1]));
  CHECK_FALSE(is_merged(read.reading, read.reading.columns[0]));
}
