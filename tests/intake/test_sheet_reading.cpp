#include "intake/sheet_reading.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::Lines;
using support::ReadText;

namespace {

/// "animal group epg_before": what the columns are taken for, "-" for one that is not used.
std::string columns_of(const SheetReading& reading) {
  std::string out;
  for (const ColumnReading& column : reading.columns)
    out += (out.empty() ? "" : " ") +
           (column.kind == ColumnReading::Kind::unused
                ? std::string("-")
                : our_name(column, column.time.occasion
                                       ? std::optional(SampleTime{*column.time.occasion, 0})
                                       : std::nullopt));
  return out;
}

std::string columns_of(const std::string& text) {
  return columns_of(ReadText(text).reading);
}

/// The lines that are told; and how many rows are samples.
struct Passed {
  Lines told;
  std::size_t rows;

  explicit Passed(const std::string& text) {
    const ReadText read(text);
    told = texts_of(read.log.told());
    rows = read.reading.rows.size();
  }
};

std::string refusal(const std::string& text) {
  return support::input_error([&] {
    const ReadText read(text);
    read.problems.throw_if_any();
  });
}

constexpr const char* unlabelled =
    "t.csv: passed over, as sums or means without a word that says so: ";

} // namespace

TEST_CASE("The header is found below titles, which are kept for what they say") {
  const ReadText read("Egg counts of lambs\n\n\"Results in EPG, in October\"\nTag,Mob,Pre,Post\n"
                      "101,W,450,0\n");
  CHECK(read.reading.header_line == 4);
  CHECK(read.reading.around == Lines{"Egg counts of lambs", "Results in EPG, in October"});
  CHECK(columns_of(read.reading) == "animal group count_before count_after");
  CHECK(read.reading.rows.size() == 1);
  CHECK(texts_of(read.log.all()) ==
        Lines{"t.csv: passed over, as titles: line 1 (\"Egg counts of lambs\"), "
              "line 3 (\"Results in EPG, in October\")"});
  CHECK(read.log.told().empty()); // a title changes nothing
}

TEST_CASE("A sheet without a column of counts is none") {
  Problems problems;
  ReadingLog log;
  const RawBook book = read_raw("Tag,Weight\n101,40\n", "t.csv");
  CHECK_FALSE(read_sheet_columns(book.sheets[0], {}, problems, log));
}

TEST_CASE("Two rows of heads are read together") {
  const ReadText read(",White,,Control,\nTag,Pre,Post,Pre,Post\n101,450,0,450,500\n");
  CHECK(columns_of(read.reading) == "animal count_before count_after count_before count_after");
  CHECK(read.reading.columns[1].label == "White");
  CHECK(read.reading.columns[2].label == "White");
  CHECK(read.reading.columns[3].head == "Control Pre");
}

TEST_CASE("Sums and means are no samples, with a word that says so") {
  const Passed passed("Tag,EPG pre,EPG post\n101,450,0\nMean,450,0\n,Total,\nSD,0,0\n");
  CHECK(passed.rows == 1);
  CHECK(passed.told == Lines{"t.csv: passed over, as sums and means: line 3 (\"Mean\"), line 4 "
                             "(\"Total\"), line 5 (\"SD\")"});
}

TEST_CASE("A row without an animal whose numbers are sums of those above it is no sample") {
  const Passed sums("Tag,EPG pre,EPG post\n101,450,0\n102,300,50\n103,350,100\n,1100,150\n");
  CHECK(sums.rows == 3);
  CHECK(sums.told == Lines{unlabelled + std::string("line 5 (\"1100\")")});
  const Passed thousands("Tag;EPG pre;EPG post\n101;450;0\n102;1.300;50\n;1.750;50\n");
  CHECK(thousands.rows == 2);
}

TEST_CASE("A row without an animal whose numbers are means of those above it is no sample") {
  const Passed means("Tag,EPG pre,EPG post\n101,450,0\n102,300,50\n103,350,0\n,366.7,17\n");
  CHECK(means.rows == 3);
  CHECK(means.told == Lines{unlabelled + std::string("line 5 (\"366.7\")")});
  const Passed with_reduction(
      "Tag,EPG pre,EPG post,Reduction\n101,450,0,100\n102,300,50,83\n,375,25,93\n");
  CHECK(with_reduction.rows == 2);
}

