#include "judgement/gather_evidence.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

/// `SomeEvidence` is an Evidence, or a WormEvidence.
template <typename SomeEvidence>
DesignEstimate estimate(const SomeEvidence& evidence, double level) {
  DesignEstimate result;
  result.design = evidence.design();
  result.reduction = evidence.reduction();
  result.headline = evidence.headline(level);
  for (const Method method : evidence.methods())
    result.intervals.push_back(evidence.interval(method, level));
  return result;
}

MethodDisagreement disagreement(const DesignEstimate& estimate) {
  MethodDisagreement result;
  const auto posterior =
      std::ranges::find(estimate.intervals, posterior_method(estimate.design), &Interval::method);
  if (posterior == estimate.intervals.end() || !posterior->usable())
    return result;
  const auto& fall = estimate.reduction;
  result.fall_outside_posterior =
      fall && *fall < 1 && (*fall < *posterior->lower || *fall > *posterior->upper);
  constexpr double much = 0.67;
  const double posterior_width = *posterior->upper - *posterior->lower;
  for (const Interval& interval : estimate.intervals) {
    if (!interval.usable())
      continue;
    if (interval.method == Method::bootstrap_bca)
      result.bootstrap_reaches_further =
          *interval.lower < *posterior->lower || *interval.upper > *posterior->upper;
    if (*interval.upper - *interval.lower < much * posterior_width)
      result.much_narrower.push_back(interval.method);
  }
  return result;
}

void set_estimate(GroupEvidence& shown, DesignEstimate estimate) {
  shown.disagreement = disagreement(estimate);
  shown.design = estimate.design;
  shown.reduction = estimate.reduction;
  shown.headline = std::move(estimate.headline);
  shown.intervals = std::move(estimate.intervals);
}

} // namespace

std::vector<Evidence> evidence_by_design(const Group& group, const Group* control,
                                         const std::optional<Design>& design,
                                         const PosteriorPriors& priors) {
  const auto first = design ? design : preferred_design(group, control);
  std::vector<Evidence> by_design;
  const auto add = [&](Design wanted) {
    if (auto comparison = compare(wanted, group, control))
      by_design.emplace_back(std::move(*comparison), priors);
  };
  if (first)
    add(*first);
  if (by_design.empty())
    return by_design;
  for (const Design other : all_designs)
    if (other != *first)
      add(other);
  return by_design;
}

TreatedCounts treated_counts(const Group& group, const Comparison* comparison) {
  TreatedCounts counts;
  if (comparison != nullptr) {
    counts.before = comparison->arms.front().below;
    counts.after = comparison->arms.front().above;
  }
  const bool pairs = !counts.before.empty();
  for (const Animal& animal : group.animals) {
    if (!pairs && animal.before)
      counts.before.push_back(*animal.before);
    if (comparison == nullptr && animal.after)
      counts.after.push_back(*animal.after);
  }
  return counts;
}

GroupEvidence shown_evidence(const Group& group, const std::vector<Evidence>& by_design,
                             double level) {
  GroupEvidence shown;
  shown.group = group;
  shown.animal_results = animal_results(group);
  const Comparison* comparison = by_design.empty() ? nullptr : &by_design.front().comparison();
  const TreatedCounts counts = treated_counts(group, comparison);
  shown.before = summarise(counts.before);
  shown.after = summarise(counts.after);
  if (comparison == nullptr)
    return shown;
  set_estimate(shown, estimate(by_design.front(), level));
  shown.animals = counts.after.size();
  if (comparison->arms.size() > 1)
    shown.control = summarise(comparison->arms.back().below);
  shown.dropped = comparison->dropped;
  shown.law = by_design.front().guarded();
  for (std::size_t i = 1; i < by_design.size(); ++i)
    shown.other_designs.push_back(estimate(by_design[i], level));
  return shown;
}

GroupEvidence shown_evidence(const Group& group, const WormEvidence& larvae, double level) {
  GroupEvidence shown;
  shown.group = group;
  shown.larvae = larvae.shares();
  set_estimate(shown, estimate(larvae, level));
  shown.law = larvae.guarded();
  return shown;
}

} // namespace eggfall
