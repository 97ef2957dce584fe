#include "intake/settle_counts.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::Lines;

namespace {

struct Cells {
  std::vector<std::string> before;
  std::vector<std::string> after;
  std::optional<CountUnit> unit = CountUnit::epg;
  Lines around = {};
};

struct Settled {
  std::string before; ///< "9 6 -": eggs, or "-" for no sample.
  std::string after;
  Lines told;
  Lines all;
  std::vector<RawAnimal> animals;
};

Settled settled(const Cells& cells, const Layout& layout = {}, double factor = 50) {
  Settled result;
  for (std::size_t i = 0; i < cells.before.size(); ++i) {
    RawAnimal animal;
    animal.tag.text = std::to_string(101 + i);
    const auto count = [&](const std::string& text, std::size_t column, const char* head) {
      return RawCount{{text, "t.csv", i + 2, column, head}, cells.unit};
    };
    animal.counts[{{Occasion::before, 0}, {}, 0}] = count(cells.before[i], 3, "Pre");
    animal.counts[{{Occasion::after, 0}, {}, 0}] = count(cells.after.at(i), 4, "Post");
    result.animals.push_back(std::move(animal));
  }
  Problems problems;
  ReadingLog log;
  settle_counts(result.animals, cells.around, layout,
                factor > 0 ? support::with_factor(factor) : ReadOptions(), problems, log);
  problems.throw_if_any();
  result.told = texts_of(log.told());
  result.all = texts_of(log.all());
  for (const RawAnimal& animal : result.animals)
    for (const auto& [key, count] : animal.counts) {
      std::string& out = key.time.occasion == Occasion::before ? result.before : result.after;
      out += (out.empty() ? "" : " ") + (count.cell.text.empty() ? "-" : count.cell.text);
    }
  return result;
}

std::string refusal(const Cells& cells, const Layout& layout = {}, double factor = 50) {
  return support::input_error([&] { settled(cells, layout, factor); });
}

/// Enough multiples of 50 for a luck of less than 1 in a million.
const Cells multiples{{"450", "300", "1050", "100"}, {"0", "50", "0", "0"}, std::nullopt, {}};

} // namespace

TEST_CASE("EPG become the eggs that were seen") {
  const Settled found = settled({{"450", "300", "0"}, {"0", "50", ""}});
  CHECK(found.before == "9 6 0");
  CHECK(found.after == "0 1 -");
  CHECK(found.told.empty());
  CHECK(found.animals[0].counts.begin()->second.unit == CountUnit::eggs);
  CHECK(settled({{"666", "33"}, {"33.3", "0"}}, {}, 33.3).before == "20 1");
}

TEST_CASE("Eggs seen stay what they are") {
  CHECK(settled({{"9", "12"}, {"0", "1"}, CountUnit::eggs}).before == "9 12");
  CHECK(
      refusal({{"9.5", "12.25"}, {"0", "1.1"}, CountUnit::eggs})
          .find(
              "t.csv:2: column 3 (Pre): found \"9.5\"; expected a whole number of eggs seen, 0 or "
              "more") == 0);
}

TEST_CASE("Fewer than one egg is none, and told; fewer than two may be one, and is asked about") {
  const Settled found = settled({{"450", "300"}, {"<50", "<50"}});
  CHECK(found.after == "0 0");
  CHECK(found.told ==
        Lines{"\"<50\" is taken for no egg seen in 2 cells: line 2 (101), line 3 (102)"});
  CHECK(refusal({{"450", "300"}, {"<100", "0"}}) ==
        "t.csv:2: column 4 (Post): found \"<100\" at a factor of 50, by which one egg seen is 50 "
        "EPG, so that eggs may have been seen; expected an answer: the setting cell <100=none-seen "
        "(no egg was seen), or the setting factor-after 100 (if one egg seen stands for that)");
  CHECK(settled({{"450"}, {"<1"}, CountUnit::eggs}).after == "0");
  CHECK_THROWS_AS(settled({{"450"}, {"<50"}, CountUnit::eggs}), OpenQuestion);
  CHECK(settled({{"333"}, {"<33.3"}}, {}, 33.3).after == "0");
  CHECK(settled({{"450"}, {"<100"}}, support::layout_of({{"cell", "<100=none-seen"}})).after ==
        "0");
  // Of the mean of two counts, one egg is 25.
  CHECK_THROWS_AS(settled({{"450"}, {"<50"}}, support::layout_of({{"mean-of", "2"}})),
                  OpenQuestion);
}

