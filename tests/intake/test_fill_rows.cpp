#include "intake/fill_rows.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::Lines;
using support::ReadText;

namespace {

/// The cells of one column, and what was told.
struct Filled {
  Lines cells;
  Lines told;
  std::string refused;

  Filled(const std::string& text, std::size_t column, const Layout& layout = {}) {
    const ReadText read(text, layout);
    for (const SampleRow& row : read.reading.rows)
      cells.emplace_back(row.cell(column));
    told = texts_of(read.log.told());
    if (read.problems.any())
      refused = support::input_error([&] { read.problems.throw_if_any(); });
  }
};

} // namespace

TEST_CASE("A farm at the head of its rows alone is that of the rows below it") {
  const Filled filled("Farm,Tag,EPG pre,EPG post\nHill,1,450,0\n,2,300,0\nDale,1,300,50\n,2,90,0\n",
                      0);
  CHECK(filled.cells == Lines{"Hill", "Hill", "Dale", "Dale"});
  CHECK(filled.told ==
        Lines{"t.csv: \"Farm\" is empty in 2 rows, which are taken for those of the rows above"});
}

TEST_CASE("A farm and a year at the head of rows are filled down together") {
  const std::string text = "Farm,Year,Tag,EPG pre,EPG post\nHill,2030,1,450,0\n,,2,300,0\n"
                           "Hill,2031,1,300,50\n,,2,90,0\nDale,2030,1,300,50\n,,2,90,0\n";
  CHECK(Filled(text, 0).cells == Lines{"Hill", "Hill", "Hill", "Hill", "Dale", "Dale"});
  CHECK(Filled(text, 1).cells == Lines{"2030", "2030", "2031", "2031", "2030", "2030"});
  CHECK(Filled(text, 1).told == Lines{"t.csv: \"Farm\" and \"Year\" are empty in 3 rows, which are "
                                      "taken for those of the rows above"});
  // A farm at the head of its years, which stand at the heads of theirs.
  CHECK(Filled("Farm,Year,Tag,EPG pre,EPG post\nHill,2030,1,450,0\n,,2,300,0\n,2031,1,300,50\n"
               "Dale,2030,1,300,50\n,2031,1,300,50\n",
               1)
            .cells == Lines{"2030", "2030", "2031", "2030", "2031"});
}

TEST_CASE("A farm that stands in some rows without an order is not filled down") {
  const Filled filled("Farm,Tag,EPG pre,EPG post\nHill,1,450,0\n,2,300,0\nHill,3,300,50\n", 0);
  CHECK(filled.cells == Lines{"Hill", "", "Hill"});
  CHECK(filled.told.empty());
  CHECK(support::input_error([] {
          support::understood("Farm,Tag,EPG pre,EPG post\nHill,1,450,0\n,2,300,0\nHill,3,300,50\n");
        }) ==
        "t.csv:3: farm: found nothing that says the farm of 1 animal, where other rows say it; "
        "expected it in every row, or at the head of its rows alone");
}

TEST_CASE("A farm in one of the rows of an animal is that of the others") {
  const Filled filled("Farm,Tag,Sample,EPG\nHill,1,Pre,450\nDale,2,Pre,300\nHill,3,Pre,90\n"
                      ",1,Post,0\n,2,Post,50\n,3,Post,0\n",
                      0);
  CHECK(filled.cells == Lines{"Hill", "Dale", "Hill", "Hill", "Dale", "Hill"});
  CHECK(filled.told == Lines{"t.csv: \"Farm\" is empty in 3 rows, which are taken for that of "
                             "another row of the animal"});
  // Which of two farms it is, nobody can tell.
  CHECK(Filled("Farm,Tag,Sample,EPG\nHill,1,Pre,450\nDale,1,Pre,300\nHill,2,Pre,90\n,1,Post,0\n", 0)
            .cells.back()
            .empty());
}

