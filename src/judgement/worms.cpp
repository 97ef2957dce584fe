#include "judgement/worms.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "judgement/caveat_words.hpp"
#include "judgement/judgement.hpp"

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

/// Looks at one worm's larvae.
class WormCaveats {
public:
  WormCaveats(const WormAnalysis& analysis, const Evidence& all, const WormEvidence& evidence)
      : analysis_(analysis), all_(all), evidence_(evidence),
        after_(evidence.shares().above.front()), references_(evidence.shares().references()),
        places_(reference_places(analysis.design)) {}

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

  bool eggs_after() const { return all_.reduction() != 1; }

  void absent_before() {
    for (std::size_t i = 0; i < references_.size(); ++i) {
      const WormShare& share = references_[i];
      if (share.total == 0 || share.larvae > 0)
        continue;
      add(Severity::serious, "worm-absent-before",
          fmt::format("None of the {} larvae told apart {} were {}, so that its fall cannot be "
                      "worked out{}.",
                      share.total, places_[i], analysis_.worm,
                      after_.larvae == 0
                          ? ""
                          : fmt::format("; but {} of {} after treatment were: it may survive",
                                        after_.larvae, after_.total)));
    }
  }

  void no_larvae() {
    std::vector<std::string> missing;
    for (std::size_t i = 0; i < references_.size(); ++i)
      if (references_[i].total == 0)
        missing.emplace_back(places_[i]);
    if (after_.total == 0 && eggs_after())
      missing.emplace_back("after treatment");
    if (!missing.empty())
      add(Severity::serious, "no-larvae",
          fmt::format("No larvae were told apart {}, so the fall of a single worm cannot be worked "
                      "out: have faeces cultured on each occasion and in each group compared.",
                      in_words(missing)));
  }

  void few_larvae() {
    if (!evidence_.reduction())
      return;
    const Verdict& verdict = verdict_of(analysis_);
    const std::optional<double> own = verdict.interval ? verdict.interval->lower : std::nullopt;
    // Fewer larvae after treatment only raise the limit: one that is high enough needs no asking.
    const bool in_question = verdict.lower && own && *own < *verdict.lower;
    const auto best = in_question ? best_lower(verdict.interval->level) : std::nullopt;
    const bool short_of = best && *best < *verdict.lower;
    const WormShare& before = references_.front();
    if (short_of)
      add(Severity::serious, "few-larvae",
          fmt::format("{} of {} larvae {} were {}: had none been found after treatment, its lower "
                      "limit would be no more than {}, short of the {:g}% needed to call a drench "
                      "good. Have more larvae told apart.",
                      before.larvae, before.total, places_.front(), analysis_.worm,
                      percent_beside(*best, *verdict.lower), 100 * *verdict.lower));
    std::uint64_t fewest = eggs_after() ? after_.total : before.total;
    for (const WormShare& share : references_)
      fewest = std::min(fewest, share.total);
    if (!short_of && fewest < usual_larvae)
      add(Severity::warning, "few-larvae",
          fmt::format("Only {} larvae were told apart in one of the cultures; {} are usual "
                      "(practice).",
                      fewest, usual_larvae));
  }

  void absent_after() {
    if (!eggs_after() || references_.front().larvae == 0 || after_.larvae > 0 || after_.total == 0)
      return;
    constexpr double luck = 0.05;
    const double hidden = 1 - std::pow(luck, 1 / static_cast<double>(after_.total));
    add(Severity::note, "worm-absent-after",
        fmt::format("None of the {} larvae after treatment were {}; up to {} of those eggs may "
                    "still be its (one time in twenty).",
                    after_.total, analysis_.worm, percent(hidden)));
  }

  /// The lower limit, had none of its larvae been found after treatment.
  std::optional<double> best_lower(double level) const {
    WormShares none = evidence_.shares();
    none.above.front().larvae = 0;
    return WormEvidence(all_, std::move(none)).headline(level).lower;
  }

