#include "judgement/field_practice.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <string>

using namespace eggfall;

namespace {

/// The compiled-in file with a piece of it changed.
std::string changed(const std::string& from, const std::string& into) {
  std::string toml(field_practice_toml());
  const auto position = toml.find(from);
  REQUIRE(position != std::string::npos);
  return toml.replace(position, from.size(), into);
}

std::string refusal(const std::string& toml) {
  try {
    read_field_practice(toml, "own.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "taken";
}

} // namespace

TEST_CASE("Every threshold of field practice that something goes by is a row with its source") {
  const FieldPractice& practice = field_practice();
  CHECK(practice.rows.size() == 40);
  for (const PracticeThreshold& row : practice.rows) {
    CAPTURE(row.name);
    CHECK(row.value > 0);
    CHECK_FALSE(row.unit.empty());
    CHECK(row.what.ends_with("."));
    CHECK_FALSE(row.citation.source.empty());
    CHECK(row.citation.provenance != Provenance::user);
  }
}

TEST_CASE("A threshold goes where it decides, a share as one in so many") {
  const FieldPractice& practice = field_practice();
  CHECK(practice.first_day == 7);
  CHECK(practice.last_day == 21);
  CHECK(practice.missing_eggs == 1.0 / 3);
  CHECK(practice.animals_on_wrong_days == 0.2);
  CHECK(practice.fewest_animals == 5);
  CHECK(practice.caveats.dominant_share == 0.5);
  CHECK(practice.caveats.control_change == 0.25);
  CHECK(practice.caveats.repeats_disagree == 0.001);
  CHECK(practice.caveats.coarse_for_pools == 50);
  CHECK(practice.caveats.too_long_before == 21);
  CHECK(practice.caveats.highest_mean_epg_of_large_hosts == 5000);
  const FieldPractice other = read_field_practice(
      changed("name = \"missing-eggs\"\nvalue = 3", "name = \"missing-eggs\"\nvalue = 4"), "t");
  CHECK(other.missing_eggs == 0.25);
  CHECK(other.missing_animals == 0.2);
}

TEST_CASE(
    "A file of field practice that lacks a threshold, or has one in another unit, is refused") {
  CHECK_THAT(refusal(changed("name = \"goat-dose\"", "name = \"gote-dose\"")),
             Catch::Contains("found \"gote-dose\"; expected a threshold that something goes by"));
  CHECK_THAT(refusal(changed("unit = \"mL for each kg\"", "unit = \"mg for each kg\"")),
             Catch::Contains("found \"mg for each kg\"; expected \"mL for each kg\""));
  CHECK_THAT(refusal(changed("name = \"last-day\"", "name = \"first-day\"")),
             Catch::Contains("\"first-day\" twice") || Catch::Contains("expected \"days"));
  CHECK_THAT(refusal(changed("value = 21", "value = 21.5")), Catch::Contains("a whole number"));
  CHECK_THAT(refusal(changed("value = 21", "value = 0")), Catch::Contains("no value above 0"));
  CHECK_THAT(refusal("schema = \"eggfall.field-practice/1\"\n"),
             Catch::Contains("no threshold first-day"));
  CHECK_THAT(refusal(changed("provenance = \"practice\"", "provenance = \"user\"")),
             Catch::Contains("published, memory or practice"));
}
