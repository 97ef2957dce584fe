#include "judgement/decide_standing.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <cstddef>
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

using enum VerdictClass;

Verdict verdict(VerdictClass verdict_class, const std::string& title = "title") {
  Verdict result;
  result.criteria_title = title;
  result.verdict_class = verdict_class;
  result.expected = 0.95;
  return result;
}

Caveat caveat(CaveatCode code, Severity severity) {
  return {code, "text", severity};
}

/// Told apart on the slide: 8 of 100 eggs are left.
WormAnalysis worm(VerdictClass verdict_class) {
  WormAnalysis result;
  result.source = WormSource::eggs_told_apart;
  result.evidence.design = Design::paired;
  result.evidence.before = summarise(support::counts({100}, 1));
  result.evidence.after = summarise(support::counts({8}, 1));
  result.evidence.reduction = 0.92;
  result.judgement.verdicts = {verdict(verdict_class)};
  result.judgement.standing = standing_of(result, {});
  return result;
}

Bar bar(BarCode code) {
  return {code, "why", "plainly why", "what to do"};
}

Judgement judged(VerdictClass verdict_class) {
  Judgement judgement;
  judgement.verdicts = {verdict(verdict_class)};
  return judgement;
}

/// A group that meets its rule, and all that may be said against it.
struct Result {
  Judgement judgement = judged(susceptible);
  std::vector<Caveat> caveats;

  Standing standing() const { return standing_of(judgement, caveats, {}); }
};

void add_chance_below(Result& result, double chance) {
  result.judgement.probabilities = EfficacyProbabilities{chance, 0, chance, 1 - chance};
}

/// What brings each Care about, in the order of Care.
const std::vector<std::pair<Care, std::function<void(Result&)>>> reasons{
    {Care::later_visit,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::later_visit, Severity::warning));
     }},
    {Care::worm_may_survive,
     [](Result& result) { result.judgement.worms.push_back(worm(inconclusive)); }},
    {Care::larvae_without_eggs,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::larvae_without_eggs, Severity::serious));
     }},
    {Care::truth_may_be_lower, [](Result& result) { add_chance_below(result, 0.34); }},
    {Care::stricter_rule,
     [](Result& result) { result.judgement.verdicts.push_back(verdict(suspected)); }},
    {Care::repeats_disagree,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::repeats_disagree, Severity::warning));
     }},
    {Care::sampled_early,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::sampled_early, Severity::warning));
     }},
    {Care::sampled_long_before,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::sampled_long_before, Severity::serious));
     }},
    {Care::overdosed,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::overdosed, Severity::warning));
     }},
    {Care::missing_after,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::missing_after, Severity::warning));
     }},
    {Care::few_eggs,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::none_after, Severity::serious));
     }},
    {Care::few_animals,
     [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::few_animals, Severity::serious));
     }},
    {Care::other_warning, [](Result& result) {
       result.caveats.push_back(caveat(CaveatCode::one_animal, Severity::warning));
     }}};

} // namespace

TEST_CASE("Each class of a group has its sign, and no care unless the rule is met") {
  const std::vector<std::pair<VerdictClass, DrenchSign>> signs{
      {susceptible, DrenchSign::works},        {low_resistant, DrenchSign::some_survive},
      {resistant, DrenchSign::failing},        {suspected, DrenchSign::may_fail},
      {inconclusive, DrenchSign::cannot_tell}, {not_applicable, DrenchSign::cannot_tell}};
  REQUIRE(signs.size() == all_verdict_classes.size());
  for (const auto& [verdict_class, sign] : signs) {
    const Standing standing = standing_of(judged(verdict_class), {}, {});
    CHECK(standing.verdict_class == verdict_class);
    CHECK(standing.sign == sign);
    CHECK_FALSE(standing.care);
  }
}

TEST_CASE(
    "Each reason for care brings about its own, and makes a good drench one to take care of") {
  REQUIRE(reasons.size() == all_cares.size());
  for (const auto& [care, add] : reasons) {
    Result result;
    add(result);
    CAPTURE(static_cast<int>(care));
    CHECK(result.standing().care == care);
    CHECK(result.standing().sign == DrenchSign::works_with_care);
    CHECK(result.standing().verdict_class == susceptible);
  }
}

TEST_CASE("Of several reasons for care the first in their order is given") {
  for (std::size_t first = 0; first < reasons.size(); ++first) {
    Result result;
    // The most serious caveat stands in front, as in a real list; all others follow in any order.
    for (std::size_t i = first; i < reasons.size(); ++i)
      reasons[i].second(result);
    CAPTURE(first);
    CHECK(result.standing().care == all_cares.at(first));
  }
}

TEST_CASE("A drench that does not meet its rule keeps its sign, whatever else is said of it") {
  for (const VerdictClass verdict_class : {resistant, low_resistant, suspected, inconclusive}) {
    Result result;
    for (const auto& [care, add] : reasons)
      add(result);
    result.judgement.first_verdict().verdict_class = verdict_class;
    CHECK_FALSE(result.standing().care);
    CHECK(result.standing().sign == standing_of(judged(verdict_class), {}, {}).sign);
  }
}

