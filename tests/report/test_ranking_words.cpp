#include "report/ranking_words.hpp"

#include "judgement/decide_standing.hpp"
#include "support/support.hpp"

#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

using enum VerdictClass;

GroupAnalysis group(const std::string& name, VerdictClass verdict_class) {
  GroupAnalysis result;
  result.evidence.group.name = name;
  Verdict verdict;
  verdict.verdict_class = verdict_class;
  result.judgement.verdicts = {verdict};
  result.judgement.standing = standing_of(result.judgement, {}, {});
  return result;
}

RankedGroup ranked(const std::string& name, Design design = Design::paired) {
  RankedGroup result;
  result.group = name;
  result.design = design;
  return result;
}

/// `lower` and `upper` limits of the eggs left by the first over those left by the second.
RankedPair pair(const std::string& first, const std::string& second, double lower, double upper) {
  RankedPair result;
  result.first = first;
  result.second = second;
  result.eggs_left = {lower, upper, {}};
  return result;
}

/// Groups a, b and c of these classes, ranked in that order.
TrialAnalysis three(VerdictClass a, VerdictClass b, VerdictClass c, std::vector<RankedPair> pairs) {
  TrialAnalysis trial;
  trial.groups = {group("a", a), group("b", b), group("c", c)};
  Ranking ranking;
  ranking.groups = {ranked("a"), ranked("b"), ranked("c")};
  ranking.pairs = std::move(pairs);
  trial.ranking = ranking;
  return trial;
}

const std::string scope = "Best means the best of these drenches, on this farm, against its worms "
                          "now. Each had animals of its own, whose worms may differ.";

/// white and yellow, and both together: rho of 0.03 to 0.1 is expected, and 0.04 was found.
Combination both() {
  Combination combination;
  combination.group = "both";
  combination.parts = {{DrugClass::bz, "white"}, {DrugClass::lv, "yellow"}};
  combination.reduction = 0.96;
  combination.headline.lower = 0.93;
  combination.headline.upper = 0.98;
  combination.expected = Combination::Expected{0.94, RatioLimits{0.03, 0.1}, {}};
  return combination;
}

TrialAnalysis combined(const Combination& combination) {
  TrialAnalysis trial;
  trial.groups = {group("white", susceptible), group("yellow", susceptible),
                  group("both", susceptible)};
  trial.combinations = {combination};
  return trial;
}

const std::string both_words =
    "both: if white (BZ) and yellow (LV) act independently, 94.0% is to be expected of them "
    "together (90% interval 90.0% to 97.0%); found 96.0% (90% interval 93.0% to 98.0%).";

const std::string taken_for_granted =
    "What is expected holds for one worm species, at the doses given alone. With mixed worms it "
    "can be far off: together they do better than that where each part fails against another "
    "species, worse where all fail against the same.";

} // namespace

TEST_CASE("A chance of 100 is never none or all") {
  CHECK(of_100({0, 0}) == "under 1");
  CHECK(of_100({0.0099, 0}) == "under 1");
  CHECK(of_100({0.012, 0}) == "about 1");
  CHECK(of_100({0.5, 0}) == "about 50");
  CHECK(of_100({0.988, 0}) == "about 99");
  CHECK(of_100({0.991, 0}) == "over 99");
  CHECK(of_100({1, 0}) == "over 99");
}

TEST_CASE("A group's analysis is found by its name") {
  const TrialAnalysis trial = three(susceptible, resistant, resistant, {});
  CHECK(&analysis_of(trial, "a") == &trial.groups[0]);
  CHECK(&analysis_of(trial, "c") == &trial.groups[2]);
}

TEST_CASE("The one that removes more than all others is told, and which of them fail") {
  const std::vector<std::string> expected{
      "By these counts a removes more than the others. Do not rely on c (resistant), whatever its "
      "place here. The verdicts come first: best is not the same as good enough.",
      scope};
  CHECK(ranking_sentences(three(susceptible, inconclusive, resistant,
                                {pair("a", "b", 0.2, 0.5), pair("a", "c", 0.1, 0.4),
                                 pair("b", "c", 0.5, 2)})) == expected);
  // The same where a pair is named the other way round.
  CHECK(ranking_sentences(three(
            susceptible, inconclusive, resistant,
            {pair("b", "a", 2, 5), pair("c", "a", 3, 9), pair("b", "c", 0.5, 2)})) == expected);
}

