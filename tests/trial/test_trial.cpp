#include "eggfall/trial/trial.hpp"

#include "eggfall/base/error.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE(
    "A class is read by the trade's abbreviation, a substance or in words, whatever the case") {
  std::vector<DrugClass> all;
  for (const char* name : {"BZ", "lv", "Ml", "AD", "si", "PYR"}) {
    const auto parsed = parse_drug_class(name);
    REQUIRE(parsed);
    all.push_back(*parsed);
  }
  CHECK(to_string(all) == "BZ+LV+ML+AD+SI+PYR");
  CHECK(all == std::vector<DrugClass>(all_drug_classes.begin(), all_drug_classes.end()));
  CHECK(parse_drug_class("Ivermectin") == DrugClass::ml);
  CHECK(parse_drug_class("fenbendazole") == DrugClass::bz);
  CHECK(parse_drug_class("morantel") == DrugClass::pyr);
  CHECK(parse_drug_class("BENZIMIDAZOLES") == DrugClass::bz);
  CHECK(parse_drug_class("macrocyclic lactone") == DrugClass::ml);
  for (const char* none : {"", "BZs", "closantel", "triclabendazole", "white", " BZ"})
    CHECK_FALSE(parse_drug_class(none));
  CHECK_THROWS_AS(to_string(static_cast<DrugClass>(99)), CalculationError);
}

TEST_CASE("A mixture names each class once, in one order") {
  using Classes = std::vector<DrugClass>;
  CHECK(parse_drug_classes("lv + bz") == Classes{DrugClass::bz, DrugClass::lv});
  CHECK(parse_drug_classes("ML+BZ+ml") == Classes{DrugClass::bz, DrugClass::ml});
  CHECK(parse_drug_classes("pyr") == Classes{DrugClass::pyr});
  CHECK(parse_drug_classes("derquantel + Abamectin") == Classes{DrugClass::ml, DrugClass::si});
  CHECK(parse_drug_classes("ivermectin+ML") == Classes{DrugClass::ml});
  for (const char* none : {"", "BZ+", "+BZ", "BZ+XX", "BZ,LV", "BZ+closantel"})
    CHECK_FALSE(parse_drug_classes(none));
  CHECK(to_string(Classes()).empty());
}

TEST_CASE("A host has one spelling, and an unknown one is kept") {
  CHECK(canonical_host("Goat") == "goats");
  CHECK(canonical_host("goats") == "goats");
  CHECK(canonical_host("KIDS") == "goats");
  CHECK(canonical_host("lambs") == "sheep");
  CHECK(canonical_host("calf") == "cattle");
  CHECK(canonical_host("foals") == "horses");
  CHECK(canonical_host("pig") == "pigs");
  CHECK(canonical_host("wether") == "sheep");
  CHECK(canonical_host("Alpaca") == "alpacas");
  CHECK(canonical_host("Yak") == "yak");
  CHECK(canonical_host("").empty());
}

TEST_CASE("A worm has one spelling, and an unknown one is kept") {
  CHECK(canonical_worm("Strongyle") == "strongyles");
  CHECK(canonical_worm("cyathostomins") == "strongyles");
  CHECK(canonical_worm("Parascaris") == "ascarids");
  CHECK(canonical_worm("ascarids") == "ascarids");
  CHECK(canonical_worm("Haemonchus") == "haemonchus");
  CHECK(canonical_worm("H. contortus") == "haemonchus");
  CHECK(canonical_worm("Worm X") == "worm x");
}

TEST_CASE("Larvae are added up beyond what one of them may number") {
  const Culture culture{{"haemonchus", 4'000'000'000}, {"cooperia", 4'000'000'000}};
  CHECK(total_larvae(culture) == 8'000'000'000);
  CHECK(total_larvae({}) == 0);
  CHECK(larvae_of(culture, "cooperia") == 4'000'000'000);
  CHECK(larvae_of(culture, "nematodirus") == 0);
  CHECK(larvae_of({}, "cooperia") == 0);
}

TEST_CASE("The control group of a trial is found, wherever it stands") {
  Trial trial;
  CHECK(control_of(trial) == nullptr);
  trial.groups.resize(3);
  CHECK(control_of(trial) == nullptr);
  trial.groups[1].role = Role::control;
  CHECK(control_of(trial) == &trial.groups[1]);
  CHECK(to_string(trial.groups[0].role) == "treated");
  CHECK(to_string(trial.groups[1].role) == "control");
}
