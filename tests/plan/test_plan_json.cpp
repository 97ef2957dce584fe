#include "plan/plan_json.hpp"

#include "plan/invented_plan.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <utility>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

TEST_CASE("A plan's JSON holds what it shows") {
  Plan plan = plan_with({with_power(question(), 6, 50, 1.5, 99, 81)});
  plan.pilot = Pilot{9, 80, 600, 210, 900, 0.5, 0.2, 1.4};
  const auto json = nlohmann::json::parse(plan_json(plan));
  CHECK(json["schema"] == "eggfall.plan/1");
  CHECK(json["recommended"] == 0);
  CHECK(json["designs"][0]["power"]["percent"] == 81);
  CHECK(json["designs"][0]["by_criteria"][0]["outcomes"][2]["low_resistant"]["percent"] == 40);
  CHECK(json["pilot"]["k_upper"] == 1.4);
  CHECK(json["flock"]["animals"].is_null());
  const auto& design = json["designs"][0];
  CHECK(design["animals_a_group"] == 6);
  CHECK(design["samples"] == 12);
  CHECK(design["eggs_a_group"] == 72); // 6 animals of 600 EPG at 50 an egg
  CHECK(design["cost"] == 18);
  CHECK(design["hours"].is_null()); // no minutes a sample were given
  CHECK(json["criteria"][0]["clearly_works_percent"] == 99.5);
  CHECK(json["criteria"][0]["clearly_fails_percent"] == 80);
  CHECK(json["wanted_percent"] == 80);
  CHECK(json["advice"] == plan_advice(plan));
}

TEST_CASE("Where nothing will do, a plan's JSON recommends nothing and lists what else was tried") {
  const PlanQuestion asked = question();
  Plan plan =
      plan_with({with_power(asked, 6, 50, 1, 20, 70), with_power(asked, 12, 50, 1, 30, 75)});
  PlanCase tried{PlanCase::Kind::more_eggs, asked.flock, plan.all[1].option};
  tried.flock.mean_epg = 1'200;
  tried.flock.animals = 24;
  plan.cases.push_back({tried, with_power(asked, 12, 50, 1, 85, 90)});
  tried.kind = PlanCase::Kind::one_drench;
  plan.cases.push_back({std::move(tried), with_power(asked, 24, 50, 1, 90, 95)});
  const auto json = nlohmann::json::parse(plan_json(plan));
  CHECK(json["recommended"].is_null());
  CHECK(json["cheapest"].is_null());
  CHECK(json["pilot"].is_null());
  CHECK(json["flock"]["worm"].is_null());
  REQUIRE(json["cases"].size() == 2);
  CHECK(json["cases"][0]["kind"] == "more-eggs");
  CHECK(json["cases"][0]["flock"]["mean_epg"] == 1'200);
  CHECK(json["cases"][0]["flock"]["animals"] == 24);
  CHECK(json["cases"][0]["design"]["power"]["percent"] == 85);
  CHECK(json["cases"][1]["kind"] == "one-drench");
}

TEST_CASE("A plan's JSON tells the recommended design and the cheapest apart by their places") {
  const PlanQuestion asked = question();
  Plan plan = plan_with({with_power(asked, 6, 50, 1, 20, 70), with_power(asked, 12, 50, 1, 90, 90),
                         with_power(asked, 15, 50, 1, 95, 95)});
  Minimum minimum;
  minimum.animals = 15;
  plan.question.aim.minima = {minimum};
  const auto json = nlohmann::json::parse(plan_json(plan));
  CHECK(json["recommended"] == 2); // the first to have the 15 animals asked for
  CHECK(json["cheapest"] == 1);
}