TEST_CASE("Sums stand below each group and below all of them") {
  const Passed passed("Tag,Group,EPG pre,EPG post\n"
                      "1,A,450,0\n2,A,300,50\n,,750,50\n"
                      "3,B,100,0\n4,B,50,50\n,B,150,50\n,,900,100\n,,225,25\n");
  CHECK(passed.rows == 4);
  CHECK(passed.told ==
        Lines{unlabelled +
              std::string("line 4 (\"750\"), line 7 (\"B\"), line 8 (\"900\"), line 9 (\"225\")")});
  const Passed mixed("Tag,Group,EPG pre,EPG post\n1,A,450,0\n2,B,100,0\n3,A,300,50\n4,B,50,50\n"
                     ",A,375,25\n,B,75,25\n");
  CHECK(mixed.rows == 4);
}

TEST_CASE("A row without an animal whose numbers are no sums is kept, to be refused") {
  CHECK(Passed("Tag,EPG pre,EPG post\n101,450,0\n102,300,50\n,750,100\n").rows == 3);
  CHECK(Passed("Tag,EPG pre,EPG post\n101,450,0\n102,300,50\n,,100\n").rows == 3);
}

TEST_CASE("A sample in a row below its animal's name is no sum, even if it is the same number") {
  const Passed merged("Tag,Day,EPG\n1,0,450\n,14,450\n2,0,300\n,14,400\n");
  CHECK(merged.rows == 4);
  CHECK(merged.told.empty());
  CHECK(Passed("Tag,Sample,EPG\n1,Pre,450\n,Post,450\n").rows == 2);
  CHECK(Passed("Tag,EPG pre,EPG post\n1,450,450\n,450,450\n").rows == 2); // nothing is summed
}

TEST_CASE("An animal is an animal, even if its numbers are the sums of those above it") {
  const Passed passed("Tag,EPG pre,EPG post\n101,450,0\n102,300,50\n103,750,50\n104,375,25\n");
  CHECK(passed.rows == 4);
  CHECK(passed.told.empty());
}

TEST_CASE("Where no column names animals, four counts must make up a sum, and means are animals") {
  CHECK(Passed("EPG before,EPG after\n450,0\n300,50\n750,50\n").rows == 3);
  CHECK(Passed("EPG before,EPG after\n450,0\n300,50\n375,25\n").rows == 3);
  const Passed four("EPG before,EPG after\n450,0\n300,50\n200,0\n150,0\n1100,50\n");
  CHECK(four.rows == 4);
  CHECK(four.told == Lines{unlabelled + std::string("line 6 (\"1100\")")});
}

TEST_CASE("Sums by their word below a table without names leave its last animal one") {
  // The last row above them is looked at too, when what stands above the sums has been counted.
  const Passed passed("Mob,EPG before,EPG after\nW,450,0\nW,300,50\nW,200,0\nMean,317,17\n"
                      "Total,950,50\n");
  CHECK(passed.rows == 3);
  CHECK(passed.told ==
        Lines{"t.csv: passed over, as sums and means: line 5 (\"Mean\"), line 6 (\"Total\")"});
}

TEST_CASE("The header again and notes are no samples") {
  const Passed passed("Tag,EPG pre,EPG post\n101,450,0\nTag,EPG pre,EPG post\n102,300,50\n"
                      "Counted by the second lab\nLambs,,,\n");
  CHECK(passed.rows == 2);
  CHECK(passed.told == Lines{"t.csv: passed over, as the header again: line 3 (\"Tag\")",
                             "t.csv: passed over, as notes: line 5 (\"Counted by the second "
                             "lab\"), line 6 (\"Lambs\")"});
}

TEST_CASE("An animal that was never sampled is kept") {
  const Passed passed("Tag,Group,EPG pre,EPG post\n101,A,450,0\n102,A,,\n103,,,\n");
  CHECK(passed.rows == 3);
  CHECK(passed.told.empty());
}

TEST_CASE("Titles above rows are groups where no column names any") {
  const ReadText read("Tag,EPG before,EPG after\nWhite drench,,\n101,450,0\nMean,450,0\n"
                      "Untreated,,\n201,300,350\n");
  REQUIRE(read.reading.rows.size() == 2);
  CHECK(read.reading.rows[0].section == "White drench");
  CHECK(read.reading.rows[1].section == "Untreated");
  CHECK(texts_of(read.log.told())[0] ==
        "t.csv: titles above rows are taken for the groups below them: "
        "\"White drench\", \"Untreated\"");
  const ReadText with_groups("Tag,Group,EPG before,EPG after\nWhite drench,,,\n101,A,450,0\n");
  CHECK(with_groups.reading.rows[0].section.empty());
}

