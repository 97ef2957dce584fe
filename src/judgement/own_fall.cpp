#include "judgement/own_fall.hpp"

#include "eggfall/base/error.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/judge.hpp"
#include "statistics/season.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

/// The two cultures' shares of a worm, if it was there to be told apart both times.
std::optional<WormShares> cultured_shares(const Group& control, const std::string& worm) {
  WormShares shares = worm_shares(Design::paired, control, nullptr, worm);
  const WormShare& after = shares.above.front();
  const WormShare& before = shares.below.front();
  return after.total > 0 && before.larvae > 0 ? std::optional(std::move(shares)) : std::nullopt;
}

/// The evidence of a worm of which one limit alone is known, with the season taken out of the law
/// that this limit is read from (WormEvidence::bounding_law()).
class SeasonedBound {
public:
  SeasonedBound(const WormEvidence& worm, const LogRatioDensity& season)
      : known_(worm.known_limits()), why_not_(worm.guarded().why_not()),
        seasoned_(std::nullopt, *worm.bounding_law(), season) {}

  Design design() const { return seasoned_.design(); }
  std::optional<double> reduction() const { return std::nullopt; }

  Interval interval(Method method, double level) const {
    return known_part(seasoned_.interval(method, level), known_, why_not_);
  }

  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

private:
  KnownLimits known_;
  std::string why_not_;
  SeasonedEvidence seasoned_;
};

std::optional<OwnFall> own_bound(const Criteria& criteria, const Group& group,
                                 const WormEvidence& worm,
                                 const std::optional<ToldSeason>& season) {
  if (!season || worm.design() != Design::paired)
    return std::nullopt;
  try {
    const SeasonedBound seasoned(worm, season->law);
    OwnFall own;
    own.verdict = judge(criteria, group, &seasoned);
    own.control_fall = season->control_fall;
    return own.verdict.verdict_class == VerdictClass::not_applicable
               ? std::nullopt
               : std::optional(std::move(own));
  } catch (const CalculationError&) {
    return std::nullopt; // as in own_fall_by()
  }
}

template <typename SomeEvidence>
std::optional<OwnFall> own_fall_by(const Criteria& criteria, const Group& group,
                                   const SomeEvidence& evidence,
                                   const std::optional<ToldSeason>& season) {
  if (!season || evidence.design() != Design::paired || !evidence.guarded())
    return std::nullopt;
  try {
    const SeasonedEvidence seasoned(evidence.reduction(), evidence.guarded(), season->law);
    OwnFall own;
    own.verdict = judge(criteria, group, &seasoned);
    if (own.verdict.verdict_class == VerdictClass::not_applicable)
      return std::nullopt; // no rule, or one that asks for an interval which no season enters
    own.control_fall = season->control_fall;
    own.probabilities = probabilities_of(own.verdict, seasoned.guarded());
    own.law = *seasoned.guarded();
    return own;
  } catch (const CalculationError&) {
    return std::nullopt; // one odd group must not take the others' results with it
  }
}

} // namespace

std::optional<ToldSeason> season_told_by(const Group* control, const PosteriorPriors& priors) {
  if (control == nullptr)
    return std::nullopt;
  const auto paired = compare(Design::paired, *control, nullptr);
  if (!paired || totals_of(paired->arms.front().below).eggs == 0)
    return std::nullopt;
  try {
    return ToldSeason{season_of(paired->arms.front(), priors.within_animals),
                      Evidence(*paired, priors).reduction()};
  } catch (const CalculationError&) {
    return std::nullopt; // counts so odd that nothing can be told by them
  }
}

bool shares_season(const ControlAnalysis* control, const FieldCheck& field) {
  const auto near = [](const std::optional<int>& apart) {
    return apart.value_or(0) <= field_practice().control_days_apart;
  };
  return control != nullptr && control->season && field.control &&
         near(field.control->first_samples) && near(field.control->second_samples);
}

std::optional<ToldSeason> shared_season(const ControlAnalysis* control, const FieldCheck& field) {
  if (!shares_season(control, field))
    return std::nullopt;
  return ToldSeason{*control->season, control->reduction};
}

std::optional<ToldSeason> season_of_worm(const std::optional<ToldSeason>& of_all,
                                         const Group* control, const std::string& worm) {
  if (!of_all || control == nullptr)
    return of_all;
  const auto shares = cultured_shares(*control, worm);
  if (!shares)
    return of_all;
  ToldSeason season{of_worm(of_all->law, shares->above, shares->below), std::nullopt};
  if (const WormShare& after = shares->above.front(); of_all->control_fall) {
    const WormShare& before = shares->below.front();
    const auto share = [](const WormShare& seen) { return seen.larvae / seen.total; };
    season.control_fall = 1 - (1 - *of_all->control_fall) * share(after) / share(before);
  }
  return season;
}

std::optional<EfficacyProbabilities> probabilities_of(const Verdict& verdict,
                                                      const OrReason<GuardedLaw>& law) {
  if (!law || !verdict.interval || !verdict.interval->usable() ||
      verdict.interval->method != Method::guarded_posterior)
    return std::nullopt;
  // The envelope G rises, but the smoothed law of lumpy resamples may dip by a hundredth, so that a
  // chance read from it could contradict a limit. The verdict's limits are quantiles of G: chances
  // at thresholds beyond a limit are held to what that limit claims.
  const double tail = (1 - verdict.interval->level) / 2;
  const auto below = [&](double efficacy) {
    const double read = law->probability_efficacy_below(efficacy);
    const double least = efficacy > *verdict.interval->upper   ? 1 - tail
                         : efficacy > *verdict.interval->lower ? tail
                                                               : 0;
    const double most = efficacy <= *verdict.interval->lower   ? tail
                        : efficacy <= *verdict.interval->upper ? 1 - tail
                                                               : 1;
    return std::clamp(read, least, most);
  };
  EfficacyProbabilities result;
  result.below_expected = below(*verdict.expected);
  result.below_lower = std::min(below(*verdict.lower), result.below_expected);
  result.between = result.below_expected - result.below_lower;
  result.at_least_expected = 1 - result.below_expected;
  return result;
}

std::optional<OwnFall> own_fall(const Criteria& criteria, const Group& group,
                                const Evidence& evidence, const std::optional<ToldSeason>& season) {
  return own_fall_by(criteria, group, evidence, season);
}

std::optional<OwnFall> own_fall(const Criteria& criteria, const Group& group,
                                const WormEvidence& larvae,
                                const std::optional<ToldSeason>& season) {
  return larvae.bounding_law() ? own_bound(criteria, group, larvae, season)
                               : own_fall_by(criteria, group, larvae, season);
}

} // namespace eggfall
