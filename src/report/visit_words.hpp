#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <vector>

// The words that visits after treatment are told in, on screen and on paper.
namespace eggfall {

/// "week 4", "day 30", or "day not known".
std::string visit_name(const std::optional<int>& day);

/// "from memory", "published", ...: for a bracket beside a number.
std::string whence(const Citation& citation);

/// Which sample the reduction test was judged on: "judged on day 14 alone, of visits on day 14, 28
/// and 42". The group must have visits.
std::string judged_on_text(const GroupAnalysis& analysis);

/// A table for the screen: a row for each visit. The visits must not be none.
std::string visits_table(const std::vector<VisitFall>& visits);

/// Animals of a visit that could not be compared: "2 not sampled", ...; empty if there are none.
std::string not_compared_text(const VisitFall& visit);

/// What the visits show of the drench's lasting, in one short sentence: the finding of a figure.
std::string visits_finding(const GroupAnalysis& analysis);

/// When eggs came back, how sure that is, and what is expected; whole sentences. The last says what
/// is taken for granted.
std::vector<std::string> reappearance_sentences(const EggReappearance& reappearance,
                                                const Standing& standing);

/// The same for the farmer, in a sentence; empty where there is nothing that he must know.
std::string plain_reappearance(const VisitCourse& course);

} // namespace eggfall
