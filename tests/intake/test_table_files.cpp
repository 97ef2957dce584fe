#include "intake/table_files.hpp"

#include "support/support.hpp"

#include "eggfall/base/error.hpp"

using namespace eggfall;
using Catch::Matchers::Contains;

TEST_CASE("A trial that no row names is called as its file, without folder and ending") {
  const auto name = [](const char* file) { return read_options({}, file).trial_name; };
  CHECK(name("Top paddock.csv") == "Top paddock");
  CHECK(name("farm/2031/top.paddock.xlsx") == "top.paddock");
  CHECK(name("C:\\farm\\top.csv") == "top");
  CHECK(name(".hidden") == ".hidden");
  CHECK(name("") == "trial");
  CHECK(name("-") == "trial");
  CHECK(name("\t.csv") == "trial");
}

TEST_CASE("A factor for one time stands before that for both") {
  Layout layout;
  layout.factor = 50;
  layout.factor_after = 15;
  const ReadOptions how = read_options(layout, "t.csv");
  CHECK(how.factor_before == MultiplicationFactor(50));
  CHECK(how.factor_after == MultiplicationFactor(15));
}

TEST_CASE("Answers to open questions are taken by their key") {
  TableAnswers answers;
  for (const LayoutSetting& setting : std::vector<LayoutSetting>{{"column", "animal=Ear tag"},
                                                                 {"cell", "nd=none-seen"},
                                                                 {"dates", "day-first"},
                                                                 {"counts", "epg"},
                                                                 {"day-before", "d0"},
                                                                 {"day-after", "d14"},
                                                                 {"mean-of", "2"},
                                                                 {"side-by-side", "groups"},
                                                                 {"treated", "No-worm"},
                                                                 {"occasions", "after, before"},
                                                                 {"factor", "50"},
                                                                 {"factor-before", "25"},
                                                                 {"factor-after", "12.5"},
                                                                 {"host", "goats"},
                                                                 {"control", "keepers"},
                                                                 {"sheet", "Pre,Post"}})
    take(answers, setting);
  const Layout& layout = answers.layout;
  CHECK(layout.columns.at("animal") == "Ear tag");
  CHECK(layout.cells.size() == 1);
  CHECK(layout.dates.has_value());
  CHECK(layout.counts == CountUnit::epg);
  CHECK(layout.day_before == "d0");
  CHECK(layout.day_after == "d14");
  CHECK(layout.mean_of == 2U);
  CHECK(layout.side_by_side == SideBySide::groups);
  CHECK(layout.treated == std::vector<std::string>{"No-worm"});
  CHECK(layout.occasions == std::vector<Occasion>{Occasion::after, Occasion::before});
  CHECK(layout.factor == 50.0);
  CHECK(layout.factor_before == 25.0);
  CHECK(layout.factor_after == 12.5);
  CHECK(layout.host == "goats");
  CHECK(layout.control == "keepers");
  CHECK(answers.sheets == "Pre,Post");
}

TEST_CASE("An answer that is none is refused") {
  const auto refusal = [](const char* key, const char* value) {
    TableAnswers answers;
    try {
      take(answers, {key, value});
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("nothing is said");
  };
  CHECK_THAT(refusal("colour", "red"),
             Contains("found the key \"colour\"; expected one of column"));
  CHECK_THAT(refusal("factor", "many"), Contains("factor: found \"many\"; expected a number"));
  CHECK_THAT(refusal("mean-of", "1"), Contains("expected a whole number from 2 to 20"));
  CHECK_THAT(refusal("dates", "first"), Contains("first"));
  CHECK_THAT(refusal("occasions", "before,later"), Contains("later"));
}

TEST_CASE("Files are read as the tables they hold, each trial by its file's name") {
  const TableFile white{"white.csv", "group,animal,eggs_before,eggs_after\nw,1,3,0\n"};
  const TableFile clear{"clear.csv", "group,animal,eggs_before,eggs_after\nc,1,3,0\n"};
  TableAnswers answers;
  answers.layout.factor = 50;
  const UnderstoodTables both = understand_files({white, clear}, answers);
  REQUIRE(both.table.trials.size() == 2);
  CHECK(both.table.trials[0].name == "white");
  CHECK(both.table.trials[1].name == "clear");
  CHECK_THROWS_WITH(understand_files({}, answers), Contains("found no table"));
}
