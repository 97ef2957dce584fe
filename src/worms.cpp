#include "eggfall/worms.hpp"

#include "eggfall/percent.hpp"
#include "eggfall/worm_evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// Larvae told apart in each culture, by common practice.
constexpr std::uint64_t usual_larvae = 100;

Verdict judge(const Criteria& criteria, const Group& group, const WormEvidence& evidence) {
  return classify(
      criteria, choose_cut_off(criteria, group), evidence.reduction(),
      evidence.interval(criteria.method.value_or(Method::guarded_posterior), criteria.level));
}

/// Looks at one worm's larvae.
class WormCaveats {
public:
  WormCaveats(const WormAnalysis& analysis, const Evidence& all, const WormEvidence& evidence,
              double level)
      : analysis_(analysis), all_(all), evidence_(evidence), level_(level),
        before_(*analysis.larvae_before), after_(*analysis.larvae_after) {}

  std::vector<Caveat> find() {
    absent_before();
    no_larvae();
    few_larvae();
    absent_after();
    std::ranges::stable_sort(caveats_, {}, &Caveat::severity);
    return std::move(caveats_);
  }

private:
  void add(Severity severity, std::string code, std::string text) {
    caveats_.push_back({std::move(code), std::move(text), severity});
  }

  std::string_view where() const { return where_compared(analysis_.design); }

  bool eggs_after() const { return all_.reduction() != 1; }

  void absent_before() {
    if (before_.total == 0 || before_.larvae > 0 || after_.larvae == 0)
      return;
    add(Severity::serious, "worm-absent-before",
        fmt::format("None of the {} larvae told apart {} were {}, but {} of {} after treatment "
                    "were: its fall cannot be worked out, yet it survived the drench.",
                    before_.total, where(), analysis_.worm, after_.larvae, after_.total));
  }

  void no_larvae() {
    const std::string_view missing = before_.total == 0                  ? where()
                                     : after_.total == 0 && eggs_after() ? "after treatment"
                                                                         : "";
    if (!missing.empty())
      add(Severity::serious, "no-larvae",
          fmt::format("No larvae were told apart {}, so the fall of a single worm cannot be worked "
                      "out: have faeces cultured {} and after treatment.",
                      missing, where()));
  }

  void few_larvae() {
    if (!evidence_.reduction())
      return;
    const auto& lower = analysis_.verdicts.front().lower;
    const auto own = evidence_.headline(level_).lower;
    // Fewer larvae after treatment only raise the limit: one that is high enough needs no asking.
    const bool in_question = lower && own && *own < *lower;
    const auto best = in_question ? best_lower() : std::nullopt;
    const bool short_of = best && *best < *lower;
    if (short_of)
      add(Severity::serious, "few-larvae",
          fmt::format("{} of {} larvae {} were {}: had none been found after treatment, its lower "
                      "limit would be no more than {}, short of the {:g}% needed to call a drench "
                      "good. Have more larvae told apart.",
                      before_.larvae, before_.total, where(), analysis_.worm,
                      percent_beside(*best, *lower), 100 * *lower));
    const std::uint64_t fewest =
        eggs_after() ? std::min(before_.total, after_.total) : before_.total;
    if (!short_of && fewest < usual_larvae)
      add(Severity::warning, "few-larvae",
          fmt::format("Only {} larvae were told apart in one of the cultures; {} are usual "
                      "(practice).",
                      fewest, usual_larvae));
  }

  void absent_after() {
    if (before_.larvae == 0 || after_.larvae > 0 || after_.total == 0)
      return;
    constexpr double luck = 0.05;
    const double hidden = 1 - std::pow(luck, 1 / static_cast<double>(after_.total));
    add(Severity::note, "worm-absent-after",
        fmt::format("None of the {} larvae after treatment were {}; up to {} of those eggs may "
                    "still be its (one time in twenty).",
                    after_.total, analysis_.worm, percent(hidden)));
  }

  /// The lower limit, had none of its larvae been found after treatment.
  std::optional<double> best_lower() const {
    WormShares none = evidence_.shares();
    for (WormShare& share : none.above)
      share.larvae = 0;
    return WormEvidence(all_, std::move(none)).headline(level_).lower;
  }

  const WormAnalysis& analysis_;
  const Evidence& all_;
  const WormEvidence& evidence_;
  double level_;
  WormShare before_;
  WormShare after_;
  std::vector<Caveat> caveats_;
};

