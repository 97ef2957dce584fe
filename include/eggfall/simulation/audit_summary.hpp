#pragma once

#include "eggfall/simulation/audit.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace eggfall {

/// The designs of a result, in order of appearance.
std::vector<Design> audited_designs(const AuditResult& result);

/// A share of trials, and its Monte Carlo standard error sqrt(p (1 - p) / (n + 1)) with p =
/// (x + 1/2) / (n + 1), which is above 0 even if x is 0 or n. Both 0 if n is 0.
struct Share {
  double value = 0;
  double error = 0;
};

Share share(std::uint64_t x, std::uint64_t n);

/// Trials with a reduction: all that a method can be blamed for.
std::uint64_t estimable(const FarmTally& tally);

/// The tally of a method, or nullptr if it was not audited. Lives as long as `tally`.
const MethodTally* tally_of(const FarmTally& tally, Method method);

/// Share of the estimable trials whose interval held the truth; an interval that does not exist
/// did not.
Share coverage(const FarmTally& tally, const MethodTally& method);

/// Mean width of the usable intervals, in points of percent, with MethodTally's cut at -100%;
/// nothing if none was usable.
std::optional<double> mean_width(const MethodTally& method);

/// The share of all trials that were given the class.
Share verdict_share(const FarmTally& tally, const VerdictTally& verdicts,
                    VerdictClass verdict_class);

/// A share for each class, in the order of VerdictClass.
using VerdictShares = std::array<double, verdict_classes>;

/// verdict_share() of each class.
VerdictShares verdict_shares(const FarmTally& tally, const VerdictTally& verdicts);

/// The mean over farms, each counting the same, of verdict_shares() by a method under the criterion
/// of this number in AuditSettings::criteria. There must be a farm, and each must have the method.
VerdictShares mean_verdict_shares(const std::vector<const AuditedFarm*>& farms, Method method,
                                  std::size_t criterion);

/// The class that a criterion gives to a farm whose efficacy is known.
VerdictClass deserved_verdict(const AuditCriterion& criterion, double efficacy);

/// The method by whose interval a criterion judges: the one it demands, or the one shown first.
Method judging_method(const AuditCriterion& criterion);

/// What a criterion calls the farms of one true efficacy.
struct EfficacySummary {
  Design design = Design::paired;
  double efficacy = 0; ///< Rounded to six decimals, so that rounding makes no new one.
  std::size_t farms = 0;
  VerdictShares verdicts{}; ///< mean_verdict_shares() by judging_method().
};

/// One summary a design and true efficacy, in rising order of the latter, by the criterion of this
/// number. Farms without a trial, or without judging_method(), are left out.
std::vector<EfficacySummary> efficacy_summaries(const AuditResult& result, std::size_t criterion);

/// What a criterion claims of a farm, whatever it calls the class.
enum class Claim {
  resistance,    ///< Efficacy below the expected: resistant, low resistant.
  good_efficacy, ///< Efficacy at or above the lower threshold: susceptible, low resistant.
};

/// The share of all trials in which the claim was made.
Share claim_share(const FarmTally& tally, const VerdictTally& verdicts, Claim claim);

/// Whether the claim is false of a farm with this efficacy: resistance at or above the expected
/// efficacy; good efficacy below the lower threshold (or below the expected one, if the criterion
/// has no other). Farms between the two make neither claim false.
bool is_false(Claim claim, double efficacy, const CutOff& cut_off);

/// The intervals that missed the truth on one side, over the farms of one design.
struct MissSummary {
  double mean = 0; ///< Share of the estimable trials, over farms, each counting the same.
  Share worst;
  const AuditedFarm* worst_farm = nullptr; ///< In the result, which must live on.
};

/// A method over the farms of one design.
struct MethodSummary {
  Design design = Design::paired;
  Method method = Method::guarded_posterior;
  std::size_t farms = 0;
  std::size_t below_target = 0; ///< Farms with a coverage below coverage_target().
  double mean_coverage = 0;     ///< Over farms, each counting the same.
  Share worst;
  const AuditedFarm* worst_farm = nullptr; ///< In the result, which must live on.
  /// Intervals wholly above the truth, which flatter the drench: MethodTally::truth_below.
  MissSummary above;
  /// Intervals wholly below the truth, which make it look worse: MethodTally::truth_above.
  MissSummary below;
  std::optional<double> mean_width; ///< Over the farms that have one.
  double unusable = 0;              ///< Share of estimable trials, mean over farms.
};

/// The least coverage to be had, in every farm, of an interval of this level: two points of
/// percent below it, so 0.88 of a 90% interval.
constexpr double coverage_target(double level) {
  return level - 0.02;
}

/// One summary a design and method, in the order of first appearance. Farms without an
/// estimable trial are left out.
std::vector<MethodSummary> method_summaries(const AuditResult& result);

/// What the coverage of the method shown first costs in width, against a method that covers too.
struct WidthComparison {
  Design design = Design::paired;
  Method method = Method::bootstrap_bca;
  std::size_t farms = 0; ///< In which `method` covers at coverage_target() or more.
  double ratio = 1; ///< Geometric mean over them of the guarded posterior's width over its own.
};

/// One comparison for each other method, in the order of method_summaries(); none without a farm.
std::vector<WidthComparison> width_comparisons(const AuditResult& result);

/// How often a criterion made a false claim with a method's interval, over the farms of one
/// design in which it would be false.
struct ClaimSummary {
  Design design = Design::paired;
  Method method = Method::guarded_posterior;
  std::size_t criterion = 0; ///< In AuditSettings::criteria.
  Claim claim = Claim::resistance;
  std::size_t farms = 0;
  double mean = 0; ///< Over farms, each counting the same.
  Share worst;
  const AuditedFarm* worst_farm = nullptr;
};

/// Claims in the order design, criterion, claim, method; none without a farm.
std::vector<ClaimSummary> claim_summaries(const AuditResult& result);

} // namespace eggfall
