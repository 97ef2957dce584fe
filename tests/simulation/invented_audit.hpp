#pragma once

#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/simulation/audit.hpp"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

// Results of an audit with tallies made up by hand.
namespace invented_audit {

using namespace eggfall;

inline CutOff cut_off(double expected, std::optional<double> lower) {
  CutOff result;
  result.expected = expected;
  result.lower = lower;
  return result;
}

/// Classes in the order of VerdictClass: susceptible, low resistant, resistant, suspected,
/// inconclusive, not applicable.
inline MethodTally tally(Method method, std::uint64_t held, std::uint64_t above,
                         std::uint64_t below, std::uint64_t unusable, std::uint64_t width,
                         const VerdictTally& verdicts) {
  return {method, held, above, below, unusable, width, {verdicts}};
}

inline AuditedFarm farm(Design design, double efficacy, std::uint64_t trials, std::uint64_t without,
                        std::vector<MethodTally> methods) {
  AuditedFarm result;
  result.farm.design = design;
  result.farm.model.efficacy = efficacy;
  result.farm.model.control_animals = 15;
  result.tally.trials = trials;
  result.tally.without_estimate = without;
  result.tally.methods = std::move(methods);
  return result;
}

inline constexpr Method resampled = Method::bootstrap_bca;
inline constexpr Method exact = Method::egg_totals_exact;

/// Two paired farms, of 98% and 80% efficacy, and one two-group farm without an estimable trial.
inline AuditResult two_cells() {
  AuditResult result;
  result.settings.methods = {resampled, exact};
  AuditCriterion criterion;
  criterion.cut_off = cut_off(0.95, 0.90);
  result.settings.criteria = {criterion};
  result.farms = {
      farm(Design::paired, 0.98, 110, 10,
           {tally(resampled, 90, 4, 2, 4, 960'000'000, {50, 3, 8, 0, 39, 10}),
            tally(exact, 80, 12, 8, 0, 500'000'000, {60, 5, 20, 0, 15, 10})}),
      farm(Design::paired, 0.80, 200, 0,
           {tally(resampled, 150, 20, 10, 20, 3'600'000'000, {4, 2, 160, 0, 14, 20}),
            tally(exact, 0, 0, 0, 200, 0, {1, 0, 190, 0, 9, 0})}),
      farm(Design::two_group, 0.80, 5, 5,
           {tally(resampled, 0, 0, 0, 0, 0, {0, 0, 0, 0, 0, 5}),
            tally(exact, 0, 0, 0, 0, 0, {0, 0, 0, 0, 0, 5})}),
  };
  return result;
}

} // namespace invented_audit
