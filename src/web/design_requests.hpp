#pragma once

#include "web/fields.hpp"
#include "web/reply.hpp"
#include "web/surroundings.hpp"

#include <string>
#include <vector>

namespace eggfall::web {

/// Which design can answer, by simulation. Fields: flock, choices and aim of a plan
/// (docs/browser.md). Reply: nothing. Files: plan.html, plan.json and plan.csv.
Reply plan_test(Fields& fields, const std::vector<std::string>& files,
                const Surroundings& surroundings);

/// Sheets for yard and bench. Fields: those of field sheets (docs/browser.md). Reply: noticed
/// (lines). Files: sheets.html and counts.csv.
Reply make_field_sheets(Fields& fields, const std::vector<std::string>& files,
                        const Surroundings& surroundings);

/// The bench calculator. Fields: those of a counting method, and "wanted", a factor. Reply:
/// suspension_ml; of chambers counted counted_ml, factor and most_unseen_epg; for a wanted factor
/// volume_to_count_ml and, where a chamber's volume is known, chambers_to_count.
Reply work_out_factor(Fields& fields, const std::vector<std::string>& files,
                      const Surroundings& surroundings);

/// What forms offer. Reply: version; hosts (words); classes (name, words); criteria
/// (name, title); lessons (name, title, lesson, ask, host, groups); ink_properties (CSS).
Reply list_choices(Fields& fields, const std::vector<std::string>& files,
                   const Surroundings& surroundings);

} // namespace eggfall::web
