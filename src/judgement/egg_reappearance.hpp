#pragma once

#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "judgement/reappearance_rows.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace eggfall {

/// The outcome's name in JSON, which never changes: "not-worked-out", ...
std::string_view to_string(ReappearanceOutcome outcome);

/// Whether the period was shorter than expected rather than not (a chance of 1/2 or more), but not
/// as surely as the outcome `shorter` asks.
bool is_likely_shorter(const EggReappearance& reappearance);

/// Whether eggs came back sooner than is expected of the drench, for all that is known.
enum class EarlyReturn { none, likely, sure };

/// How sure it is that eggs came back early. It is `none` where the drench's `standing` is failing
/// already, since eggs that never went away cannot come back.
EarlyReturn early_return(const VisitCourse& course, VerdictClass standing);

/// How long the drench kept strongyle eggs away, by the visits later than the test's own sample
/// (see EggReappearance). It is not worked out, and the reason says why, for other worms than
/// strongyles; where the day of the test's own sample is not known; where that sample gives no fall
/// or was no reduction test; and where its fall is below the threshold, or the drench stands as
/// resistant or suspected, since eggs that never went away cannot come back.
///
/// Let F be the first day of the first week in which eggs are expected back, and b(d) the chance
/// that they were back by a visit on day d. The chance that the period was shorter than expected is
/// at least b of the last visit before F (0 without such a visit). If that visit is in the week
/// before F the chance is also at most this; otherwise it is at most b of the first visit from F
/// on. The outcome is `shorter` if the lower bound is (1 + level)/2 or more, `not_shorter` if the
/// upper bound is (1 - level)/2 or less, and `ends_too_early` if there is no visit to bound it from
/// above.
///
/// `judgement` must be complete. Gives nothing without visits, or if no row is for the hosts.
std::optional<EggReappearance> egg_reappearance(const ReappearanceRows& rows, const Group& group,
                                                const Judgement& judgement,
                                                const std::vector<VisitFall>& visits, double level);

} // namespace eggfall