TEST_CASE("A worm that survives makes its drench stand as resistant, by name") {
  Result result;
  result.judgement.worms = {worm(susceptible), worm(resistant)};
  result.judgement.worms[1].worm = "haemonchus";
  for (const VerdictClass by_counts :
       {susceptible, low_resistant, suspected, inconclusive, not_applicable}) {
    result.judgement.first_verdict().verdict_class = by_counts;
    const Standing standing = result.standing();
    CHECK(standing.verdict_class == resistant);
    CHECK(standing.by_counts_alone == by_counts);
    CHECK(standing.sign == DrenchSign::failing);
    CHECK_FALSE(standing.care);
    REQUIRE(standing.bars.size() == 1);
    CHECK(standing.bars[0].code == BarCode::surviving_worm);
    CHECK(standing.bars[0].plain == "It fails against haemonchus.");
  }
  result.judgement.first_verdict().verdict_class = resistant;
  CHECK(result.standing().bars.empty()); // the counts say so already
  result.judgement.worms = {worm(susceptible)};
  result.judgement.first_verdict().verdict_class = susceptible;
  CHECK(result.standing().sign == DrenchSign::works);
}

TEST_CASE("A worm with a bar of its own does not stand as resistant, and bars nothing") {
  Result result;
  WormAnalysis one = worm(resistant);
  one.judgement.standing = standing_of(one, {bar(BarCode::day)});
  CHECK(one.judgement.standing.verdict_class == not_applicable);
  CHECK_FALSE(survives(one));
  CHECK(may_survive(one));
  result.judgement.worms = {one};
  CHECK(result.standing().bars.empty());
  CHECK(result.standing().care == Care::worm_may_survive);
}

TEST_CASE("The first bar decides what is left of a class, whatever the class was") {
  for (const BarCode code : all_bar_codes)
    for (const VerdictClass by_counts : all_verdict_classes) {
      Result result;
      result.judgement.first_verdict().verdict_class = by_counts;
      const Standing standing =
          standing_of(result.judgement, {}, {bar(code), bar(BarCode::few_eggs)});
      CHECK(standing.verdict_class == verdict_class_behind(Bar{code, "", "", ""}));
      CHECK(standing.by_counts_alone == by_counts);
      CHECK(standing.bars.size() == 2);
      // A barred trial never shows a tick.
      CHECK(standing.sign != DrenchSign::works);
      CHECK(standing.sign != DrenchSign::works_with_care);
      CHECK_FALSE(standing.care);
    }
  CHECK(verdict_class_behind({BarCode::day, "", "", ""}) == not_applicable);
  CHECK(verdict_class_behind({BarCode::units_in_doubt, "", "", ""}) == not_applicable);
  CHECK(verdict_class_behind({BarCode::not_covered, "", "", ""}) == not_applicable);
  CHECK(verdict_class_behind({BarCode::control, "", "", ""}) == inconclusive);
  CHECK(verdict_class_behind({BarCode::missing, "", "", ""}) == inconclusive);
  CHECK(verdict_class_behind({BarCode::surviving_worm, "", "", ""}) == resistant);
}

TEST_CASE("A trial whose first bar leaves no class was no test") {
  Standing standing;
  CHECK_FALSE(was_no_test(standing)); // a class may be missing without any bar
  standing.bars = {bar(BarCode::few_eggs), bar(BarCode::day)};
  CHECK_FALSE(was_no_test(standing)); // the first bar decides
  standing.bars.erase(standing.bars.begin());
  CHECK(was_no_test(standing));
}

TEST_CASE("Where a bar decides, what speaks for the counts alone is withheld") {
  FieldCheck field;
  Result result;
  add_chance_below(result, 0.1);
  result.judgement.larger_trials.emplace_back();
  decide(result.judgement, {}, {}, field);
  CHECK(result.judgement.probabilities);
  CHECK(result.judgement.larger_trials.size() == 1);
  CHECK(result.judgement.standing.provided ==
        "the second sample was taken on day 7 to 21 and each animal got the label's dose for its "
        "weight");
  field.days.first_day = 12;
  field.doses.checked = 10;
  decide(result.judgement, {}, {}, field);
  CHECK(result.judgement.standing.provided.empty());
  decide(result.judgement, {}, {bar(BarCode::missing)}, {});
  CHECK_FALSE(result.judgement.probabilities);
  CHECK(result.judgement.larger_trials.empty());
  CHECK(result.judgement.standing.provided.empty());
}

TEST_CASE("Bars have names that stay") {
  std::set<std::string_view> names;
  for (const BarCode code : all_bar_codes)
    names.insert(to_string(code));
  CHECK(names.size() == all_bar_codes.size());
  CHECK(to_string(BarCode::units_in_doubt) == "units-in-doubt");
  CHECK_THROWS_AS(to_string(static_cast<BarCode>(99)), CalculationError);
}