TEST_CASE("A cell too many shows that a number was split, and is refused") {
  CHECK(refusal("Tag,EPG pre,EPG post\n101,1,200,0\n") ==
        "t.csv:2: found 4 cells; expected 3, as in the header on line 1 (a decimal comma needs "
        "semicolons "
        "between cells, or quotes)");
}

TEST_CASE("What a head leaves open, its cells say") {
  CHECK(columns_of("Tag,Sample,EPG\n1,Pre,450\n1,Post,0\n") == "animal when epg");
  CHECK(columns_of("Tag,Mob,Pre,Post,EPG pre,EPG post\n1,A,3/5/2031,17/5/2031,450,0\n") ==
        "animal group date_before date_after epg_before epg_after");
  CHECK(columns_of("Tag,Treated,EPG pre,EPG post\n1,control,450,0\n2,treated,300,0\n") ==
        "animal role epg_before epg_after");
  CHECK(columns_of("Tag,Treated,EPG pre,EPG post\n1,3/5/2031,450,0\n") ==
        "animal date_treated epg_before epg_after");
  CHECK(columns_of("Tag,Paint,EPG pre,EPG post\n1,control,450,0\n2,drug,300,0\n") ==
        "animal role epg_before epg_after");
}

TEST_CASE("Groups that are called by their roles are told to be") {
  const ReadText read("Tag,Group,EPG pre,EPG post\n1,Control,450,400\n2,Treated,300,0\n");
  CHECK(texts_of(read.log.told()) ==
        Lines{"t.csv: the groups of \"Group\" are called by their roles, treated and untreated"});
  CHECK(read.reading.attribute("group")->index == 1);
  CHECK(read.reading.attribute("role")->index == 1);
}

TEST_CASE("A column that is almost the role is not passed over") {
  CHECK(refusal("Tag,Group,Rule,EPG pre,EPG post\n1,A,x,450,0\n") ==
        "t.csv:1: column 3 (Rule): found \"Rule\"; expected role, if that is meant, or a name less "
        "like it");
}

TEST_CASE("Of two columns that name animals one is read, or their owner is asked") {
  CHECK(columns_of("No,Ear tag,EPG pre,EPG post\n1,101,450,0\n2,102,300,0\n3,110,300,0\n") ==
        "- animal epg_before epg_after");
  CHECK(columns_of("Ear tag,EID,EPG pre,EPG post\n101,9001,450,0\n102,9002,300,0\n") ==
        "animal - epg_before epg_after");
  CHECK(columns_of("Ear tag,EID,EPG pre,EPG post\n101,,450,0\n102,,300,0\n") ==
        "animal - epg_before epg_after");
  CHECK(refusal("Ear tag,EID,EPG pre,EPG post\n101,9001,450,0\n101,9002,300,0\n") ==
        "t.csv:1: column 2 (EID): found 2 columns that could be the animal; expected an answer: "
        "the setting column \"animal=Ear tag\", or the setting column animal=EID");
}

TEST_CASE("Of two columns of groups their owner is asked, if they part the animals otherwise") {
  CHECK_THROWS_AS(columns_of("Tag,Mob,Pen,EPG pre,EPG post\n1,A,1,450,0\n2,A,2,300,0\n"),
                  OpenQuestion);
  CHECK(columns_of("Tag,Mob,Pen,EPG pre,EPG post\n1,A,1,450,0\n2,B,2,300,0\n") ==
        "animal group - epg_before epg_after");
}

TEST_CASE("Counts that the owner names go before others of their time") {
  const ReadText read("Tag,EPG pre,FEC pre,EPG post\n1,450,9,0\n",
                      support::layout_of({{"column", "eggs_before=FEC pre"}}));
  REQUIRE(read.reading.counts().size() == 2);
  CHECK(read.reading.counts()[0]->head == "FEC pre");
  CHECK(read.reading.counts()[1]->head == "EPG post");
  CHECK(read.reading.when() == nullptr);
  CHECK(read.reading.attribute("group") == nullptr);
}