TEST_CASE("No more than one egg is no word for none") {
  CHECK(refusal({{"450"}, {"<=50"}}) ==
        "t.csv:2: column 4 (Post): found \"<=50\"; expected one number of eggs or EPG, such as 12, "
        "350 or <50 (empty: not sampled)");
}

TEST_CASE("Words of one meaning are taken for it and told; of two, their owner is asked") {
  const Settled found = settled({{"450", "300", "50"}, {"neg", "n/s", "NEG"}});
  CHECK(found.after == "0 - 0");
  CHECK(found.told ==
        Lines{"\"n/s\" is taken for not sampled in 1 cell: line 3 (102)",
              "\"neg\" is taken for no egg seen in 2 cells: line 2 (101), line 4 (103)"});
  CHECK(refusal({{"450", "300"}, {"-", "-"}}) ==
        "t.csv:2: column 4 (Post): found \"-\" in 2 cells of counts, which stands for no egg seen "
        "in some laboratories and for no sample in others; expected an answer: the setting cell "
        "-=none-seen, or the setting cell -=not-sampled");
  CHECK(settled({{"450"}, {"nd"}}, support::layout_of({{"cell", "nd=not-sampled"}})).after == "-");
  CHECK(refusal({{"450"}, {"zz"}}) ==
        "t.csv:2: column 4 (Post): found \"zz\"; expected a number of eggs or EPG, or a word "
        "that is known: the setting cell zz=none-seen or the setting cell zz=not-sampled says "
        "what it means");
}

TEST_CASE("A word for some or many eggs is no zero and no gap, whatever its owner answers") {
  const std::string way_out =
      "the least it can be (before treatment the least makes the fall look smaller than it was; "
      "after treatment the truth may be worse than what is shown)";
  for (const std::string word : {"TNTC", "too many to count", "many", "lots", "High", "heavy",
                                 "positive", "pos.", "+", "+++", "scanty", "a few", "trace",
                                 "present", "seen", "eggs seen", "viele Eier", "positivo"}) {
    INFO(word);
    CHECK(refusal({{"450"}, {word}}) ==
          "t.csv:2: column 4 (Post): found \"" + word +
              "\", which says that there were eggs and is no zero; expected the number of eggs or "
              "EPG, or " +
              way_out);
    for (const std::string answer : {"none-seen", "not-sampled"})
      CHECK(refusal({{"450"}, {word}}, support::layout_of({{"cell", word + "=" + answer}}))
                .find("called " + answer + ", which says that there were eggs") !=
            std::string::npos);
  }
  CHECK(
      refusal({{">1000"}, {"0"}}) ==
      "t.csv:2: column 3 (Pre): found \">1000\"; expected the number that was counted, or 1000, " +
          way_out);
  CHECK(refusal({{"450"}, {"1000+"}}).find("or 1000, the least it can be") != std::string::npos);
  CHECK(refusal({{"450"}, {">1000"}}, support::layout_of({{"cell", ">1000=none-seen"}}))
            .find("called none-seen") != std::string::npos);
}

TEST_CASE("A number in a head that reads as the factor is compared with the factor") {
  const auto under = [](const std::string& before, const std::string& after, double factor,
                        const Layout& layout = {}) {
    std::vector<RawAnimal> animals(1);
    animals[0].tag.text = "101";
    animals[0].counts[{{Occasion::before, 0}, {}, 0}] = {{"20", "t.csv", 2, 3, before},
                                                         CountUnit::eggs};
    animals[0].counts[{{Occasion::after, 0}, {}, 0}] = {{"1", "t.csv", 2, 4, after},
                                                        CountUnit::eggs};
    Problems problems;
    ReadingLog log;
    settle_counts(animals, {}, layout, support::with_factor(factor), problems, log);
    problems.throw_if_any();
    return texts_of(log.told());
  };
  const auto refused = [&](const std::string& before, const std::string& after,
                           const Layout& layout = {}) {
    return support::input_error([&] { under(before, after, 50, layout); });
  };
  CHECK(refused("Eggs before (x15)", "Eggs after (x50)") ==
        "t.csv: column 3 (Eggs before (x15)): found 15 in this head, which reads as what one egg "
        "stands for, and a factor of 50 before treatment; expected an answer: the setting "
        "factor-before 15 (if one egg seen before treatment stands for 15 EPG; if not, mend the "
        "head, which must not say so)");
  for (const std::string head :
       {"Eggs before x 15", "Eggs before \xC3\x97 15", "Eggs before (DL 15)",
        "Eggs before (factor 15)", "Eggs before (15x)", "Eggs before [15]"})
    CHECK(refused(head, "Eggs after").find("found 15 in this head") != std::string::npos);
  // A bare number may be another thing, which its owner can say.
  CHECK(refused("Eggs before (15)", "Eggs after (50)")
            .find("or the setting column \"eggs_before=Eggs before (15)\" (if the number means "
                  "something else)") != std::string::npos);
  CHECK_NOTHROW(under("Eggs before (15)", "Eggs after (50)", 50,
                      support::layout_of({{"column", "eggs_before=Eggs before (15)"}})));
  CHECK(under("Eggs before (x15)", "Eggs after", 15) ==
        Lines{"the number in \"Eggs before (x15)\" is taken for the factor, with which it agrees"});
  for (const std::string head :
       {"Eggs before", "Eggs before 2", "Max 15 before", "Eggs before (n = 15)",
        "Eggs before (2031)", "Eggs before (day 0)"})
    CHECK(under(head, "Eggs after", 50).empty());
}

