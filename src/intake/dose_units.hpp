#pragma once

#include "intake/table_words.hpp"

#include <optional>
#include <string>
#include <string_view>

/// The units of weights, doses, strengths and label rates, as heads and cells write them. A unit
/// that is not known is told as such, and never taken for ours: stones that pass for kilograms make
/// a full dose look like six, and a rate ten times too large excuses a drench that fails.
namespace eggfall {

/// So much of a drench, or of its substance, for so much of an animal: "1 mL per 5 kg".
struct WrittenRate {
  bool by_substance = false;    ///< In mg, or else in mL.
  std::optional<double> amount; ///< Before the unit; nothing in "mL per 5 kg", a head of numbers.
  double unit = 1;              ///< In mL or mg: of "mcg" 0.001.
  double kg = 1;                ///< For which it is.
  std::string text;             ///< As written, but for its case.

  /// A number of this unit as mL, or mg, per kg.
  double per_kg(double number) const;
};

/// The rate that a text holds: "Label dose (mL/10 kg)", "1 ml per 11 lb", "0.2 mg/kg". Nothing if
/// it holds none or several, or another number beside it that may change it ("1-2 mL/10 kg").
std::optional<WrittenRate> written_rate(std::string_view text);

/// The same of a cell, which has an amount and says nothing else of its own.
std::optional<WrittenRate> rate_in_cell(std::string_view cell);

/// A number in a cell below the head of a rate, "2" or "2 mL", the unit that of the rate.
std::optional<double> number_of_rate(std::string_view cell, const WrittenRate& rate);

/// What the words of a head leave of its being a rate on a label.
enum class LabelHead {
  none,   ///< It says nothing of a label or a rate.
  label,  ///< A label, or what is recommended.
  rate,   ///< A rate, and not whose.
  a_dose, ///< A dose by weight, which may be what was given.
};

LabelHead label_head(std::string_view head, const TableWords& words);

/// Whether a head that names no rate has a unit or a number in it all the same, as "Label (mL per
/// cwt)" has.
bool has_unit_or_number(std::string_view head);

/// What a head says of the unit of the numbers below it.
struct UnitOfHead {
  std::optional<double> size; ///< Of the unit in ours; nothing: none is said.
  /// Words that say another unit, or may say one, and are not known; empty: none.
  std::string unknown;
  /// They are known to be units, and no words in brackets that might be anything.
  bool surely = false;
};

UnitOfHead unit_of_weights(std::string_view head, const TableWords& words);   ///< Ours: kg.
UnitOfHead unit_of_doses(std::string_view head, const TableWords& words);     ///< Ours: mL.
UnitOfHead unit_of_strengths(std::string_view head, const TableWords& words); ///< Ours: mg per mL.

/// Kilograms in one of "kg", "lb" or "st", by their words; nothing for another word.
std::optional<double> kg_in(std::string_view unit);

/// "5 st 4 lb" in kg.
std::optional<double> stones_and_pounds(std::string_view cell);

/// "10 mg/mL" as 10; nothing for a cell that says no such unit.
std::optional<double> strength_in_cell(std::string_view cell);

} // namespace eggfall
