#pragma once

#include "web/fields.hpp"
#include "web/reply.hpp"
#include "web/surroundings.hpp"

#include <string>
#include <vector>

namespace eggfall::web {

/// Many trials together. Fields: those of a reading, "criteria", "cutOffs", "by", "unitsConfirmed"
/// and "wanted". Each table is read by itself, as `eggfall survey` does.
///
/// Reply: told and noticed (lines); beware (lines that come before any share), units_in_doubt
/// (groups barred by it); tables (name, columns, rows of name and cells) and shares_note; courses
/// (counted, from_the_first, told, more, note, next) or null. Files: survey.json, survey.html,
/// survey.txt, rows.csv and years.csv, of which "wanted" may name some.
Reply survey_trials(Fields& fields, const std::vector<std::string>& files,
                    const Surroundings& surroundings);

} // namespace eggfall::web
