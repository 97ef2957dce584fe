#include "judgement/larvae_caveats.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/larvae_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// Looks at one worm's larvae.
class LarvaeCaveats {
public:
  LarvaeCaveats(const WormAnalysis& worm, const GroupEvidence& of_group)
      : worm_(worm), of_group_(of_group), after_(worm.evidence.larvae->above.front()),
        references_(worm.evidence.larvae->references()),
        places_(reference_places(*worm.evidence.design, *worm.evidence.larvae)) {}

  std::vector<Caveat> find() {
    absent_before();
    no_larvae();
    few_larvae();
    absent_after();
    std::ranges::stable_sort(caveats_, {}, &Caveat::severity);
    return std::move(caveats_);
  }

private:
  void add(Severity severity, CaveatCode code, std::string text) {
    caveats_.push_back({code, std::move(text), severity});
  }

  bool eggs_after() const { return of_group_.reduction != 1; }

  void absent_before() {
    for (std::size_t i = 0; i < references_.size(); ++i) {
      const WormShare& share = references_[i];
      if (share.total == 0 || share.larvae > 0)
        continue;
      add(Severity::serious, CaveatCode::worm_absent_before,
          fmt::format(
              "None of the {}larvae told apart {} were {}, so that its fall cannot be "
              "worked out{}.{}",
              share.open ? "" : fmt::format("{} ", share.total), places_[i], worm_.worm,
              after_.larvae == 0
                  ? ""
                  : fmt::format("; but {} after treatment were: it {}", larvae_in_short(after_),
                                finds_resistance(verdict_of(worm_).verdict_class) ? "survives"
                                                                                  : "may survive"),
              bound()));
    }
  }

  /// What is known without the share that is missing.
  std::string bound() const {
    const Interval& known = worm_.evidence.headline;
    return known.has_one_limit() ? fmt::format(" Had all eggs {} been its own, it would be {}.",
                                               places_.front(), limit_in_words(known))
                                 : std::string();
  }

  /// The same in words that are alike for all worms.
  std::string bounds() const {
    const Interval& known = worm_.evidence.headline;
    return known.has_one_limit()
               ? fmt::format(" The limit shown holds even had all eggs {} been of that worm.",
                             known.upper ? places_.front() : "after treatment")
               : std::string();
  }

  void no_larvae() {
    std::vector<std::string> missing;
    for (std::size_t i = 0; i < references_.size(); ++i)
      if (references_[i].total == 0)
        missing.emplace_back(places_[i]);
    if (after_.total == 0 && eggs_after())
      missing.emplace_back("after treatment");
    if (!missing.empty())
      add(Severity::serious, CaveatCode::no_larvae,
          fmt::format("No larvae were told apart {}, so the fall of a single worm cannot be worked "
                      "out: have faeces cultured on each occasion and in each group compared.{}",
                      in_words(missing), bounds()));
  }

  void few_larvae() {
    if (!worm_.evidence.reduction)
      return;
    const auto& best = worm_.judgement.best_lower;
    const auto& threshold = verdict_of(worm_).lower;
    const bool short_of = best && *best < *threshold;
    const WormShare& before = references_.front();
    if (short_of)
      add(Severity::serious, CaveatCode::few_larvae,
          fmt::format("{} {} were {}: had none been found after treatment, its lower "
                      "limit would be no more than {}, short of the {:g}% needed to call a drench "
                      "good. Have more larvae told apart.",
                      capitalised(larvae_in_words(before)), places_.front(), worm_.worm,
                      percent_beside(*best, *threshold), 100 * *threshold));
    const auto told = [](const WormShare& share) { // what was not told is said of all worms alike
      return share.open && !share.open->number_told ? field_practice().usual_larvae : share.total;
    };
    double fewest = told(eggs_after() ? after_ : before);
    for (const WormShare& share : references_)
      fewest = std::min(fewest, told(share));
    if (!short_of && fewest < field_practice().usual_larvae)
      add(Severity::warning, CaveatCode::few_larvae,
          fmt::format("Only {} larva{} told apart in one of the cultures; {} are usual "
                      "(practice).",
                      fewest, fewest == 1 ? " was" : "e were", field_practice().usual_larvae));
  }

