#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/statistics/proportion.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "statistics/region_law.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

// The words that a survey is told in, on screen and on its page.
namespace eggfall {

/// Classes that share a column of a survey's tables, and what it is called.
struct VerdictColumn {
  std::vector<VerdictClass> classes;
  std::string_view short_head; ///< For a screen: "susc.".
  std::string_view name;       ///< "susceptible".
};

/// The columns of the classes that the rule can give, susceptible first. "Open" is a group that the
/// rule, or a bar, leaves undecided. Groups without a class are in none of the columns.
std::vector<VerdictColumn> verdict_columns(Rule rule);

/// How many groups stand in a column.
std::uint64_t groups_in(const VerdictColumn& column, const VerdictTally& tally);

/// "Northmoor, 2030"; a value that is missing is "not given", and no field at all is "all groups".
std::string stratum_name(const Stratum& stratum);

/// "by region, year"
std::string breakdown_name(const std::vector<SurveyField>& fields);

/// Whether any group gives any of the fields.
bool says_something(const Breakdown& breakdown);

/// A proportion of 100 with its limits, as "50 (32 to 68)"; "-" if there is none.
std::string of_100_with_limits(const Proportion& share);

/// A proportion of 100, as "62"; "-" if there is none.
std::string of_100(const Proportion& share);

/// What the share of resistant groups is, and the most that it may be.
std::string shares_note(Rule rule);

/// What a bar found, in a few words: "too few eggs to tell it from luck".
std::string bar_words(BarCode code);

/// How many groups lost the class of their counts, and why; empty for none.
std::string barred_note(const Survey& survey);

/// What the shares do not mean.
std::string sampling_note();

/// That eggs of some worms are counted apart; empty where none are.
std::string kinds_note(const SurveySize& surveyed);

/// "12 (8 to 16)"
std::string number_below(const GroupsBelow& groups);

/// What the numbers of all farms together mean (RegionPicture), and what they do not.
std::string pictures_note();

/// What to do next.
std::string survey_next_step(const StratumSummary& all);

/// "90% intervals (posterior, guarded)", or "no interval".
std::string level_text(const Criteria& criteria);

/// Which cut-offs are from memory, in lines of a screen; empty for none.
std::string memory_note(const Criteria& criteria);

} // namespace eggfall