TEST_CASE("A factor of a head that is not the one of the table's own column is refused") {
  std::vector<RawAnimal> animals(1);
  animals[0].attributes["factor_after"] = {"15", "t.csv", 2, 5, "Factor"};
  animals[0].counts[{{Occasion::after, 0}, {}, 0}] = {{"2", "t.csv", 2, 4, "Post (x50)"},
                                                      CountUnit::eggs};
  Problems problems;
  ReadingLog log;
  CHECK(support::input_error([&] {
          settle_counts(animals, {}, {}, support::with_factor(50), problems, log);
        }) == "t.csv: column 4 (Post (x50)): found 50 in this head, which reads as what one egg "
              "stands for, and a factor of 15 after treatment; expected one factor in the head and "
              "in the column of factors; or a head without a number that is none");
}

TEST_CASE("A mark for thousands is told from a fraction by the factor") {
  const Settled found = settled({{"1,200", "12.000"}, {"1.050", "0"}});
  CHECK(found.before == "24 240");
  CHECK(found.after == "21 0");
  CHECK(found.all ==
        Lines{"marks for thousands in 3 cells: line 2 (101), line 2 (101), line 3 (102)"});
  CHECK(settled({{"12.5"}, {"0"}}, {}, 12.5).before == "1");
  // At a factor of 1 both are whole eggs.
  CHECK(refusal({{"2.000"}, {"0"}}, {}, 1) ==
        "t.csv:2: column 3 (Pre): found \"2.000\"; expected a number without a mark: 2000, or 2?");
}

TEST_CASE(
    "An EPG of no whole eggs is refused, or asked about where means of counts would explain") {
  CHECK(refusal({{"449", "300"}, {"0", "17"}}) ==
        "t.csv:2: column 3 (Pre): found 449 EPG; expected a whole multiple of the factor 50, such "
        "as 400 or 450 (is the factor right, and written with all its digits?)\n"
        "t.csv:3: column 4 (Post): found 17 EPG; expected a whole multiple of the factor 50, such "
        "as 0 or 50 (is the factor right, and written with all its digits?)");
  CHECK(refusal({{"450", "325"}, {"0", "25"}}) ==
        "t.csv:3: column 3 (Pre): found \"325\", which needs a fraction of an egg at a factor of "
        "50; all counts would be whole eggs as means of 2 counts of each sample; expected an "
        "answer: the setting factor-before 25 (if one egg seen stands for that), or the setting "
        "mean-of 2 (if they are such means)");
}

TEST_CASE("Means of counts become their sums, at the factor of these") {
  const Settled found =
      settled({{"450", "325"}, {"0", "25"}}, support::layout_of({{"mean-of", "2"}}));
  CHECK(found.before == "18 13");
  CHECK(found.after == "0 1");
  CHECK(found.animals[0].attributes.at("factor_before").text == "25");
  CHECK(found.animals[0].attributes.at("factor_after").text == "25");
  CHECK(found.told == Lines{"counts are means of 2 counts of a sample: 2 times as many eggs were "
                            "seen, and one stands for as much less"});
  CHECK(
      settled({{"9.5"}, {"0.5"}, CountUnit::eggs}, support::layout_of({{"mean-of", "2"}})).before ==
      "19");
}

