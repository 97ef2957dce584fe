#include "eggfall/simulation/audit_summary.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace eggfall {
namespace {

constexpr double millionths = 1e6;

/// The mean of a share over farms, each counting the same, and the farm where it is worst: the
/// lowest or the highest share, as `worse` says.
class OverFarms {
public:
  template <typename Worse>
  void add(const Share& share, const AuditedFarm& audited, Worse&& worse) {
    if (worst_farm == nullptr || worse(share.value, worst.value)) {
      worst = share;
      worst_farm = &audited;
    }
    sum_ += share.value;
    ++farms;
  }
  double mean() const { return sum_ / static_cast<double>(farms); }

  std::size_t farms = 0;
  Share worst;
  const AuditedFarm* worst_farm = nullptr;

private:
  double sum_ = 0;
};

bool is_higher(double a, double b) {
  return a > b;
}

MissSummary summed_up(const OverFarms& missed) {
  return {missed.mean(), missed.worst, missed.worst_farm};
}

/// Calls use(farm, its tally of the method) for the farms of a design that have trials.
template <typename F>
void each_farm(const AuditResult& result, Design design, Method method, F&& use) {
  for (const AuditedFarm& audited : result.farms) {
    if (audited.farm.design != design || estimable(audited.tally) == 0)
      continue;
    if (const MethodTally* tally = tally_of(audited.tally, method))
      use(audited, *tally);
  }
}

} // namespace

std::vector<Design> audited_designs(const AuditResult& result) {
  std::vector<Design> found;
  for (const AuditedFarm& audited : result.farms)
    if (std::ranges::find(found, audited.farm.design) == found.end())
      found.push_back(audited.farm.design);
  return found;
}

Share share(std::uint64_t x, std::uint64_t n) {
  if (n == 0)
    return {};
  const auto part = static_cast<double>(x);
  const auto whole = static_cast<double>(n);
  const double p = (part + 0.5) / (whole + 1);
  return {part / whole, std::sqrt(p * (1 - p) / (whole + 1))};
}

std::uint64_t estimable(const FarmTally& tally) {
  return tally.trials - tally.without_estimate;
}

const MethodTally* tally_of(const FarmTally& tally, Method method) {
  const auto found = std::ranges::find(tally.methods, method, &MethodTally::method);
  return found == tally.methods.end() ? nullptr : &*found;
}

Share coverage(const FarmTally& tally, const MethodTally& method) {
  return share(method.held, estimable(tally));
}

std::optional<double> mean_width(const MethodTally& method) {
  const std::uint64_t usable = method.held + method.truth_above + method.truth_below;
  if (usable == 0)
    return std::nullopt;
  return static_cast<double>(method.width) / millionths / static_cast<double>(usable);
}

Share verdict_share(const FarmTally& tally, const VerdictTally& verdicts,
                    VerdictClass verdict_class) {
  return share(verdicts[static_cast<std::size_t>(verdict_class)], tally.trials);
}

Share claim_share(const FarmTally& tally, const VerdictTally& verdicts, Claim claim) {
  const auto given = [&](VerdictClass verdict_class) {
    return verdicts[static_cast<std::size_t>(verdict_class)];
  };
  return share(given(VerdictClass::low_resistant) + given(claim == Claim::resistance
                                                              ? VerdictClass::resistant
                                                              : VerdictClass::susceptible),
               tally.trials);
}

bool is_false(Claim claim, double efficacy, const CutOff& cut_off) {
  constexpr double rounding = 1e-9; // the error of an efficacy made of two shares
  return claim == Claim::resistance
             ? efficacy >= cut_off.expected - rounding
             : efficacy < cut_off.lower.value_or(cut_off.expected) - rounding;
}

std::vector<MethodSummary> method_summaries(const AuditResult& result) {
  std::vector<MethodSummary> summaries;
  for (const Design design : audited_designs(result))
    for (const Method method : audited_methods(result.settings, design)) {
      MethodSummary summary;
      summary.design = design;
      summary.method = method;
      OverFarms covered;
      OverFarms above;
      OverFarms below;
      double widths = 0;
      std::size_t with_width = 0;
      each_farm(result, design, method, [&](const AuditedFarm& audited, const MethodTally& tally) {
        const Share here = coverage(audited.tally, tally);
        covered.add(here, audited, [](double a, double b) { return a < b; });
        above.add(share(tally.truth_below, estimable(audited.tally)), audited, is_higher);
        below.add(share(tally.truth_above, estimable(audited.tally)), audited, is_higher);
        summary.below_target += here.value < coverage_target(result.settings.level) ? 1 : 0;
        summary.unusable += share(tally.unusable, estimable(audited.tally)).value;
        if (const auto width = mean_width(tally)) {
          widths += *width;
          ++with_width;
        }
      });
      if (covered.farms == 0)
        continue;
      summary.farms = covered.farms;
      summary.mean_coverage = covered.mean();
      summary.worst = covered.worst;
      summary.worst_farm = covered.worst_farm;
      summary.above = summed_up(above);
      summary.below = summed_up(below);
      summary.unusable /= static_cast<double>(covered.farms);
      if (with_width > 0)
        summary.mean_width = widths / static_cast<double>(with_width);
      summaries.push_back(summary);
    }
  return summaries;
}