  const WormAnalysis& analysis_;
  const Evidence& all_;
  const WormEvidence& evidence_;
  WormShare after_;
  std::vector<WormShare> references_;
  std::vector<std::string_view> places_; ///< Of each.
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
    analysis.verdicts.push_back(judge(criteria, of_worm, analysis.design, analysis.reduction,
                                      interval_for(criteria, evidence)));
  analysis.caveats = WormCaveats(analysis, all, evidence).find();
  return analysis;
}

/// The group's cultures without the larvae of worms whose eggs are not among its counts, and what
/// its thresholds hang on; not its animals.
Group without_larvae_of(const Group& group, const std::vector<std::string>& kinds) {
  Group rest;
  rest.host = group.host;
  rest.classes = group.classes;
  rest.culture_before = group.culture_before;
  rest.culture_after = group.culture_after;
  for (Culture* culture : {&rest.culture_before, &rest.culture_after})
    std::erase_if(*culture, [&](const WormLarvae& each) {
      return std::ranges::find(kinds, each.worm) != kinds.end();
    });
  return rest;
}

} // namespace

std::string_view to_string(WormSource source) {
  return source == WormSource::larval_culture ? "larval-culture" : "eggs-told-apart";
}

std::vector<WormAnalysis> worms_by_culture(const Evidence& all, const Group& treated,
                                           const Group* control, const CutOffs& cut_offs,
                                           double level) {
  // Eggs told apart on the slide are not in the counts that the larvae are to split.
  const std::vector<std::string> kinds = kinds_told_apart(treated);
  const Group rest = without_larvae_of(treated, kinds);
  const Group rest_of_control = control != nullptr ? without_larvae_of(*control, kinds) : Group();
  const Group* compared = control != nullptr ? &rest_of_control : nullptr;
  std::vector<WormAnalysis> worms;
  for (const std::string& worm : cultured_worms(all.comparison().design, rest, compared))
    worms.push_back(by_culture(all, rest, compared, worm, cut_offs, level));
  return worms;
}

const Verdict& verdict_of(const WormAnalysis& worm) {
  const auto given = std::ranges::find_if(worm.verdicts, [](const Verdict& verdict) {
    return verdict.verdict_class != VerdictClass::not_applicable;
  });
  return given == worm.verdicts.end() ? worm.verdicts.front() : *given;
}

bool survives(const WormAnalysis& worm) {
  const VerdictClass found = verdict_of(worm).verdict_class;
  return found == VerdictClass::resistant || found == VerdictClass::low_resistant;
}

bool may_survive(const WormAnalysis& worm) {
  const Verdict& verdict = verdict_of(worm);
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

bool worms_untold(const GroupAnalysis& analysis) {
  const std::string& host = analysis.group.host;
  return analysis.worms.empty() && analysis.group.worm.empty() &&
         (host == "sheep" || host == "goats" || host == "cattle");
}

std::vector<std::string> kinds_told_apart(const Group& group) {
  std::set<std::string> kinds;
  for (const Animal& animal : group.animals)
    for (const auto& [kind, samples] : animal.kinds)
      kinds.insert(kind);
  return {kinds.begin(), kinds.end()};
}

std::string judged_together(const GroupAnalysis& analysis, const std::vector<std::string>& beside) {
  const std::vector<std::string> kinds = kinds_told_apart(analysis.group);
  if (kinds.empty())
    return "all worms together";
  const bool of_the_others = std::ranges::all_of(kinds, [&](const std::string& kind) {
    return std::ranges::find(beside, kind) != beside.end();
  });
  return of_the_others ? "the other worms" : fmt::format("all worms but {}", listed(kinds));
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
  worm.mean_epg_before = below.mean_epg;
  if (kind.after.animals > 0)
    worm.eggs_after = kind.after.eggs;
  worm.mean_epg_after = kind.after.mean_epg;
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