TEST_CASE("Where no pair is told apart, none is said to be best") {
  const std::vector<RankedPair> alike{pair("a", "b", 0.5, 2), pair("a", "c", 0.5, 2),
                                      pair("b", "c", 0.5, 2)};
  CHECK(ranking_sentences(three(inconclusive, inconclusive, inconclusive, alike)).front() ==
        "These counts cannot say which of a, b and c is best. None of them is called susceptible, "
        "and the best of them need not be good. The verdicts come first: best is not the same as "
        "good enough.");
  CHECK(ranking_sentences(three(resistant, resistant, resistant, alike)).front() ==
        "These counts cannot say which of a, b and c is best. All of them are resistant here, and "
        "the best of them fails too: rely on none of them alone, and choose another with your "
        "veterinarian.");
}

TEST_CASE("Worms that survive are named beside the places that hide them") {
  TrialAnalysis trial =
      three(susceptible, susceptible, susceptible,
            {pair("a", "b", 0.2, 0.5), pair("a", "c", 0.1, 0.4), pair("b", "c", 0.5, 2)});
  WormAnalysis worm;
  worm.worm = "haemonchus";
  worm.judgement.verdicts = group("", resistant).judgement.verdicts;
  worm.judgement.standing = standing_of(worm, {});
  trial.groups[1].judgement.worms = {worm};
  CHECK_THAT(ranking_sentences(trial).front(),
             Catch::EndsWith(" These places are of all worms together: haemonchus survives b."));
  Animal animal;
  animal.kinds["nematodirus"] = {};
  trial.groups[0].evidence.group.animals = {animal};
  CHECK_THAT(
      ranking_sentences(trial).front(),
      Catch::EndsWith(" These places are of all worms not counted apart: haemonchus survives b."));
}

TEST_CASE("What may disturb the places is told, and who has none, by reason") {
  TrialAnalysis trial = three(susceptible, susceptible, susceptible, {pair("a", "b", 0.2, 0.5)});
  Ranking& ranking = *trial.ranking;
  ranking.groups = {ranked("a"), ranked("b", Design::two_group)};
  ranking.animals_differ = true;
  ranking.designs_differ = true;
  ranking.shared_control = true;
  ranking.left_out = {{"c", "no eggs"}, {"d", "too few"}, {"e", "no eggs"}};
  CHECK(ranking_sentences(trial).back() ==
        scope + " Hosts or worms differ between these groups, and not the drenches alone. Not all "
                "were measured by one design: a paired and b two-group. Groups compared with the "
                "one control share its luck; it is counted in each, so that pairs are told apart "
                "more rarely than they could be. Not ranked: c and e (no eggs) and d (too few).");
  ranking.groups.clear();
  CHECK(ranking_sentences(trial) ==
        std::vector<std::string>{"Not ranked: c and e (no eggs) and d (too few)."});
}

TEST_CASE("A combination is told beside what its parts lead to expect") {
  CHECK(combination_sentences({}).empty());
  CHECK(combination_sentences(combined(both())) ==
        std::vector<std::string>{both_words, taken_for_granted});
  const auto with_chance = [](double chance) {
    Combination combination = both();
    combination.expected =
        Combination::Expected{0.94, RatioLimits{0.03, 0.1}, Quadrature{chance, 0}};
    return combination_sentences(combined(combination)).front();
  };
  CHECK(with_chance(0.7) == both_words + " These counts show no difference from that (chance that "
                                         "it does better: about 70 of 100).");
  // Sure is what an interval of 90% leaves out on one side: 95 of 100.
  CHECK(with_chance(0.96) == both_words + " It does better than that (chance that it does better: "
                                          "about 96 of 100).");
  CHECK(with_chance(0.04) == both_words + " It does worse than that (chance that it does better: "
                                          "about 4 of 100).");
}

TEST_CASE("A combination that cannot be compared says why, and takes nothing for granted") {
  Combination combination = both();
  combination.expected = WhyNot{"designs differ"};
  CHECK(combination_sentences(combined(combination)) ==
        std::vector<std::string>{
            "both is not compared with its parts white (BZ) and yellow (LV): designs differ."});
}

TEST_CASE("Limits that are withheld are told with the reason") {
  Combination combination = both();
  combination.expected = Combination::Expected{0.94, WhyNot{"they share a control"}, {}};
  combination.headline = {};
  CHECK(combination_sentences(combined(combination)).front() ==
        "both: if white (BZ) and yellow (LV) act independently, 94.0% is to be expected of them "
        "together (no interval: they share a control); found 96.0% (no interval).");
}

TEST_CASE("Worms behind a combination are named where one survives") {
  TrialAnalysis trial = combined(both());
  WormAnalysis worm;
  worm.worm = "haemonchus";
  worm.judgement.verdicts = group("", low_resistant).judgement.verdicts;
  worm.judgement.standing = standing_of(worm, {});
  trial.groups[0].judgement.worms = {worm};
  CHECK(combination_sentences(trial).back() ==
        taken_for_granted + " Here haemonchus survives white.");
}
