#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A threshold of field practice, with what it is for and whose it is.
struct PracticeThreshold {
  std::string name;
  double value = 0;
  std::string unit; ///< "one in so many": the share is 1/value.
  std::string what;
  Citation citation;
};

/// From where on a caveat is told. Shares and chances are proportions here.
struct CaveatBounds {
  double dominant_share = 0; ///< Of the eggs after treatment in one animal.
  std::uint64_t dominant_eggs = 0;
  std::uint64_t many_eggs_after = 0;
  double control_change = 0; ///< Fall or rise in the untreated control.
  std::size_t few_positive = 0;
  double fine_for_pools = 0;   ///< EPG per egg seen.
  double coarse_for_pools = 0; ///< The same.
  double repeats_disagree = 0; ///< P value of the dispersion of repeat counts.
  int longest_before = 0;      ///< Days from the first sample to treatment.
  int too_long_before = 0;     ///< The same.
  double rise = 0;             ///< Of treated counts, that a control does not share.
  std::uint64_t eggs_of_rise = 0;
  double highest_mean_epg = 0;
  double highest_mean_epg_of_large_hosts = 0;
  int days_apart = 0;
};

/// Thresholds of field practice, by what they decide. Shares and chances are proportions here.
struct FieldPractice {
  int first_day = 0;
  int first_day_short_acting = 0;
  int first_day_macrocyclic_lactone = 0;
  int last_day = 0;
  int day_of_several_classes = 0;
  double animals_on_wrong_days = 0;
  int control_days_apart = 0;
  double missing_animals = 0;
  double missing_eggs = 0;
  std::size_t fewest_animals = 0;
  double underdose = 0;
  double overdose = 0;
  double goat_dose = 0;
  double common_divisor_chance = 0;
  double swapped_rise = 0;
  std::size_t swapped_eggs = 0;
  double truth_may_be_lower = 0;
  std::size_t plenty_of_eggs = 0;
  double usual_larvae = 0;
  std::size_t usual_group = 0;
  double highest_dose_rate = 0;
  double weight_beside_the_middle = 0;
  double few_eggs_a_sample = 0;
  double likely_rise = 0;
  double unclear_worth_telling = 0;
  CaveatBounds caveats;
  std::vector<PracticeThreshold> rows; ///< All of the above, to be shown.
};

/// The file that is compiled in, src/data/field_practice.toml.
std::string_view field_practice_toml() noexcept;
const FieldPractice& field_practice();

/// @throws InputError, with line and column, for what is no TOML of the schema
///   eggfall.field-practice/1 with each threshold once and in its unit.
FieldPractice read_field_practice(std::string_view toml, const std::string& source);

} // namespace eggfall
