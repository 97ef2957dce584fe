#pragma once

#include "plan/field_sheets.hpp"

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

// The words that the sheets on paper and on screen share.
namespace eggfall {

/// "BZ, white drench", "untreated".
std::string treatment_text(const PlannedGroup& group);

/// "0.2 mL per kg (5 mg per kg, of 25 mg per mL)"; empty without a label's rate.
std::string label_text(const PlannedGroup& group);

/// "30 animals were allocated ..."
std::string allocation_text(const FieldSheets& sheets);

/// Warnings on days, groups and doses that the user should know before going to the yard.
std::vector<std::string> field_sheet_cautions(const FieldSheets& sheets);

/// "Day 14: Mon 26 May 2031", "Days 8 to 10".
std::string second_sample_days(const FieldSheets& sheets);

/// A second sample on days of its own, beside the one of all groups.
struct ExtraVisit {
  std::size_t group = 0; ///< Place in the groups.
  std::string who;       ///< "white and the control"
  std::string days;      ///< "days 8 to 10: Tue 20 to Thu 22 May"
};

/// One for each group whose own days are not those of all. The control is sampled with it, for a
/// fall is freed of the season only by untreated animals that were sampled on its days.
std::vector<ExtraVisit> extra_visits(const FieldSheets& sheets);

/// "days 8 to 10: Tue 20 to Thu 22 May"; without a date of treatment "days 8 to 10".
std::string days_with_dates(const std::optional<std::chrono::year_month_day>& day0, int first,
                            int last);

/// "1st", "2nd", "11th"
std::string ordinal(std::size_t number);

/// Where the days come from, and whose own days they are not; a sentence each.
std::vector<std::string> second_sample_notes(const FieldSheets& sheets);

} // namespace eggfall
