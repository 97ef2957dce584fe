#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

// The invented trial of careless field work: every number here is worked out by hand from the
// table. Label 5 mg per kg of 25 mg per mL: 0.2 mL per kg; 7 mL for all.

TEST_CASE("analyse: doses, days and missing animals of the bundled careless trial") {
  const Run result = run("eggfall analyse examples/doses.csv --host sheep --json -");
  REQUIRE(result.exit_code == 0);
  const auto group = nlohmann::json::parse(result.output)["trials"][0]["groups"][0];
  const auto& dose = group["dose"];
  CHECK(dose["checked"] == 13); // 614 was not weighed
  CHECK(dose["not_weighed"] == nlohmann::json{"614"});
  // Above 7/(0.2 x 0.99) = 35.35 kg: 42, 45, 36, 38 kg. From 7/(0.2 x 1.5) = 23.33 kg down: 23 kg.
  CHECK(dose["under"] == nlohmann::json{"603", "605", "607", "609"});
  CHECK(dose["over"] == nlohmann::json{"601"});
  CHECK(dose["one_dose_ml"] == 7);
  CHECK(dose["lowest_percent"].get<double>() == Approx(100 * 7.0 / 9));
  CHECK(dose["heaviest_animal"] == "605");
  CHECK(dose["heaviest_needs_ml"].get<double>() == Approx(9)); // 0.2 x 45
  // 7 x 25 / 45
  CHECK(group["per_animal"][4]["mg_per_kg"].get<double>() == Approx(3.888888889));
  CHECK(group["days"]["first_day"] == 9);
  CHECK(group["days"]["last_day"] == 14);
  CHECK(group["days"]["late"] == 5);
  // Compared: 334 eggs before, 38 after; missing: 25 + 44 = 69.
  CHECK(group["missing_after"]["animals"] == 2);
  CHECK(group["missing_after"]["fall_if_unchanged_percent"].get<double>() ==
        Approx(100 * (1 - 107.0 / 403)));
  CHECK(group["missing_after"]["fall_if_none_percent"].get<double>() ==
        Approx(100 * (1 - 38.0 / 403)));
  CHECK(group["next_step"].get<std::string>().starts_with(
      "Weigh the animals and give each the label's dose for its own weight"));
}