TEST_CASE("Counts that say neither eggs nor EPG are asked about, if nothing else tells") {
  CHECK(refusal({{"12", "7"}, {"0", "1"}, std::nullopt}) ==
        "t.csv: column 3 (Pre): found counts under \"Pre\", \"Post\" that may be eggs seen or eggs "
        "per gram; expected an answer: the setting counts epg (eggs per gram), or the setting "
        "counts eggs (eggs seen under the microscope)");
  // Too few to be multiples of 50 by more than luck.
  CHECK_THROWS_AS(settled({{"450", "300"}, {"0", "50"}, std::nullopt}), OpenQuestion);
  CHECK(settled({{"12"}, {"0"}, std::nullopt}, support::layout_of({{"counts", "eggs"}})).before ==
        "12");
  CHECK(settled({{"450"}, {"0"}, std::nullopt}, support::layout_of({{"counts", "epg"}})).told ==
        Lines{"counts under \"Pre\", \"Post\" are taken for eggs per gram: as said"});
}

TEST_CASE("Counts are EPG if a title, a cell or the numbers themselves say so, which is told") {
  const auto told = [](Cells cells) { return settled(cells).told.at(0); };
  CHECK(told({{"450"}, {"0"}, std::nullopt, {"Results in eggs per gram"}}) ==
        "counts under \"Pre\", \"Post\" are taken for eggs per gram: \"Results in eggs per gram\" "
        "says so");
  CHECK(told({{"450 epg", "300"}, {"0", "0"}, std::nullopt}) ==
        "counts under \"Pre\", \"Post\" are taken for eggs per gram: cells say so");
  CHECK(told({{"9 eggs", "6"}, {"0", "0"}, std::nullopt}) ==
        "counts under \"Pre\", \"Post\" are taken for eggs seen: cells say so");
  CHECK(told(multiples) == "counts under \"Pre\", \"Post\" are taken for eggs per gram: all are "
                           "multiples of the factor, which eggs seen would not be");
  Cells one_off = multiples;
  one_off.after[1] = "1";
  CHECK_THROWS_AS(settled(one_off), OpenQuestion);
}

TEST_CASE("A note that speaks of eggs seen and of EPG tells neither") {
  CHECK_THROWS_AS(settled({{"12"}, {"0"}, std::nullopt, {"Eggs seen; times 50 gives EPG"}}),
                  OpenQuestion);
}

TEST_CASE("At a factor of 1, and of no eggs at all, the unit does not matter") {
  CHECK(settled({{"12"}, {"0"}, std::nullopt}, {}, 1).before == "12");
  CHECK(settled({{"0"}, {"neg"}, std::nullopt}).before == "0");
}

TEST_CASE("A cell whose unit is not its column's is refused") {
  CHECK(refusal({{"9 eggs"}, {"0"}}) ==
        "t.csv:2: column 3 (Pre): found \"9 eggs\"; expected EPG, as its column says");
  CHECK(refusal({{"450 epg"}, {"0"}, CountUnit::eggs}) ==
        "t.csv:2: column 3 (Pre): found \"450 epg\"; expected eggs seen, as its column says");
}

TEST_CASE("Counts without a factor are refused, with what all of them are multiples of") {
  CHECK(refusal({{"450", "300"}, {"0", "50"}}, {}, 0) ==
        "t.csv:2: column 3 (Pre): found a count without a multiplication factor; expected a column "
        "factor_before, or the setting factor (the bench calculator works it out from the bench "
        "figures)\nt.csv:2: column 4 (Post): found a count without a multiplication factor; "
        "expected a column factor_after, or the setting factor (the bench calculator works it out "
        "from the bench figures)");
  CHECK(refusal({{"450", "300", "1050", "100"}, {"0", "50", "0", "0"}}, {}, 0)
            .find("; all counts are multiples of 50: the setting factor 50, if one egg seen stands "
                  "for 50 EPG") != std::string::npos);
}

TEST_CASE("The factor of an animal goes before the option") {
  std::vector<RawAnimal> animals(1);
  animals[0].attributes["factor_after"] = {"15", "t.csv", 2, 5, "Factor"};
  animals[0].counts[{{Occasion::after, 0}, {}, 0}] = {{"30", "t.csv", 2, 4, "Post"},
                                                      CountUnit::epg};
  Problems problems;
  ReadingLog log;
  settle_counts(animals, {}, {}, support::with_factor(50), problems, log);
  CHECK(animals[0].counts.begin()->second.cell.text == "2");
}

TEST_CASE("What stands behind a count is told") {
  CHECK(settled({{"450 (soft)"}, {"0"}}).told ==
        Lines{"left out behind a count: \"(soft)\" on line 2 (101)"});
}
