#include "simulation/audit_grid.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "support/edge_inputs.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <cmath>
#include <set>

using namespace eggfall;

namespace {

const std::string header = "schema = \"eggfall.audit-grid/1\"\n";

std::string message(const std::string& toml) {
  try {
    read_audit_grid(toml, "g.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

} // namespace

TEST_CASE("A grid's section gives every combination, the last field running fastest") {
  const auto farms = read_audit_grid(header + "[[cells]]\nanimals = [7, 15]\nk = 0.3\n"
                                              "efficacy_percent = [90, 99.9]\n"
                                              "[[cells]]\ndesign = \"two-group\"\n",
                                     "g.toml");
  REQUIRE(farms.size() == 5);
  CHECK(farms[0].model.animals == 7);
  CHECK(farms[1].model.animals == 7);
  CHECK(farms[1].model.efficacy == Approx(0.999));
  CHECK(farms[2].model.animals == 15);
  CHECK(farms[3].model.k == 0.3);
  CHECK(farms[3].design == Design::paired);
  CHECK(farms[3].model.control_animals == 0);
  CHECK(farms[4].design == Design::two_group);
  CHECK(farms[4].model.control_animals == CountModel().animals); // as many as treated
}

TEST_CASE("Every field of a cell comes back as it was set") {
  for (const FarmField& field : farm_fields()) {
    CAPTURE(field.key);
    AuditFarm standard;
    standard.model.worm_share = 0.5; // larvae have no part in a farm of one worm
    standard.model.underdosed = 0.5; // nor has the effect of too little where nobody gets it
    AuditFarm farm = standard;
    field.set(farm, 3);
    CHECK(field.get(farm) == 3);
    AuditFarm again = standard;
    field.set(again, *field.get(farm));
    CHECK(farm_key(again) == farm_key(farm));
    CHECK(farm_key(farm) != farm_key(standard));
  }
  AuditFarm farm;
  for (const double percent : {99.9, 33.3, 0.7, -12.34}) {
    const auto efficacy = std::ranges::find(farm_fields(), "efficacy_percent", &FarmField::key);
    REQUIRE(efficacy != farm_fields().end());
    efficacy->set(farm, percent);
    CHECK(efficacy->get(farm) == percent); // exactly, or parts of an audit would not merge
  }
}

TEST_CASE("After treatment the factor is that of before, unless given") {
  FarmValues values;
  values.numbers = {{"factor_before", {50}}};
  CHECK(combinations(values).front().model.factor_after.value() == 50);
  values.numbers.insert({"factor_after", {10}});
  CHECK(combinations(values).front().model.factor_after.value() == 10);
}

TEST_CASE("The built-in grids hold what the published tables need") {
  for (const BuiltInGrid& grid : built_in_grids()) {
    const auto farms = read_audit_grid(grid.toml, std::string(grid.name));
    CHECK(farms.size() >= (grid.name == "calibration" ? 200 : grid.name == "stress" ? 100 : 70));
  }
  std::set<Design> designs;
  for (const AuditFarm& farm : read_audit_grid(built_in_grids()[0].toml, "calibration")) {
    designs.insert(farm.design);
    CHECK(farm.model.efficacy_cv == 0);
    CHECK(farm.model.shape == LevelShape::gamma);
  }
  CHECK(designs == std::set{Design::paired, Design::two_group, Design::controlled});
}

TEST_CASE("The grid of thresholds has an efficacy just below and just above each") {
  const auto grid = std::ranges::find(built_in_grids(), "thresholds", &BuiltInGrid::name);
  REQUIRE(grid != built_in_grids().end());
  const auto farms = read_audit_grid(grid->toml, "thresholds");
  CHECK(farms.size() <= 200);
  Group sheep;
  sheep.host = "sheep";
  Group horses;
  horses.host = "horses";
  horses.worm = "strongyles";
  horses.classes = {DrugClass::bz};
  for (const Group& group : {sheep, horses})
    for (const AuditCriterion& criterion : audit_criteria(published_cut_offs().criteria, group)) {
      if (criterion.rule != Rule::two_one_sided)
        continue;
      CAPTURE(criterion.name, group.host);
      // Efficacies are read as percentages, and so are not the same to the last bit.
      for (const double threshold : {criterion.cut_off.expected, *criterion.cut_off.lower})
        for (const double beside : {-0.001, 0.001})
          CHECK(std::ranges::any_of(farms, [&](const AuditFarm& farm) {
            return std::abs(farm.model.efficacy - threshold - beside) < 1e-9;
          }));
    }
}

TEST_CASE("The grid of few eggs has 15 to 60 in the whole group") {
  const auto grid = std::ranges::find(built_in_grids(), "few-eggs", &BuiltInGrid::name);
  REQUIRE(grid != built_in_grids().end());
  for (const AuditFarm& farm : read_audit_grid(grid->toml, "few-eggs")) {
    const double eggs = static_cast<double>(farm.model.animals) * farm.model.mean_eggs;
    CHECK(eggs >= 15);
    CHECK(eggs <= 60);
  }
}

TEST_CASE("Grids that cannot be are refused with line and column") {
  const std::string farms = header + "[[cells]]\n";
  CHECK(message("") == "g.toml:1: column 1: found no key schema; expected schema = \"...\"");
  CHECK(message("schema = \"other/1\"\n") ==
        "g.toml:1: column 1: found the schema \"other/1\"; expected \"eggfall.audit-grid/1\"");
  CHECK(message(header) ==
        "g.toml:1: column 1: found no cells; expected at least one section headed [[cells]]");
  CHECK(message(farms + "animals = \"many\"\n") ==
        "g.toml:3: column 11 (animals): found a text; expected a number");
  CHECK(message(farms + "animals = []\n") ==
        "g.toml:3: column 11 (animals): found an empty array; expected a number, or an array of "
        "numbers");
  CHECK(message(farms + "design = \"pairs\"\n") ==
        "g.toml:3: column 10 (design): found \"pairs\"; expected one of paired, two-group, "
        "controlled, baseline");
  CHECK(message(farms + "animals = 7.5\n").find("animals: found 7.5; expected a whole number") !=
        std::string::npos);
  CHECK(message(farms + "k = 0\n").find("k: found 0; expected 0.05 to 1000") != std::string::npos);
  CHECK(message(farms + "k_after = 2\n").find("found 2; expected 0.05 to 0.7") !=
        std::string::npos);
  CHECK(message(farms + "sheep = 2\n").find("the unknown key \"sheep\"") != std::string::npos);
  CHECK(message(farms + "[[cells]]\n").find("a cell that was there before") != std::string::npos);
  CHECK(message(header + "cells = 3\n").find("expected sections headed [[cells]]") !=
        std::string::npos);
  CHECK(message("schema = [").find("no TOML") != std::string::npos);
  CHECK(message("schema=fal\r").find('\r') == std::string::npos); // found by fuzzing
}

TEST_CASE("Combinations: too many, and keys that are none, are refused") {
  FarmValues values;
  values.numbers["animals"] = std::vector<double>(400, 7.0);
  values.numbers["k"] = std::vector<double>(400, 0.7);
  CHECK_THROWS_AS(combinations(values), InputError);
  values.numbers = {{"sheep", {1}}};
  CHECK_THROWS_AS(combinations(values), InputError);
  values = {};
  values.designs = {Design::controlled};
  values.numbers = {{"control_animals", {0}}};
  CHECK_THROWS_AS(combinations(values), InputError);
}

TEST_CASE("Edge inputs are no grid of an audit") {
  support::check_edge_inputs_refused(
      "g.toml", [](const std::string& bytes) { read_audit_grid(bytes, "g.toml"); });
}
