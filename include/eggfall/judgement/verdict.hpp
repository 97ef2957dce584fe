#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// What a criterion makes of the worms in front of a drench.
enum class VerdictClass {
  susceptible,
  low_resistant,
  resistant,
  suspected,
  inconclusive,
  not_applicable,
};

/// In the order of their values.
inline constexpr std::array all_verdict_classes{
    VerdictClass::susceptible, VerdictClass::low_resistant, VerdictClass::resistant,
    VerdictClass::suspected,   VerdictClass::inconclusive,  VerdictClass::not_applicable};

std::string_view to_string(VerdictClass verdict_class);
std::optional<VerdictClass> parse_verdict_class(std::string_view name);

/// Whether a class finds resistance, strongly or not, or suspects it.
bool finds_resistance(VerdictClass verdict_class);

/// What one criterion makes of one reduction: the class, with all that it rests on.
struct Verdict {
  std::string criteria;       ///< Criteria::name.
  std::string criteria_title; ///< Criteria::title.
  VerdictClass verdict_class = VerdictClass::not_applicable;
  std::optional<Interval> interval; ///< The interval compared, if the rule compares one.
  std::optional<double> reduction;  ///< The reduction judged, a proportion.
  std::optional<Design> design;     ///< The design it comes from.
  std::optional<double> expected;   ///< The thresholds compared with, as proportions.
  std::optional<double> lower;
  std::string reason;         ///< The numbers compared, in a sentence; or why it does not apply.
  std::string missing_column; ///< The same as CutOffChoice::missing_column.
  Citation citation;
};

/// The lowest threshold that a verdict was given by: the lower one, or the expected efficacy where
/// the rule has no other (Rule::reduction_alone). A proportion; nothing if the criterion has no
/// cut-off for the group.
std::optional<double> lowest_threshold(const Verdict& verdict);

/// The class by two one-sided tests of `interval` against the thresholds; see
/// Rule::two_one_sided. A limit equal to the lower threshold is at or above it,
/// and one equal to the expected efficacy is not below it.
VerdictClass two_one_sided(double lower_limit, double upper_limit, double lower_threshold,
                           double expected);

/// The class by `rule`: `reduction` is a proportion, `interval` must be usable
/// (Rule::reduction_alone ignores it).
VerdictClass verdict_class_by(Rule rule, const CutOff& cut_off, double reduction,
                              const Interval& interval);

/// Applies a criterion's rule. `reduction` is a proportion; `interval` is the one
/// the criterion demands, at its level (ignored by Rule::reduction_alone).
Verdict classify(const Criteria& criteria, const CutOffChoice& choice,
                 const std::optional<double>& reduction, const Interval& interval);

} // namespace eggfall
