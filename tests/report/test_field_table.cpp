#include "report/field_table.hpp"

#include "base/text.hpp"

#include "support/support.hpp"

#include <optional>
#include <string>

using namespace eggfall;

namespace {

AnimalDose dose(const std::string& animal) {
  AnimalDose result;
  result.animal = animal;
  return result;
}

} // namespace

TEST_CASE("Without weight, dose or day there is no table of them") {
  CHECK(field_table({}, {}).empty());
  DoseCheck doses;
  doses.animals = {dose("1"), dose("2")};
  DayCheck days;
  days.animals.resize(2);
  CHECK(field_table(doses, days).empty());
}

TEST_CASE("The table shows what is known of each animal, and a dash for what is not") {
  DoseCheck doses;
  doses.animals = {dose("ewe 12"), dose("x")};
  AnimalDose& first = doses.animals[0];
  first.weight_kg = 123.4; // No decimals from 100 on, and else three digits.
  first.dose_ml = 9.876;
  first.needed_ml = 10;
  first.share = 0.9876;
  first.mg_per_kg = 4.938;
  doses.animals[1].weight_kg = 41.25;
  DayCheck days;
  days.animals = {{0, 14}, {std::nullopt, 15}};
  CHECK(field_table(doses, days) ==
        "    animal weight   dose needed     of          days   days\n"
        "               kg     mL     mL  label  mg/kg before  after\n"
        "    ewe 12    123   9.88     10    99%   4.94      0     14\n"
        "    x        41.2      -      -      -      -      -     15\n");
}

TEST_CASE("A column in which no animal has anything is left out") {
  DoseCheck doses;
  doses.animals = {dose("1")};
  doses.animals[0].dose_ml = 8;
  DayCheck days;
  days.animals.resize(1);
  CHECK(field_table(doses, days) == "    animal   dose\n"
                                    "               mL\n"
                                    "    1           8\n");
}