TEST_CASE("What numbers pools names samples, and says nothing of how many animals are in them") {
  for (const std::string head : {"Pool no", "Pool nr", "Pool number", "Pool id", "Composite no"}) {
    INFO(head);
    const ReadText read(head + ",Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n3,W,300,0\n");
    CHECK(columns_of(read.reading) == "animal group epg_before epg_after");
    CHECK(texts_of(read.log.told()) ==
          Lines{"t.csv: \"" + head +
                "\" is taken for the names of samples: nothing says how many animals are in each "
                "pool (a column animals_in_pool would)"});
  }
  CHECK(columns_of("Pool size,Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n3,W,300,0\n") ==
        "animals_in_pool group epg_before epg_after");
  CHECK(columns_of("No in pool,Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n3,W,300,0\n") ==
        "animals_in_pool group epg_before epg_after");
}

TEST_CASE("A column Pool that counts up is asked about") {
  for (const std::string head : {"Pool", "Pools", "Composite"})
    CHECK(refusal(head + ",Mob,EPG pre,EPG post\n1,W,450,0\n2,W,300,50\n3,W,300,0\n1,B,300,0\n") ==
          "t.csv:1: column 1 (" + head +
              "): found 1, 2, 3 and so on, which may number the pools or say how many animals are "
              "in each; expected an answer: the setting column animal=" +
              head + " (the names of the pools), or the setting column animals_in_pool=" + head +
              " (how many animals are in each)");
  CHECK(columns_of("Pool,Mob,EPG pre,EPG post\n10,W,450,0\n10,W,300,50\n8,W,300,0\n") ==
        "animals_in_pool group epg_before epg_after");
}

namespace {

/// Five animals, and a row called so.
Passed five_and(const std::string& name, const std::string& counts) {
  return Passed("Tag,Mob,EPG pre,EPG post\n1,W,400,50\n2,W,450,0\n3,W,450,0\n4,W,300,100\n"
                "5,W,350,100\n" +
                name + ",W," + counts + "\n");
}

} // namespace

TEST_CASE("A sum or a mean under a longer name is passed over where its numbers agree") {
  for (const std::string name : {"Total for mob", "Mob total", "Mob total of 12",
                                 "Total for white drench", "Sum all", "Totaal", "Whole mob"}) {
    INFO(name);
    const Passed passed = five_and(name, "1950,250");
    CHECK(passed.rows == 5);
    CHECK(passed.told.size() == 1);
  }
  for (const std::string name : {"Mean of mob", "Group mean 12 head", "Mean \xC2\xB1 SE", "Ave FEC",
                                 "avge", "Std. dev", "x\xCC\x84", "Moyenne lot A", "Promedio grupo",
                                 "M\xC3\xA9"
                                 "dia do lote",
                                 "Gemiddelde", "Group of white"}) {
    INFO(name);
    CHECK(five_and(name, "390,50").rows == 5);
  }
  // By its numbers alone a row with a tag like the others is a sum where two columns, or many
  // rows, say so; and a mean never.
  CHECK(five_and("A6", "1950,250").rows == 6); // a tag like the others: an animal, by any numbers
  CHECK(five_and("A6", "1950,").rows == 6);
  CHECK(five_and("A6", "390,50").rows == 6);
  CHECK(five_and("Summer", "400,50").rows == 6);
  CHECK(five_and("Bess", "1900,250").rows == 6);
  // "SD 6" may be a tag: its numbers decide.
  CHECK(five_and("SD 6", "400,50").rows == 6);
  CHECK(Passed("Tag,Mob,EPG pre,EPG post\nSD 1,W,400,50\nSD 2,W,400,50\nSD 3,W,400,50\n").rows ==
        3);
  CHECK(five_and("Ave. 5 head", "390,50").rows == 5);
}

TEST_CASE("A sum of a group alone, and of what stands below the sums before, is one") {
  const Passed passed("Tag,Mob,EPG pre,EPG post\n1,W,400,50\n2,W,450,0\nTotal for W,,850,50\n"
                      "3,B,450,0\n4,B,300,100\nTotal for B,,750,100\nMean for all,,400,37.5\n");
  CHECK(passed.rows == 4);
  CHECK(Passed("Tag,Mob,EPG pre,EPG post\n1,W,400,50\nTotal for W,,400,50\n2,B,450,0\n").rows == 2);
}

