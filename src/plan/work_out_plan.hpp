#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/plan/plan.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace eggfall {

/// What a plan is asked for, before the criteria have said what it is judged by.
struct PlanWish {
  PlannedFlock flock;
  PlanChoices choices;
  std::vector<double> efficacies; ///< True ones to show; proportions.
  double power = PlanAim().power; ///< Wanted, as a proportion.
  std::size_t trials = AuditSettings::default_trials;
  std::uint64_t seed = 1;
  std::optional<Pilot> pilot; ///< What the flock's mean and k were taken from.
};

/// Carries out an audit, on as many threads as it likes.
using SimulateAudit =
    std::function<AuditResult(const std::vector<AuditFarm>& farms, const AuditSettings& settings)>;

/// The plan that answers a wish, judged by the first of the criteria: every option simulated, and
/// then what cases_to_try() asks for.
/// @throws InputError as plan_aim() and check() do.
Plan work_out_plan(const PlanWish& wish, const CutOffs& cut_offs, const SimulateAudit& simulate);

} // namespace eggfall