  void absent_after() {
    if (!eggs_after() || references_.front().larvae == 0 || after_.larvae > 0 || after_.total == 0)
      return;
    constexpr double luck = 0.05;
    // A percentage of 0 leaves some numbers of larvae open, of which the largest is added, so that
    // the bound holds whichever is true.
    const double hidden =
        std::min(1.0, 1 - std::pow(luck, 1 / after_.total) +
                          (after_.open ? after_.open->range.most / after_.total : 0));
    add(Severity::note, CaveatCode::worm_absent_after,
        fmt::format("None of the {}larvae after treatment were {}; up to {} of those eggs may "
                    "still be its (one time in twenty).",
                    after_.open ? "" : fmt::format("{} ", after_.total), worm_.worm,
                    percent(hidden)));
  }

  const WormAnalysis& worm_;
  const GroupEvidence& of_group_;
  WormShare after_;
  std::vector<WormShare> references_;
  std::vector<std::string_view> places_; ///< Of each.
  std::vector<Caveat> caveats_;
};

/// A culture that there is, and where.
struct PlacedCultureOf {
  const Culture* culture;
  std::string place;
};

std::vector<PlacedCultureOf> cultures_of(const Group& group, const Group* control) {
  std::vector<PlacedCultureOf> all{{&group.culture_before, "before treatment"},
                                   {&group.culture_after, "after treatment"}};
  if (control != nullptr) {
    all.push_back({&control->culture_before, "in the control group before treatment"});
    all.push_back({&control->culture_after, "in the control group after treatment"});
  }
  std::erase_if(all, [](const PlacedCultureOf& each) { return each.culture->empty(); });
  return all;
}

std::string mixed_text(const Culture& culture, const Group& group) {
  std::vector<std::string> others;
  for (const std::string& name : culture.mixed_groups)
    if (name != group.name)
      others.push_back(name);
  return fmt::format(
      "Faeces of this group were cultured together with those of {} before treatment: the shares "
      "are of them all. So the falls of a worm in these groups are not independent: an error in "
      "its "
      "share makes all of them too high, or all too low.",
      in_words(others));
}

void add_percentages(std::vector<Caveat>& caveats, const std::vector<PlacedCultureOf>& cultures) {
  std::vector<std::string> unnumbered;
  std::vector<std::string> rounded;
  double rounded_to = 0;
  for (const auto& [culture, place] : cultures)
    if (culture->percentages) {
      (culture->percentages->number_told ? rounded : unnumbered).push_back(place);
      rounded_to = std::max(rounded_to, culture->percentages->rounded_to);
    }
  if (!unnumbered.empty())
    caveats.push_back(
        {CaveatCode::larvae_in_percent,
         fmt::format("Percentages are given and not how many larvae were told apart {}: they are "
                     "taken to be of {} larvae (laboratories tell 100 apart, some 50: practice), "
                     "rounded to {:g}%. Were they fewer, less is known than the intervals say: ask "
                     "the laboratory for the number.",
                     in_words(unnumbered), larvae_taken_for_granted, rounded_to),
         Severity::warning});
  if (!rounded.empty())
    caveats.push_back(
        {CaveatCode::larvae_in_percent,
         fmt::format("Percentages {}, rounded to {:g}%, may stand for several numbers of larvae: "
                     "the intervals allow for all of them.",
                     in_words(rounded), rounded_to),
         Severity::note});
}

} // namespace

std::vector<Caveat> culture_caveats(const Group& group, const Group* control,
                                    const std::vector<WormAnalysis>& worms) {
  std::vector<Caveat> caveats;
  const auto cultured = std::ranges::find(worms, WormSource::larval_culture, &WormAnalysis::source);
  if (cultured == worms.end())
    return caveats;
  if (const std::string text = stand_in_words(*cultured->evidence.larvae); !text.empty())
    caveats.push_back({CaveatCode::culture_stands_in,
                       text +
                           " Where the groups' worms, or the days', were not alike, the falls of "
                           "single worms are wrong by as much: have the missing one cultured "
                           "next time.",
                       Severity::warning});
  const std::vector<PlacedCultureOf> cultures = cultures_of(group, control);
  for (const auto& [culture, place] : cultures)
    if (!culture->mixed_groups.empty()) {
      caveats.push_back(
          {CaveatCode::culture_of_several_groups, mixed_text(*culture, group), Severity::warning});
      break; // the groups' others before treatment are of the same, or named like it
    }
  add_percentages(caveats, cultures);
  return caveats;
}

std::vector<Caveat> larvae_caveats(const WormAnalysis& worm, const GroupEvidence& of_group) {
  return LarvaeCaveats(worm, of_group).find();
}

} // namespace eggfall