TEST_CASE("A row called as sums are, of other numbers, is refused") {
  CHECK(refusal("Tag,Mob,EPG pre,EPG post\n1,W,400,50\n2,W,450,0\nMob total of 12,W,4000,50\n") ==
        "t.csv:4: column 1 (Tag): found \"Mob total of 12\", which reads as a sum or a mean, and "
        "counts that are neither of the rows above it; expected a word such as Total or Mean alone "
        "in this cell, if the row sums others up; or the name of an animal without such a word");
}

TEST_CASE("A word for sums beside an animal takes that animal away by its numbers or place alone") {
  const auto refusal = [](const std::string& text) {
    return support::input_error([&] {
      const ReadText read(text);
      read.problems.throw_if_any();
    });
  };
  // A sex, a region and a condition in a column that nothing needs.
  const std::string animals = "F,1,300,0\nF,2,450,0\nN,3,1200,900\nN,4,600,550\n";
  CHECK(Passed("Sex,Tag,Before,After\n" + animals).rows == 4);
  CHECK(Passed("Region,Tag,Before,After\nNW,1,300,0\nNW,2,450,0\nSE,3,1200,900\n").rows == 3);
  CHECK(Passed("Condition,Tag,Before,After\ngood,1,300,0\naverage,2,450,0\naverage,3,1200,900\n")
            .rows == 3);
  // A group that is called so.
  CHECK(Passed("Mob,Tag,Before,After\nN,1,300,0\nN,2,450,50\nSE,3,1200,900\nSE,4,600,50\n").rows ==
        4);
  // The word alone, beside no animal.
  CHECK(Passed("Sex,Tag,Before,After\n" + animals + "Mean,,637.5,362.5\nN,,4,4\n").rows == 4);
  // The number of animals in their place: numbers that agree, and what stands below them.
  const Passed sums("Mob,Tag,Before,After\n" + animals + "Mean,4,637.5,362.5\nSD,4,395.8,446.0\n");
  CHECK(sums.rows == 4);
  CHECK(sums.told ==
        Lines{"t.csv: passed over, as sums and means: line 6 (\"Mean\"), line 7 (\"SD\")"});
  // A word that no animal's kind is called by, and numbers of no rows above.
  CHECK(refusal("Mob,Tag,Before,After\n" + animals + "Geometric mean,4,555,20\n") ==
        "t.csv:6: column 1 (Mob): found \"Geometric mean\" beside the animal \"4\", which reads as "
        "a sum or a mean of the rows above it, or as an animal of that name or kind; expected an "
        "empty cell for the animal, if the row sums others up; or another word here");
  // Another whose numbers happen to be the mean of a row above.
  CHECK(refusal("Sex,Tag,Before,After\nF,1,300,0\nN,2,300,0\n").find("\"N\" beside the animal") !=
        std::string::npos);
}

TEST_CASE("Animals named twice in a row, before and after, are never paired by the rows' order") {
  const auto refusal = [](const std::string& text) {
    return support::input_error([&] {
      const ReadText read(text);
      read.problems.throw_if_any();
    });
  };
  CHECK(refusal("Tag,Mob,EPG before,,Tag,EPG after\n101,W,300,,102,0\n102,W,450,,101,400\n") ==
        "t.csv:2: column 5 (Tag): found the animal \"102\" beside the animal \"101\" in one row; "
        "expected one animal a row; or the counts before and after in two sheets or files, each "
        "with the animals' names, which are then found by name");
  // Under other heads, and where the second list is in order, as a running number would be.
  CHECK(
      refusal("Ear tag,Mob,EPG before,Tag no,EPG after\n3,W,300,1,0\n1,W,450,2,400\n2,W,300,3,0\n")
          .find("the animal \"1\" beside the animal \"3\"") != std::string::npos);
  // The same name in each row is one; so is another kind of name.
  CHECK(columns_of("Tag,Mob,EPG before,Tag,EPG after\n101,W,300,101,0\n102,W,450,102,400\n") ==
        "animal group epg_before - epg_after");
  CHECK(columns_of("Tag,Mob,EPG before,EID,EPG after\n101,W,300,9001,0\n102,W,450,9002,400\n")
            .starts_with("animal group epg_before"));
  // Of groups side by side each has its own.
  CHECK(columns_of("Tag,White before,White after,Tag,Yellow before,Yellow after\n"
                   "101,300,0,201,450,400\n102,450,0,202,300,250\n")
            .starts_with("animal"));
}