TEST_CASE("None before treatment and a drench after it is that drench, and no control") {
  const std::string text = "Tag,Mob,Drench,Sample,EPG\n1,W,none,Pre,450\n2,C,none,Pre,300\n"
                           "1,W,ivermectin,Post,400\n2,C,none,Post,300\n";
  const Filled filled(text, 2);
  CHECK(filled.cells == Lines{"ivermectin", "none", "ivermectin", "none"});
  CHECK(filled.told ==
        Lines{"t.csv: \"Drench\" of 1 animal is told in rows of one time alone, and taken for all "
              "of the animal's: \"ivermectin\" for \"1\", where line 2 says \"none\""});
  CHECK(support::eggs_of(support::understood(text)) ==
        Lines{"W 1: 9 to 8", "C (control) 2: 6 to 6"});
  // A drench beside the sample at which it was given, and an empty cell.
  CHECK(Filled("Tag,Drench,Day,EPG\n1,ivermectin,0,450\n1,,7,400\n1,none,14,400\n"
               "2,ivermectin,0,90\n2,,14,0\n",
               1)
            .cells == Lines{"ivermectin", "ivermectin", "ivermectin", "ivermectin", "ivermectin"});
}

TEST_CASE("None before a drench is that drench whichever column names the groups") {
  const std::string text = "Tag,Group,Drench,Sample,EPG\n1,A,none,Pre,450\n2,B,none,Pre,300\n"
                           "1,A,ivermectin,Post,400\n2,B,levamisole,Post,0\n";
  CHECK(support::eggs_of(support::understood(text)) == Lines{"A 1: 9 to 8", "B 2: 6 to 0"});
  CHECK(support::eggs_of(
            support::understood(text, support::layout_of({{"column", "group=Group"}}))) ==
        Lines{"A 1: 9 to 8", "B 2: 6 to 0"});
  CHECK(support::eggs_of(
            support::understood(text, support::layout_of({{"column", "group=Drench"}}))) ==
        Lines{"ivermectin 1: 9 to 8", "levamisole 2: 6 to 0"});
}

TEST_CASE("A tag of an untreated animal and of a drenched one is two animals") {
  const std::string text = "Tag,Drench,Sample,EPG\n1,none,Pre,450\n1,ivermectin,Pre,300\n"
                           "1,none,Post,450\n1,ivermectin,Post,0\n";
  CHECK(Filled(text, 1).cells == Lines{"none", "ivermectin", "none", "ivermectin"});
  CHECK(support::eggs_of(support::understood(text)) ==
        Lines{"none (control) 1: 9 to 9", "ivermectin 1: 6 to 0"});
  // Nor is one of them filled in, where another animal was sampled at one time alone.
  CHECK(Filled(text + "2,none,Pre,90\n2,ivermectin,Post,0\n", 1).cells[4] == "none");
}

TEST_CASE("Two drenches of one animal, or two roles, are refused") {
  CHECK(Filled("Tag,Mob,Drench,Sample,EPG\n1,W,levamisole,Pre,450\n1,W,ivermectin,Post,400\n", 2)
            .refused ==
        "t.csv:3: column 3 (Drench): found \"ivermectin\" for \"1\", and \"levamisole\" on line 2; "
        "expected one drench in all rows of an animal; of two animals, names that differ");
  CHECK(Filled("Tag,Status,Sample,EPG\n1,untreated,Pre,450\n1,treated,Post,0\n", 1).refused ==
        "t.csv:3: column 2 (Status): found \"treated\" for \"1\", and \"untreated\" on line 2; "
        "expected one role in all rows of an animal, \"treated\" too beside a sample before "
        "treatment; of two animals, names that differ");
  // The advice works, and so does a cell left empty.
  CHECK(Filled("Tag,Status,Sample,EPG\n1,treated,Pre,450\n1,treated,Post,0\n", 1).refused.empty());
  CHECK(Filled("Tag,Status,Sample,EPG\n1,,Pre,450\n2,,Pre,90\n1,treated,Post,0\n2,treated,Post,0\n",
               1)
            .cells == Lines{"treated", "treated", "treated", "treated"});
}