std::vector<WidthComparison> width_comparisons(const AuditResult& result) {
  std::vector<WidthComparison> comparisons;
  for (const Design design : audited_designs(result))
    for (const Method method : audited_methods(result.settings, design)) {
      WidthComparison comparison{design, method, 0, 0};
      each_farm(result, design, method, [&](const AuditedFarm& audited, const MethodTally& tally) {
        const MethodTally* guarded = tally_of(audited.tally, Method::guarded_posterior);
        if (method == Method::guarded_posterior || guarded == nullptr ||
            coverage(audited.tally, tally).value < coverage_target(result.settings.level))
          return;
        const double own = mean_width(tally).value_or(0);
        const double theirs = mean_width(*guarded).value_or(0);
        if (own > 0 && theirs > 0) {
          comparison.ratio += std::log(theirs / own);
          ++comparison.farms;
        }
      });
      if (comparison.farms == 0)
        continue;
      comparison.ratio = std::exp(comparison.ratio / static_cast<double>(comparison.farms));
      comparisons.push_back(comparison);
    }
  return comparisons;
}

std::vector<ClaimSummary> claim_summaries(const AuditResult& result) {
  std::vector<ClaimSummary> summaries;
  for (const Design design : audited_designs(result))
    for (std::size_t c = 0; c < result.settings.criteria.size(); ++c)
      for (const Claim claim : {Claim::resistance, Claim::good_efficacy})
        for (const Method method : audited_methods(result.settings, design)) {
          OverFarms made;
          each_farm(result, design, method,
                    [&](const AuditedFarm& audited, const MethodTally& tally) {
                      if (is_false(claim, true_efficacy(audited.farm.model),
                                   result.settings.criteria[c].cut_off))
                        made.add(claim_share(audited.tally, tally.verdicts[c], claim), audited,
                                 is_higher);
                    });
          if (made.farms > 0)
            summaries.push_back(
                {design, method, c, claim, made.farms, made.mean(), made.worst, made.worst_farm});
        }
  return summaries;
}

VerdictShares verdict_shares(const FarmTally& tally, const VerdictTally& verdicts) {
  VerdictShares shares{};
  for (std::size_t v = 0; v < verdict_classes; ++v)
    shares[v] = verdict_share(tally, verdicts, static_cast<VerdictClass>(v)).value;
  return shares;
}

VerdictShares mean_verdict_shares(const std::vector<const AuditedFarm*>& farms, Method method,
                                  std::size_t criterion) {
  VerdictShares means{};
  for (const AuditedFarm* audited : farms) {
    const VerdictShares shares =
        verdict_shares(audited->tally, tally_of(audited->tally, method)->verdicts[criterion]);
    for (std::size_t v = 0; v < verdict_classes; ++v)
      means[v] += shares[v];
  }
  for (double& mean : means)
    mean /= static_cast<double>(farms.size());
  return means;
}

VerdictClass deserved_verdict(const AuditCriterion& criterion, double efficacy) {
  Interval known;
  known.lower = efficacy;
  known.upper = efficacy;
  return verdict_class_by(criterion.rule, criterion.cut_off, efficacy, known);
}

Method judging_method(const AuditCriterion& criterion) {
  return criterion.method.value_or(Method::guarded_posterior);
}

std::vector<EfficacySummary> efficacy_summaries(const AuditResult& result, std::size_t criterion) {
  const Method method = judging_method(result.settings.criteria[criterion]);
  std::vector<EfficacySummary> summaries;
  for (const Design design : audited_designs(result)) {
    std::map<double, std::vector<const AuditedFarm*>> by_efficacy;
    for (const AuditedFarm& audited : result.farms) {
      if (audited.farm.design != design || audited.tally.trials == 0 ||
          tally_of(audited.tally, method) == nullptr)
        continue;
      constexpr double fineness = 1e6; // efficacies that differ by rounding alone are one
      by_efficacy[std::round(fineness * true_efficacy(audited.farm.model)) / fineness].push_back(
          &audited);
    }
    for (const auto& [efficacy, farms] : by_efficacy)
      summaries.push_back(
          {design, efficacy, farms.size(), mean_verdict_shares(farms, method, criterion)});
  }
  return summaries;
}

} // namespace eggfall
