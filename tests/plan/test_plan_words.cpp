#include "plan/plan_words.hpp"

#include "plan/invented_plan.hpp"
#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

TEST_CASE("A chance in words is never none of 100 or all of them") {
  const auto words = [](double value) { return of_100({value, 0.01}); };
  CHECK(words(0.93) == "93 of 100");
  CHECK(words(0.926) == "93 of 100");
  CHECK(words(0) == "fewer than 1 of 100");
  CHECK(words(0.0049) == "fewer than 1 of 100");
  CHECK(words(0.005) == "fewer than 1 of 100"); // 1 of 200 tests
  CHECK(words(0.006) == "1 of 100");
  CHECK(words(0.994) == "99 of 100");
  CHECK(words(0.995) == "more than 99 of 100"); // 199 of 200
  CHECK(words(0.9951) == "more than 99 of 100");
  CHECK(words(1) == "more than 99 of 100");
}

TEST_CASE("An efficacy has no needless digits") {
  CHECK(efficacy_text(0.95) == "95%");
  CHECK(efficacy_text(0.995) == "99.5%");
  CHECK(efficacy_text(0.9995) == "99.95%");
  CHECK(efficacy_text(0) == "0%");
  CHECK(efficacy_text(1) == "100%");
}

TEST_CASE("Both calls count low resistance with resistance") {
  // At 80% so many of 100 are called low resistant (40) or resistant (41), and none susceptible.
  const PlanQuestion asked = question();
  const PlannedOption planned = with_power(asked, 6, 50, 1, 94, 81);
  CHECK(both_calls(planned.outcomes.front(), asked.aim.criteria.front(), 0) == "94/0");
  CHECK(both_calls(planned.outcomes.back(), asked.aim.criteria.front(), 0) == "0/81");
}

TEST_CASE("What a minimum asks of the counts goes on where the parts end") {
  std::vector<std::string> parts{"10 animals a group"};
  Minimum minimum;
  minimum.animals = 10;
  add_count_minima(parts, minimum);
  CHECK(parts.size() == 1);
  minimum.mean_epg = 150;
  minimum.eggs_counted_per_animal = 40;
  add_count_minima(parts, minimum);
  CHECK(parts == std::vector<std::string>{"10 animals a group", "a mean of 150 EPG",
                                          "40 eggs counted an animal"});
}

TEST_CASE("Designs and classes have words of their own") {
  CHECK(design_text(Design::paired) == "the same animals before and after treatment");
  CHECK_THAT(std::string(design_text(Design::two_group)), Catch::Contains("after treatment alone"));
  CHECK_THAT(std::string(design_text(Design::controlled)), Catch::Contains("before and after"));
  CHECK(drug_classes_text({}) == "the drench");
  CHECK(drug_classes_text({DrugClass::bz}) == "BZ");
  CHECK(drug_classes_text({DrugClass::bz, DrugClass::ml}) == "BZ and ML");
  CHECK(drug_classes_text({DrugClass::bz, DrugClass::lv, DrugClass::ml}) == "BZ, LV and ML");
}
