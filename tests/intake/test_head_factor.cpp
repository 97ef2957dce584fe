#include "intake/head_factor.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("A number that a word or a mark calls the factor is found in a head, as written") {
  for (const std::string head :
       {"Eggs before (x15)", "Eggs before (X 15)",
        "Eggs before \xC3\x97"
        "15",
        "EPG before, factor 15", "Eggs (DL 15)", "Eggs pre 15x", "Eggs before, 1 egg = 15"}) {
    INFO(head);
    const auto found = factor_in_head(head);
    REQUIRE(found);
    CHECK(found->value == 15);
    CHECK(found->text == "15");
    CHECK_FALSE(found->bare);
  }
  CHECK(factor_in_head("Eggs (x16.7)")->value == 16.7);
}

TEST_CASE("A number alone in brackets may be the factor, and a word or a mark goes before it") {
  const auto bare = factor_in_head("Eggs before (15)");
  REQUIRE(bare);
  CHECK(bare->bare);
  CHECK(bare->value == 15);
  const auto marked = factor_in_head("Eggs (1) x50");
  REQUIRE(marked);
  CHECK_FALSE(marked->bare);
  CHECK(marked->value == 50);
}

TEST_CASE("Days, repeats, years and 0 are no factors") {
  for (const std::string head : {"EPG day 14", "EPG before 2", "Eggs 14 May", "EPG (2031)",
                                 "Eggs (0)", "Eggs before", "Index 3", "max 20"}) {
    INFO(head);
    CHECK_FALSE(factor_in_head(head));
  }
}

TEST_CASE("A title or a note may say one factor or several") {
  const auto values = [](const std::string& note) {
    std::vector<double> found;
    for (const NoteFactor& each : factors_in_note(note))
      found.push_back(each.a_limit ? -each.value : each.value);
    return found;
  };
  using Values = std::vector<double>;
  CHECK(values("Factor 15") == Values{15});
  CHECK(values("One egg = 15 epg (factor 15)") == Values{15, 15});
  CHECK(values("The factor is 33.3") == Values{33.3});
  CHECK(values("Counted at 15 EPG per egg") == Values{15});
  CHECK(values("Factor 50 before, 15 after") == Values{50, 15});
  CHECK(values("Egg counts (x15)") == Values{15});
  CHECK(values("FEC, detection limit 15") == Values{-15});
  // Doses, percentages, days and animals are none.
  for (const char* note : {"Drenched 2 x", "Mob A x 20", "Egg counts, sensitivity 95%",
                           "Eggs per gram, day 14", "Limit 20 lambs", "12 egg counts", ""})
    CHECK(values(note).empty());
}
