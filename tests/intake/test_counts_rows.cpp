#include "intake/counts_rows.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

using Row = std::vector<std::string>;

JoinedAnimals two_animals() {
  JoinedAnimals joined;
  joined.source = "t.csv";
  joined.animals.resize(2);
  RawAnimal& one = joined.animals[0];
  one.group = "W";
  one.tag = {"101", "t.csv", 2, 1, "Tag"};
  one.counts[{{Occasion::before, 0}, {}, 0}] = {{"9", "t.csv", 2, 3, "Pre"}, CountUnit::eggs};
  one.counts[{{Occasion::after, 0}, {}, 0}] = {{"0", "t.csv", 2, 4, "Post"}, CountUnit::eggs};
  one.attributes["weight_kg"] = {"40", "t.csv", 2, 5, "Weight"};
  RawAnimal& other = joined.animals[1];
  other.group = "B";
  other.tag = {"102", "t.csv", 3, 1, "Tag"};
  other.counts[{{Occasion::before, 0}, {}, 0}] = {{"6", "t.csv", 3, 3, "Pre"}, CountUnit::eggs};
  return joined;
}

void add_worm(JoinedAnimals& joined, Occasion occasion, int repeat = 0) {
  joined.animals[0].counts[{{occasion, 0}, "nematodirus", repeat}] = {{"3", "t.csv", 2, 6, "N"},
                                                                      CountUnit::eggs};
}

} // namespace

TEST_CASE("Animals become rows of a counts table, each cell with its place in the sheet") {
  ReadingLog log;
  const Table table = counts_rows(two_animals(), log);
  CHECK(table.source.name == "t.csv");
  CHECK(table.header.cells == Row{"group", "animal", "weight_kg", "eggs_before", "eggs_after"});
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0].cells == Row{"W", "101", "40", "9", "0"});
  CHECK(table.rows[0].line == 2);
  CHECK(table.rows[0].places == std::vector<std::size_t>{0, 1, 5, 3, 4});
  // What an animal does not have is empty.
  CHECK(table.rows[1].cells == Row{"B", "102", "", "6", ""});
  CHECK(log.told().empty());
}

TEST_CASE("A cell of another line has no place in its row's") {
  JoinedAnimals joined = two_animals();
  joined.animals[0].counts.at({{Occasion::after, 0}, {}, 0}).cell.line = 9;
  ReadingLog log;
  CHECK(counts_rows(joined, log).rows[0].places == std::vector<std::size_t>{0, 1, 5, 3, 0});
}

TEST_CASE("Repeats and worms have columns of their own") {
  JoinedAnimals joined = two_animals();
  joined.animals[0].counts[{{Occasion::after, 0}, {}, 2}] = {{"1", "t.csv", 2, 7, "Post 2"},
                                                             CountUnit::eggs};
  add_worm(joined, Occasion::before);
  add_worm(joined, Occasion::after);
  ReadingLog log;
  CHECK(counts_rows(joined, log).header.cells == Row{"group", "animal", "weight_kg", "eggs_before",
                                                     "eggs_before:nematodirus", "eggs_after",
                                                     "eggs_after_2", "eggs_after:nematodirus"});
  CHECK(log.told().empty());
}

TEST_CASE("A worm that is told apart at one time alone is left out, and told") {
  for (const Occasion occasion : all_occasions) {
    JoinedAnimals joined = two_animals();
    add_worm(joined, occasion);
    ReadingLog log;
    CHECK(counts_rows(joined, log).header.cells ==
          Row{"group", "animal", "weight_kg", "eggs_before", "eggs_after"});
    CHECK(texts_of(log.told()) ==
          std::vector<std::string>{"t.csv: left out: eggs of nematodirus, which are told apart " +
                                   std::string(to_string(occasion)) + " treatment alone"});
  }
}

TEST_CASE("Farm and trial are columns of their own") {
  JoinedAnimals joined = two_animals();
  joined.animals[0].attributes["farm"] = {"Hill", "t.csv", 2, 6, "Farm"};
  ReadingLog log;
  CHECK(counts_rows(joined, log).header.cells[2] == "farm");
  CHECK(counts_rows(joined, log).rows[0].cells[2] == "Hill");
  joined.animals[0].attributes["trial"] = {"T9", "t.csv", 2, 7, "Trial"};
  CHECK(counts_rows(joined, log).header.cells ==
        Row{"group", "animal", "farm", "trial", "weight_kg", "eggs_before", "eggs_after"});
  CHECK(counts_rows(joined, log).rows[0].cells[3] == "T9");
}

TEST_CASE("A visit's column has its day behind a colon") {
  JoinedAnimals joined = two_animals();
  joined.animals[0].counts[{{Occasion::after, 28}, {}, 0}] = {{"1", "t.csv", 2, 7, "Week 4"},
                                                              CountUnit::eggs};
  ReadingLog log;
  const Table table = counts_rows(joined, log);
  CHECK(std::ranges::find(table.header.cells, "eggs_day:28") != table.header.cells.end());
}
