#include "judgement/larvae_caveats.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/statistics/worm_evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// Larvae told apart in each culture, by common practice.
constexpr std::uint64_t usual_larvae = 100;

/// Looks at one worm's larvae.
class LarvaeCaveats {
public:
  LarvaeCaveats(const WormAnalysis& worm, const GroupEvidence& of_group)
      : worm_(worm), of_group_(of_group), after_(worm.evidence.larvae->above.front()),
        references_(worm.evidence.larvae->references()),
        places_(reference_places(*worm.evidence.design)) {}

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
          fmt::format("None of the {} larvae told apart {} were {}, so that its fall cannot be "
                      "worked out{}.",
                      share.total, places_[i], worm_.worm,
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
      add(Severity::serious, CaveatCode::no_larvae,
          fmt::format("No larvae were told apart {}, so the fall of a single worm cannot be worked "
                      "out: have faeces cultured on each occasion and in each group compared.",
                      in_words(missing)));
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
          fmt::format("{} of {} larvae {} were {}: had none been found after treatment, its lower "
                      "limit would be no more than {}, short of the {:g}% needed to call a drench "
                      "good. Have more larvae told apart.",
                      before.larvae, before.total, places_.front(), worm_.worm,
                      percent_beside(*best, *threshold), 100 * *threshold));
    std::uint64_t fewest = eggs_after() ? after_.total : before.total;
    for (const WormShare& share : references_)
      fewest = std::min(fewest, share.total);
    if (!short_of && fewest < usual_larvae)
      add(Severity::warning, CaveatCode::few_larvae,
          fmt::format("Only {} larvae were told apart in one of the cultures; {} are usual "
                      "(practice).",
                      fewest, usual_larvae));
  }

  void absent_after() {
    if (!eggs_after() || references_.front().larvae == 0 || after_.larvae > 0 || after_.total == 0)
      return;
    constexpr double luck = 0.05;
    const double hidden = 1 - std::pow(luck, 1 / static_cast<double>(after_.total));
    add(Severity::note, CaveatCode::worm_absent_after,
        fmt::format("None of the {} larvae after treatment were {}; up to {} of those eggs may "
                    "still be its (one time in twenty).",
                    after_.total, worm_.worm, percent(hidden)));
  }

  const WormAnalysis& worm_;
  const GroupEvidence& of_group_;
  WormShare after_;
  std::vector<WormShare> references_;
  std::vector<std::string_view> places_; ///< Of each.
  std::vector<Caveat> caveats_;
};

} // namespace

std::vector<Caveat> larvae_caveats(const WormAnalysis& worm, const GroupEvidence& of_group) {
  return LarvaeCaveats(worm, of_group).find();
}

} // namespace eggfall
