#include "intake/dose_units.hpp"

#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

/// "2 mL for 10 kg"; of the head of a column of rates without the amount.
std::string shown_rate(const std::optional<WrittenRate>& rate) {
  if (!rate)
    return "none";
  return fmt::format("{}{}{} for {:.6g} kg",
                     rate->amount ? fmt::format("{:g} ", *rate->amount) : "",
                     rate->unit == 1 ? "" : fmt::format("{:g} ", rate->unit),
                     rate->by_substance ? "mg" : "mL", rate->kg);
}

} // namespace

TEST_CASE("A rate says how much, of what, and for how many kg") {
  CHECK(shown_rate(written_rate("1 ml/5 kg")) == "1 mL for 5 kg");
  CHECK(shown_rate(written_rate("2.5mL/10kg")) == "2.5 mL for 10 kg");
  CHECK(shown_rate(written_rate("Label dose (ml per 10 kg)")) == "mL for 10 kg");
  CHECK(shown_rate(written_rate("Label ml/kg")) == "mL for 1 kg");
  CHECK(shown_rate(written_rate("label_ml_per_kg")) == "mL for 1 kg");
  CHECK(shown_rate(written_rate("mL kg-1")) == "mL for 1 kg");
  CHECK(shown_rate(written_rate("0,2 mg/kg")) == "0.2 mg for 1 kg");
  CHECK(shown_rate(written_rate("200 \xC2\xB5g/kg")) == "200 0.001 mg for 1 kg");
  CHECK(shown_rate(written_rate("1 ml for every 10 lb")) == "1 mL for 4.53592 kg");
  CHECK(shown_rate(written_rate("1 ml per stone")) == "1 mL for 6.35029 kg");
  CHECK(written_rate("200 mcg/kg")->per_kg(200) == 0.2);
  CHECK(written_rate("1 ml/5 kg")->per_kg(1) == 0.2);
}

TEST_CASE("What may be another rate is none") {
  for (const char* text : {"", "Label", "5 kg/ml", "ml 10 kg", "1-2 ml/10 kg", "1/2 ml/5 kg",
                           "ml/10-15 kg", "0.2 mg/kg (1 ml/50 kg)", "ml/kg up to 30", "ml/0 kg",
                           "1,250 ml/cwt", "mg/ml", "ml per animal"})
    CHECK(shown_rate(written_rate(text)) == "none");
}

TEST_CASE("A cell with a rate says nothing else of its own") {
  CHECK(shown_rate(rate_in_cell("1 ml/5 kg bodyweight")) == "1 mL for 5 kg");
  CHECK(shown_rate(rate_in_cell("1 ml / 5 kg (LW)")) == "1 mL for 5 kg");
  for (const char* cell : {"ml/5 kg", "0.2", "twice 1 ml/5 kg", "1 ml/5 kg + 10%"})
    CHECK(shown_rate(rate_in_cell(cell)) == "none");
}

TEST_CASE("A number below the head of a rate is of its unit") {
  const WrittenRate rate = written_rate("ml/10 kg").value();
  CHECK(number_of_rate("2", rate) == 2);
  CHECK(number_of_rate("2 ml", rate) == 2);
  CHECK_FALSE(number_of_rate("2 mg", rate));
  CHECK_FALSE(number_of_rate("2 ml twice", rate));
  const WrittenRate micrograms = written_rate("mcg/kg").value();
  CHECK(number_of_rate("200 mcg", micrograms) == 200);
  CHECK_FALSE(number_of_rate("0.2 mg", micrograms));
}

TEST_CASE("A head may speak of a label, of a rate, or of a dose") {
  const TableWords& words = TableWords::known();
  CHECK(label_head("Label ml/10 kg", words) == LabelHead::label);
  CHECK(label_head("Recommended dose", words) == LabelHead::label);
  CHECK(label_head("ml/10 kg", words) == LabelHead::rate);
  CHECK(label_head("Dose rate", words) == LabelHead::rate);
  CHECK(label_head("Dose ml/10 kg", words) == LabelHead::a_dose);
  CHECK(label_head("Drug (mg/kg)", words) == LabelHead::none);
  CHECK(label_head("Weight (kg)", words) == LabelHead::none);
}

TEST_CASE("A pound and a stone are what they are by definition") {
  CHECK(kg_in("kg") == 1);
  CHECK(kg_in("lb") == 0.45359237);
  CHECK_THAT(kg_in("st").value(), support::close_to(6.35029318));
  CHECK_FALSE(kg_in("cwt"));
  CHECK_THAT(stones_and_pounds("5 st 4 lb").value(), support::close_to(33.56583538));
  CHECK_FALSE(stones_and_pounds("5 st 4"));
}

TEST_CASE("The first weight is no weight in stones") {
  const TableWords& words = TableWords::known();
  CHECK_FALSE(unit_of_weights("1st weight", words).size);
  CHECK(unit_of_weights("1st weight", words).unknown.empty());
  CHECK(unit_of_weights("1st weight (kg)", words).size == 1);
  CHECK(unit_of_weights("Weight (kg, lb)", words).unknown == "two units");
}

TEST_CASE("A strength is in mg per mL") {
  const TableWords& words = TableWords::known();
  CHECK(strength_in_cell("10 mg/mL") == 10);
  CHECK(strength_in_cell("10 g/L") == 10);
  CHECK_FALSE(strength_in_cell("1%"));
  CHECK_FALSE(strength_in_cell("10"));
  CHECK(unit_of_strengths("Strength mg/ml", words).size == 1);
  CHECK(unit_of_strengths("mg_per_ml", words).size == 1);
  CHECK(unit_of_strengths("Strength (%)", words).unknown == "%");
  CHECK_FALSE(unit_of_strengths("Strength", words).size);
}

TEST_CASE("A head has a unit or a number, or neither") {
  CHECK(has_unit_or_number("Label (ml per cwt)"));
  CHECK(has_unit_or_number("Label 10"));
  CHECK_FALSE(has_unit_or_number("Label dose"));
}
