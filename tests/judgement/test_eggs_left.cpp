#include "judgement/eggs_left.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Eggs left of 100 are what the fall and its interval leave") {
  GroupAnalysis analysis;
  CHECK_FALSE(eggs_left(analysis.evidence, analysis.judgement));
  analysis.evidence.reduction = 0.92;
  REQUIRE(eggs_left(analysis.evidence, analysis.judgement));
  CHECK_THAT(eggs_left(analysis.evidence, analysis.judgement)->found, support::close_to(8));
  CHECK_FALSE(eggs_left(analysis.evidence, analysis.judgement)->most);
  analysis.evidence.headline.lower = 0.85;
  analysis.evidence.headline.upper = 0.96;
  CHECK_THAT(*eggs_left(analysis.evidence, analysis.judgement)->least, support::close_to(4));
  CHECK_THAT(*eggs_left(analysis.evidence, analysis.judgement)->most, support::close_to(15));
}

TEST_CASE("Where untreated animals tell of the season, the eggs left are the drench's own") {
  GroupAnalysis analysis;
  analysis.evidence.reduction = 0.954;
  analysis.evidence.headline.lower = 0.929;
  analysis.evidence.headline.upper = 0.975;
  OwnFall own;
  own.verdict.reduction = 0.88;
  own.verdict.interval.emplace();
  own.verdict.interval->lower = 0.80;
  own.verdict.interval->upper = 0.94;
  analysis.judgement.own_fall = own;
  CHECK_THAT(eggs_left(analysis.evidence, analysis.judgement)->found, support::close_to(12));
  CHECK_THAT(*eggs_left(analysis.evidence, analysis.judgement)->least, support::close_to(6));
  CHECK_THAT(*eggs_left(analysis.evidence, analysis.judgement)->most, support::close_to(20));
  CHECK(*drench_fall(analysis.evidence, analysis.judgement).interval.lower == 0.80);
}

TEST_CASE("Eggs left in words are whole, and some are never called none") {
  CHECK(eggs_in_words(0) == "none");
  CHECK(eggs_in_words(0.001) == "fewer than 1");
  CHECK(eggs_in_words(0.6) == "about 1");
  CHECK(eggs_in_words(8.27) == "about 8");
}

TEST_CASE("A number of eggs of a factor written wrongly is not written out") {
  CHECK(whole_eggs(119.6) == "120");
  CHECK(whole_eggs(999.4) == "999");
  CHECK(whole_eggs(999.6) == "over 999");
  CHECK(whole_eggs(1e300) == "over 999");
}
