#pragma once

#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/standing.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/trial/trial.hpp"
#include "judgement/judge.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace eggfall {

/// Where the bars of a group, or of one of its worms, are looked for.
struct BarQuestion {
  const Group& group;     ///< Its `worm` is the one that is judged, where one is told apart.
  const Verdict& verdict; ///< The verdict by the counts alone.
  const FieldCheck& field;
  std::size_t animals = 0;       ///< Treated animals (or pools) compared.
  bool limited_by_luck = false;  ///< limited_by_luck() of the verdict.
  bool worms_told_apart = false; ///< Whether any worm of the group was told apart.
  bool units_confirmed = false;  ///< Whether whoever typed the counts said that they are eggs,
                                 ///< though they look like EPG.
  const std::optional<OwnFall>& own_fall; ///< Judgement::own_fall.
};

/// What bars this trial from giving its class, that of the drench's own fall where there is one, in
/// the order of BarCode; the control's bar, if it leaves a class, comes after those that take it
/// away. The bar `surviving_worm` is not among them: the worms have no standing yet. The
/// triggers are practice, and docs/bars.md says what each costs. A bar that would take no class
/// away is left out, but for those that leave no class at all.
std::vector<Bar> find_bars(const BarQuestion& question);

/// Those of a whole group: `judgement` is that of `by_design`, the evidence of `group`, with its
/// worms.
std::vector<Bar> bars_of_group(const Group& group, const Judgement& judgement,
                               const FieldCheck& field, const std::vector<Evidence>& by_design,
                               const JudgementContext& judging);

} // namespace eggfall
