#include "judgement/larvae_words.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Counted larvae are numbers, and percentages stay percentages") {
  CHECK(larvae_as_cell({11, 100}) == "11/100");
  CHECK(larvae_in_short({11, 100}) == "11 of 100");
  CHECK(larvae_in_words({11, 100}) == "11 of 100 larvae");
  CHECK(larvae_in_words({1'000'000, 1'000'000}) == "1000000 of 1000000 larvae");
  const WormShare open{16.5, 50, OpenShare{{16.25, 16.75}, false}};
  CHECK(larvae_as_cell(open) == "33%");
  CHECK(larvae_in_words(open) == "33% of the larvae");
  // Told as <1: no number of ours in its place.
  const WormShare below{0.25, 50, OpenShare{{0, 0.5}, false}};
  CHECK(larvae_as_cell(below) == "<1%");
  CHECK(larvae_in_short(below) == "<1%");
  CHECK(larvae_in_words(below) == "under 1% of the larvae");
  CHECK(larvae_as_cell({0, 50, OpenShare{{0, 0.25}, false}}) == "0%");
}

TEST_CASE("One limit is the most or the least") {
  Interval interval;
  interval.upper = 0.859;
  CHECK(limit_in_words(interval) == "at most 85.9%");
  interval.upper.reset();
  interval.lower = 0.991;
  CHECK(limit_in_words(interval) == "at least 99.1%");
}

TEST_CASE("A culture that stands in is named with what is missing") {
  WormShares shares{{{1, 10}}, {{2, 10}}};
  CHECK(stand_in_words(shares).empty());
  shares.stand_in = StandIn{{"before treatment", "in the control group before treatment"},
                            "in the control group after treatment"};
  CHECK(stand_in_words(shares) ==
        "No culture of its own before treatment and in the control group before treatment: the one "
        "in the control group after treatment stands in, as of the same mob.");
}

TEST_CASE("What cultures take for granted is said, and nothing where all was told") {
  const WormShare open{16.5, 50, OpenShare{{16.25, 16.75}, false}};
  const WormShare told{66, 200, OpenShare{{65, 67}, true}};
  Culture before{{"haemonchus", 6}};
  CHECK(cultures_in_words({{{1, 10}}, {told}}, before).empty());
  CHECK(cultures_in_words({{{1, 10}}, {open}}, before) ==
        "Percentages whose number of larvae was not told are taken to be of 50.");
  before.mixed_groups = {"white", "red"};
  CHECK(cultures_in_words({{{1, 10}}, {told}}, before) ==
        "The culture before treatment was of several groups together.");
}
