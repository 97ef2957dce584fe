#include "judgement/worm_analysis.hpp"

#include "base/number_words.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/gather_evidence.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

/// The stages after the evidence.
WormAnalysis analysed(WormSource source, GroupEvidence evidence, Judgement judgement,
                      const GroupEvidence& of_group, const CaveatContext& context) {
  WormAnalysis worm;
  worm.worm = evidence.group.worm;
  worm.source = source;
  worm.evidence = std::move(evidence);
  worm.judgement = std::move(judgement);
  worm.caveats = find_caveats(worm, of_group, context);
  worm.judgement.standing = standing_of(worm);
  return worm;
}

} // namespace

std::vector<WormAnalysis> analyse_worms(const Group& group, const Group* control,
                                        const GroupEvidence& shown,
                                        const std::vector<Evidence>& by_design,
                                        const JudgementContext& judging,
                                        const CaveatContext& caveats) {
  std::vector<WormAnalysis> worms;
  const std::vector<std::string> kinds = kinds_told_apart(group);
  AnalysisSettings settings = judging.settings;
  settings.simulations = 0; // what a larger trial would show is told of the whole group alone
  const JudgementContext judging_worms{judging.cut_offs, settings, judging.bootstrap};
  if (!by_design.empty()) {
    const Evidence& all = by_design.front();
    Group cultured = without_larvae_of(group, kinds);
    const std::optional<Group> cultured_control =
        control != nullptr ? std::optional(without_larvae_of(*control, kinds)) : std::nullopt;
    const Group* beside = cultured_control ? &*cultured_control : nullptr;
    for (const std::string& worm : cultured_worms(all.design(), cultured, beside)) {
      const WormEvidence larvae(all, worm_shares(all.design(), cultured, beside, worm));
      cultured.worm = worm;
      GroupEvidence evidence = shown_evidence(cultured, larvae, settings.level);
      Judgement judgement = judge_larvae(evidence, larvae, judging_worms);
      worms.push_back(analysed(WormSource::larval_culture, std::move(evidence),
                               std::move(judgement), shown, caveats));
    }
  }
  for (const std::string& kind : kinds) {
    const Group of_worm = of_kind(group, kind);
    const std::optional<Group> control_of_worm =
        control != nullptr ? std::optional(of_kind(*control, kind)) : std::nullopt;
    const std::vector<Evidence> own =
        evidence_by_design(of_worm, control_of_worm ? &*control_of_worm : nullptr, settings.design,
                           judging.bootstrap, settings.priors);
    GroupEvidence evidence = shown_evidence(of_worm, own, settings.level);
    Judgement judgement = judge_group(evidence, own, judging_worms);
    worms.push_back(analysed(WormSource::eggs_told_apart, std::move(evidence), std::move(judgement),
                             shown, caveats));
  }
  return worms;
}

std::vector<std::string> worms_that(bool (*is_so)(const WormAnalysis&),
                                    const std::vector<WormAnalysis>& worms) {
  std::vector<std::string> names;
  for (const WormAnalysis& worm : worms)
    if (is_so(worm))
      names.push_back(worm.worm);
  return names;
}

bool worms_untold(const Group& group, const std::vector<WormAnalysis>& worms) {
  return worms.empty() && group.worm.empty() &&
         (group.host == "sheep" || group.host == "goats" || group.host == "cattle");
}

std::string judged_together(const Group& group, const std::vector<std::string>& beside) {
  const std::vector<std::string> kinds = kinds_told_apart(group);
  if (kinds.empty())
    return "all worms together";
  const bool of_the_others = std::ranges::all_of(kinds, [&](const std::string& kind) {
    return std::ranges::find(beside, kind) != beside.end();
  });
  return of_the_others ? "the other worms" : fmt::format("all worms but {}", listed(kinds));
}

} // namespace eggfall