TEST_CASE("A chance of a lower truth of less than a third is no reason for care") {
  Result result;
  add_chance_below(result, 0.33);
  CHECK_FALSE(result.standing().care);
  CHECK(result.standing().sign == DrenchSign::works);
}

TEST_CASE("Caveats that are less than a warning are no reason for care, and any serious one is") {
  for (const CaveatCode code :
       {CaveatCode::repeats_disagree, CaveatCode::sampled_early, CaveatCode::overdosed,
        CaveatCode::missing_after, CaveatCode::one_animal}) {
    Result result;
    result.caveats = {caveat(code, Severity::note)};
    CHECK(result.standing().sign == DrenchSign::works);
  }
  Result other;
  other.caveats = {caveat(CaveatCode::few_animals, Severity::warning)};
  CHECK(other.standing().sign == DrenchSign::works);
  other.caveats = {caveat(CaveatCode::few_animals, Severity::serious)};
  CHECK(other.standing().care == Care::few_animals);
  for (const CaveatCode code :
       {CaveatCode::none_after, CaveatCode::few_eggs_counted, CaveatCode::detection_limit}) {
    other.caveats = {caveat(code, Severity::warning)};
    CHECK(other.standing().sign == DrenchSign::works);
    other.caveats = {caveat(code, Severity::serious)};
    CHECK(other.standing().care == Care::few_eggs);
  }
  other.caveats = {caveat(CaveatCode::units_confirmed, Severity::serious)};
  CHECK(other.standing().care == Care::other_warning);
}

TEST_CASE("A worm stands as the first verdict given on it says") {
  WormAnalysis one = worm(not_applicable);
  CHECK(standing_of(one, {}).sign == DrenchSign::cannot_tell);
  CHECK(standing_of(one, {}).verdict_class == not_applicable);
  one.judgement.verdicts.push_back(verdict(resistant));
  CHECK(standing_of(one, {}).sign == DrenchSign::failing);
  CHECK(standing_of(one, {}).verdict_class == resistant);
  CHECK(standing_of(worm(susceptible), {}).sign == DrenchSign::works);
  CHECK_FALSE(standing_of(worm(susceptible), {}).care);
}

TEST_CASE("Criteria that are not met are those that find resistance, or suspect it") {
  CHECK(criteria_not_met({}).empty());
  CHECK(criteria_not_met({verdict(susceptible, "a"), verdict(resistant, "b"),
                          verdict(inconclusive, "c"), verdict(suspected, "d"),
                          verdict(not_applicable, "e"), verdict(low_resistant, "f")}) ==
        std::vector<std::string>{"b", "d", "f"});
}

TEST_CASE("A caveat is there if one has both its code and its severity") {
  const std::vector<Caveat> caveats{caveat(CaveatCode::overdosed, Severity::note),
                                    caveat(CaveatCode::dropped, Severity::warning)};
  CHECK(has_caveat(caveats, CaveatCode::overdosed, Severity::note));
  CHECK(has_caveat(caveats, CaveatCode::dropped, Severity::warning));
  CHECK_FALSE(has_caveat(caveats, CaveatCode::overdosed, Severity::warning));
  CHECK_FALSE(has_caveat(caveats, CaveatCode::few_larvae, Severity::note));
  CHECK_FALSE(has_caveat({}, CaveatCode::dropped, Severity::warning));
}

TEST_CASE(
    "An inconclusive result leans where even the likeliest chance of the drench is below half") {
  const auto leaning = [](VerdictClass verdict_class, double below_lower, double between,
                          std::vector<Bar> bars = {}) {
    Judgement judgement = judged(verdict_class);
    judgement.probabilities = EfficacyProbabilities{below_lower + between, below_lower, between,
                                                    1 - below_lower - between};
    decide(judgement, {}, std::move(bars), {});
    CHECK((judgement.standing.leaning ? judgement.standing.sign == DrenchSign::cannot_tell : true));
    return judgement.standing.leaning;
  };
  CHECK(leaning(inconclusive, 0.51, 0.2) == Leaning::failing);
  // A half is told where the ways to reckon differ: it is no chance above a half.
  CHECK(leaning(inconclusive, 0.5, 0.2) == Leaning::below_expected);
  CHECK(leaning(inconclusive, 0.1, 0.41) == Leaning::below_expected);
  CHECK_FALSE(leaning(inconclusive, 0.1, 0.4));
  CHECK_FALSE(leaning(resistant, 0.9, 0.05));
  CHECK_FALSE(leaning(susceptible, 0, 0.6));
  // Where a bar takes the chances away there is nothing to lean by.
  CHECK_FALSE(leaning(inconclusive, 0.9, 0.05, {bar(BarCode::few_eggs)}));
}
