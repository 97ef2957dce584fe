#include "judgement/worm_analysis.hpp"

#include "base/number_words.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/find_bars.hpp"
#include "judgement/gather_evidence.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

/// The stages after the evidence. `field` is the group's field work, as far as it tells of this
/// worm.
WormAnalysis analysed_worm(WormSource source, GroupEvidence evidence, Judgement judgement,
                           const FieldCheck& field, const AnalysedGroup& analysed,
                           const JudgementContext& judging, const CaveatContext& context) {
  WormAnalysis worm;
  worm.worm = evidence.group.worm;
  worm.source = source;
  worm.evidence = std::move(evidence);
  worm.judgement = std::move(judgement);
  worm.caveats = find_caveats(worm, analysed.shown, context);
  const std::size_t animals =
      source == WormSource::larval_culture ? analysed.shown.animals : worm.evidence.animals;
  worm.judgement.standing =
      standing_of(worm, find_bars({.group = worm.evidence.group,
                                   .verdict = verdict_of(worm),
                                   .field = field,
                                   .animals = animals,
                                   .worms_told_apart = true,
                                   .units_confirmed = judging.settings.units_confirmed,
                                   .own_fall = worm.judgement.own_fall}));
  return worm;
}

/// The control group as `change` leaves it, if there is one.
template <typename Change>
std::optional<Group> changed(const Group* control, const Change& change) {
  return control != nullptr ? std::optional(change(*control)) : std::nullopt;
}

const Group* pointer_to(const std::optional<Group>& group) {
  return group ? &*group : nullptr;
}

/// The field work of a group, as far as it tells of one worm that larvae tell apart. The falls of
/// all eggs without the under-dosed animals are taken out: they say nothing of one worm, since
/// nobody can tell which animals' larvae hatched. What animals missing after treatment could change
/// is worked out anew, since the culture before treatment holds their eggs and the one after does
/// not. With s = (1 - fall of the worm) / (1 - fall of all), which is the worm's share after
/// treatment over its share before, the share of eggs left becomes s times as much; what the
/// missing would have kept is the same share of the worm's eggs before treatment as of all eggs.
FieldCheck field_of_cultured(const FieldCheck& of_all, const std::optional<double>& fall_of_all,
                             const std::optional<double>& fall_of_worm) {
  FieldCheck field = of_all;
  field.gross_doses.reduction_without_under.reset();
  field.doses.reduction_without_under.reset();
  if (!field.missing_after)
    return field;
  MissingAfter& gone = *field.missing_after;
  const auto unchanged = std::exchange(gone.fall_if_unchanged, std::nullopt);
  const auto none = std::exchange(gone.fall_if_none, std::nullopt);
  if (!unchanged || !none || !fall_of_all || !fall_of_worm)
    return field;
  const double left_of_all = 1 - *fall_of_all;
  const double share = left_of_all > 0 ? (1 - *fall_of_worm) / left_of_all : 0;
  const double kept_by_missing = *none - *unchanged;
  gone.fall_if_none = 1 - share * (1 - *none);
  gone.fall_if_unchanged = *gone.fall_if_none - kept_by_missing;
  return field;
}

/// The field work of a group, as far as it tells of one kind of egg that was counted apart: its
/// doses and missing animals are set against that kind's own counts, of which `by_design` is the
/// evidence.
FieldCheck field_of_kind(const FieldCheck& of_all, const Group& kind,
                         const std::vector<Evidence>& by_design) {
  FieldCheck field = of_all;
  field.doses = check_doses(kind, of_all.doses.bounds);
  field.gross_doses = check_doses(kind, of_all.gross_doses.bounds);
  field.missing_after.reset();
  if (!by_design.empty())
    field.missing_after = missing_after(kind, by_design.front().comparison());
  return field;
}

/// Adds the worms told by larval culture. Larvae of `kinds` are left out, whose eggs are not among
/// the counts that larvae split.
void add_cultured(std::vector<WormAnalysis>& worms, const AnalysedGroup& analysed,
                  const std::vector<std::string>& kinds, const JudgementContext& judging,
                  const CaveatContext& context) {
  const Evidence& all = analysed.by_design.front();
  const auto without_kinds = [&](const Group& one) { return without_larvae_of(one, kinds); };
  Group cultured = without_kinds(analysed.group);
  const std::optional<Group> control_left = changed(analysed.control, without_kinds);
  for (const std::string& worm : cultured_worms(all.design(), cultured, pointer_to(control_left))) {
    const WormEvidence larvae(all,
                              worm_shares(all.design(), cultured, pointer_to(control_left), worm));
    cultured.worm = worm;
    GroupEvidence evidence = shown_evidence(cultured, larvae, judging.settings.level);
    Judgement judgement = judge_larvae(
        cultured, larvae, season_of_worm(analysed.season, pointer_to(control_left), worm), judging);
    const FieldCheck field = field_of_cultured(analysed.field, all.reduction(), larvae.reduction());
    worms.push_back(analysed_worm(WormSource::larval_culture, std::move(evidence),
                                  std::move(judgement), field, analysed, judging, context));
  }
}

/// The analysis of a worm by its own eggs, which were told apart on the slide and counted in
/// columns of their own.
WormAnalysis told_on_the_slide(const AnalysedGroup& analysed, const std::string& kind,
                               const JudgementContext& judging, const CaveatContext& context) {
  const auto of_this_kind = [&](const Group& one) { return of_kind(one, kind); };
  const Group own = of_this_kind(analysed.group);
  const std::optional<Group> control_own = changed(analysed.control, of_this_kind);
  const std::vector<Evidence> by_design = evidence_by_design(
      own, pointer_to(control_own), judging.settings.design, judging.settings.priors);
  GroupEvidence evidence = shown_evidence(own, by_design, judging.settings.level);
  // The season is that of this kind's eggs in the control; whether the control's days are the
  // group's own is already known from the season of all.
  const std::optional<ToldSeason> season =
      analysed.season ? season_told_by(pointer_to(control_own), judging.settings.priors)
                      : std::nullopt;
  Judgement judgement = judge_counts(own, by_design, season, judging);
  const FieldCheck field = field_of_kind(analysed.field, own, by_design);
  return analysed_worm(WormSource::eggs_told_apart, std::move(evidence), std::move(judgement),
                       field, analysed, judging, context);
}

} // namespace

std::vector<WormAnalysis> analyse_worms(const AnalysedGroup& analysed,
                                        const JudgementContext& judging,
                                        const CaveatContext& context) {
  const std::vector<std::string> kinds = kinds_told_apart(analysed.group);
  std::vector<WormAnalysis> worms;
  if (!analysed.by_design.empty())
    add_cultured(worms, analysed, kinds, judging, context);
  for (const std::string& kind : kinds)
    worms.push_back(told_on_the_slide(analysed, kind, judging, context));
  return worms;
}

bool any_worm_told(const Group& group, const Group* control) {
  const auto cultured = [](const Group& one) {
    return !one.culture_before.empty() || !one.culture_after.empty();
  };
  return cultured(group) || (control != nullptr && cultured(*control)) ||
         !kinds_told_apart(group).empty();
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
  // A worm whose larvae are known on one occasion alone can hide as well as one of which nothing is
  // known, and larvae that were told apart as others are none of a worm.
  const bool told = std::ranges::any_of(worms, [](const WormAnalysis& worm) {
    return worm.source == WormSource::eggs_told_apart ||
           (worm.evidence.headline.usable() && worm.worm != "other");
  });
  return !told && group.worm.empty() &&
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