WormAnalysis by_culture(const Evidence& all, const Group& treated, const Group* control,
                        const std::string& worm, const CutOffs& cut_offs, double level) {
  const WormEvidence evidence(all, worm_shares(all.comparison().design, treated, control, worm));
  WormAnalysis analysis;
  analysis.worm = worm;
  analysis.source = WormSource::larval_culture;
  analysis.design = all.comparison().design;
  analysis.larvae_before = evidence.shares().below.front();
  analysis.larvae_after = evidence.shares().above.front();
  analysis.reduction = evidence.reduction();
  analysis.headline = evidence.headline(level);
  for (const Method method : evidence.methods())
    analysis.intervals.push_back(evidence.interval(method, level));
  Group of_worm;
  of_worm.host = treated.host;
  of_worm.classes = treated.classes;
  of_worm.worm = worm;
  for (const Criteria& criteria : cut_offs.criteria)
    analysis.verdicts.push_back(judge(criteria, of_worm, evidence));
  analysis.caveats = WormCaveats(analysis, all, evidence, cut_offs.criteria.front().level).find();
  return analysis;
}

} // namespace

std::string_view to_string(WormSource source) {
  return source == WormSource::larval_culture ? "larval-culture" : "eggs-told-apart";
}

std::vector<WormAnalysis> worms_by_culture(const Evidence& all, const Group& treated,
                                           const Group* control, const CutOffs& cut_offs,
                                           double level) {
  const Design design = all.comparison().design;
  std::vector<WormAnalysis> worms;
  for (const std::string& worm : cultured_worms(design, treated, control))
    worms.push_back(by_culture(all, treated, control, worm, cut_offs, level));
  return worms;
}

bool survives(const WormAnalysis& worm) {
  const VerdictClass found = worm.verdicts.front().verdict_class;
  return found == VerdictClass::resistant || found == VerdictClass::low_resistant;
}

bool may_survive(const WormAnalysis& worm) {
  const Verdict& verdict = worm.verdicts.front();
  const bool found_after = (worm.larvae_after && worm.larvae_after->larvae > 0) ||
                           (worm.eggs_after && *worm.eggs_after > 0);
  if (verdict.verdict_class == VerdictClass::susceptible || survives(worm) || !found_after)
    return false;
  return !worm.reduction || (verdict.expected && *worm.reduction < *verdict.expected);
}

std::vector<std::string> worms_that(bool (*so)(const WormAnalysis&),
                                    const std::vector<WormAnalysis>& worms) {
  std::vector<std::string> names;
  for (const WormAnalysis& worm : worms)
    if (so(worm))
      names.push_back(worm.worm);
  return names;
}

std::vector<std::string> kinds_told_apart(const Group& group) {
  std::set<std::string> kinds;
  for (const Animal& animal : group.animals)
    for (const auto& [kind, samples] : animal.kinds)
      kinds.insert(kind);
  return {kinds.begin(), kinds.end()};
}

Group of_kind(const Group& group, const std::string& kind) {
  Group result = group;
  result.worm = kind;
  result.culture_before.clear();
  result.culture_after.clear();
  for (Animal& animal : result.animals) {
    const auto found = animal.kinds.find(kind);
    const Samples samples = found == animal.kinds.end() ? Samples() : found->second;
    animal.before = samples.before;
    animal.after = samples.after;
    animal.repeats_before.clear();
    animal.repeats_after.clear();
    animal.kinds.clear();
  }
  return result;
}

WormAnalysis told_apart(const GroupAnalysis& kind) {
  // The others are of the animals and days, and told for the whole group.
  constexpr std::array<std::string_view, 7> of_the_counts{
      "no-estimate",    "no-interval", "few-eggs-counted", "none-after",
      "animals-differ", "one-animal",  "detection-limit"};
  WormAnalysis worm;
  worm.worm = kind.group.worm;
  worm.source = WormSource::eggs_told_apart;
  worm.design = kind.design.value_or(Design::paired);
  const SampleSummary& below = compared_with(kind);
  if (below.animals > 0)
    worm.eggs_before = below.eggs;
  if (kind.after.animals > 0)
    worm.eggs_after = kind.after.eggs;
  worm.reduction = kind.reduction;
  worm.headline = kind.headline;
  worm.intervals = kind.intervals;
  worm.verdicts = kind.verdicts;
  std::ranges::copy_if(kind.caveats, std::back_inserter(worm.caveats), [&](const Caveat& caveat) {
    return std::ranges::find(of_the_counts, caveat.code) != of_the_counts.end();
  });
  return worm;
}

} // namespace eggfall
