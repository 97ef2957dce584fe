#include "judgement/larvae_caveats.hpp"

#include "support/caveat_lines.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

using namespace eggfall;
using support::lines;

namespace {

/// Haemonchus in a paired trial: its larvae before and after, and its fall if it has one.
WormAnalysis haemonchus(WormShare before, WormShare after, std::optional<double> fall) {
  WormAnalysis worm;
  worm.worm = "haemonchus";
  worm.evidence.design = Design::paired;
  worm.evidence.larvae = WormShares{{after}, {before}};
  worm.evidence.reduction = fall;
  Verdict verdict;
  verdict.verdict_class = VerdictClass::inconclusive;
  verdict.expected = 0.95;
  verdict.lower = 0.9;
  worm.judgement.verdicts = {verdict};
  return worm;
}

std::vector<Caveat> found(const WormAnalysis& worm, std::optional<double> fall_of_all = 0.95) {
  GroupEvidence of_group;
  of_group.reduction = fall_of_all;
  return larvae_caveats(worm, of_group);
}

using Lines = std::vector<std::string>;

} // namespace

TEST_CASE("Enough larvae of a worm on both occasions leave nothing to be said") {
  CHECK(found(haemonchus({40, 100}, {10, 100}, 0.9)).empty());
}

TEST_CASE(
    "A worm that was not found before treatment has no fall, and may survive if found after") {
  CHECK(lines(found(haemonchus({0, 100}, {0, 120}, {}))) ==
        Lines{"serious worm-absent-before: None of the 100 larvae told apart before treatment "
              "were haemonchus, so that its fall cannot be worked out."});
  CHECK(lines(found(haemonchus({0, 100}, {7, 120}, {}))) ==
        Lines{"serious worm-absent-before: None of the 100 larvae told apart before treatment "
              "were haemonchus, so that its fall cannot be worked out; but 7 of 120 after "
              "treatment were: it may survive."});
}

TEST_CASE("Cultures without larvae are named, but none is missed where no egg was left") {
  const std::string rest =
      ", so the fall of a single worm cannot be worked out: have faeces cultured on each occasion "
      "and in each group compared.";
  const std::string start = "serious no-larvae: No larvae were told apart ";
  CHECK(lines(found(haemonchus({0, 0}, {5, 100}, {}))) == Lines{start + "before treatment" + rest});
  CHECK(lines(found(haemonchus({40, 100}, {0, 0}, {}))) == Lines{start + "after treatment" + rest});
  CHECK(lines(found(haemonchus({0, 0}, {0, 0}, {}))) ==
        Lines{start + "before treatment and after treatment" + rest});
  // With a fall of 100% there is nothing to hatch.
  CHECK(found(haemonchus({40, 100}, {0, 0}, 1.0), 1.0).empty());
  // Where the fall of all worms is not known eggs may be left.
  CHECK(lines(found(haemonchus({40, 100}, {0, 0}, {}), std::nullopt)) ==
        Lines{start + "after treatment" + rest});
}

TEST_CASE("Fewer than 100 larvae in a culture are few, by common practice") {
  const auto only = [](int larvae) {
    return Lines{"warning few-larvae: Only " + std::to_string(larvae) +
                 " larvae were told apart in one of the cultures; 100 are usual (practice)."};
  };
  CHECK(lines(found(haemonchus({40, 100}, {10, 99}, 0.9))) == only(99));
  CHECK(lines(found(haemonchus({40, 98}, {10, 99}, 0.9))) == only(98));
  CHECK(lines(found(haemonchus({40, 100}, {1, 1}, 0.9)))
            .front()
            .starts_with("warning few-larvae: Only 1 larva was told apart in one"));
  // Without a fall there is more to say than that larvae are few.
  CHECK(lines(found(haemonchus({0, 20}, {0, 100}, {}))).front().find("few-larvae") ==
        std::string::npos);
}

TEST_CASE("Larvae too few to call any drench good are serious") {
  WormAnalysis worm = haemonchus({3, 60}, {1, 60}, 0.7);
  worm.judgement.best_lower = 0.8;
  CHECK(lines(found(worm)) ==
        Lines{"serious few-larvae: 3 of 60 larvae before treatment were haemonchus: had none been "
              "found after treatment, its lower limit would be no more than 80.0%, short of the "
              "90% needed to call a drench good. Have more larvae told apart."});
  // At the threshold it could be called good, and only the usual number is missed.
  worm.judgement.best_lower = 0.9;
  CHECK(lines(found(worm)).front().starts_with("warning few-larvae: Only 60 larvae "));
}

TEST_CASE("A worm gone from the culture may still lay some of the eggs") {
  // 1 - 0.05^(1/100) = 0.02951, close to the 3/100 of Hanley & Lippman-Hand 1983, JAMA
  // 249:1743-1745.
  CHECK(lines(found(haemonchus({40, 100}, {0, 100}, 1.0))) ==
        Lines{"note worm-absent-after: None of the 100 larvae after treatment were haemonchus; up "
              "to 3.0% of those eggs may still be its (one time in twenty)."});
  CHECK(found(haemonchus({40, 100}, {0, 100}, 1.0), 1.0).empty()); // there was no such egg
}

TEST_CASE("The most serious of the caveats on larvae comes first") {
  WormAnalysis worm = haemonchus({2, 50}, {0, 50}, 1.0);
  worm.judgement.best_lower = 0.8;
  const auto caveats = found(worm);
  REQUIRE(caveats.size() == 2);
  CHECK(caveats[0].code == CaveatCode::few_larvae);
  CHECK(caveats[1].code == CaveatCode::worm_absent_after);
  CHECK(std::ranges::is_sorted(caveats, {}, &Caveat::severity));
}

TEST_CASE("Where a control stands below the bar its cultures are the ones named") {
  WormAnalysis worm = haemonchus({0, 80}, {3, 100}, {});
  worm.evidence.design = Design::two_group;
  CHECK(lines(found(worm))
            .front()
            .starts_with(
                "serious worm-absent-before: None of the 80 larvae told apart in the control"));
}

TEST_CASE("Each culture that the worm is compared with is looked at, and named by its place") {
  // After treatment in the treated group and before it in the control; before, and in the control
  // after treatment.
  const auto controlled = [](WormShare before, WormShare control_after, WormShare control_before) {
    WormAnalysis worm = haemonchus(before, {10, 100}, {});
    worm.evidence.design = Design::controlled;
    worm.evidence.larvae = WormShares{{{10, 100}, control_before}, {before, control_after}};
    return worm;
  };
  const std::string none = "serious worm-absent-before: None of the 100 larvae told apart ";
  const std::string rest = " were haemonchus, so that its fall cannot be worked out; but 10 of 100 "
                           "after treatment were: it may survive.";
  CHECK(found(controlled({40, 100}, {40, 100}, {1, 100})).empty()); // one larva is no absence
  CHECK(lines(found(controlled({40, 100}, {0, 100}, {40, 100}))) ==
        Lines{none + "in the control group after treatment" + rest});
  CHECK(lines(found(controlled({40, 100}, {40, 100}, {0, 100}))) ==
        Lines{none + "in the control group before treatment" + rest});
  CHECK(lines(found(controlled({0, 100}, {0, 100}, {40, 100}))) ==
        Lines{none + "before treatment" + rest,
              none + "in the control group after treatment" + rest});
  CHECK(lines(found(controlled({40, 100}, {0, 0}, {0, 0}))) ==
        Lines{"serious no-larvae: No larvae were told apart in the control group after treatment "
              "and in the control group before treatment, so the fall of a single worm cannot be "
              "worked out: have faeces cultured on each occasion and in each group compared."});
}

TEST_CASE(
    "Of percentages whose number is not told, few larvae are said once and not of each worm") {
  const OpenShare untold{{19, 21}, false};
  const OpenShare told{{19, 21}, true};
  CHECK(found(haemonchus({20, 50, untold}, {20, 50, untold}, 0.9)).empty());
  CHECK(lines(found(haemonchus({20, 50, told}, {20, 50, untold}, 0.9)))
            .front()
            .starts_with("warning few-larvae: Only 50 larvae"));
}

TEST_CASE("A percentage of 0 hides as many larvae as it leaves open, besides those luck missed") {
  // 1 - 0.05^(1/50) = 0.05816, and half a larva of 50 is 0.01.
  CHECK(lines(found(haemonchus({20, 50, OpenShare{{19, 21}, false}},
                               {0, 50, OpenShare{{0, 0.5}, false}}, 1.0))) ==
        Lines{"note worm-absent-after: None of the larvae after treatment were haemonchus; up to "
              "6.8% of those eggs may still be its (one time in twenty)."});
  // Of one larva, 1 - 0.05 and a half would be more than all.
  CHECK(lines(found(haemonchus({40, 100}, {0, 1, OpenShare{{0, 0.5}, true}}, 1.0)))
            .back()
            .find("up to 100.0% of those eggs") != std::string::npos);
}

namespace {

Group cultured_group(Culture before, Culture after) {
  Group group;
  group.name = "white";
  group.culture_before = std::move(before);
  group.culture_after = std::move(after);
  return group;
}

/// Larvae of a culture that was told in percentages rounded to so much.
Culture in_percent(bool number_told, double rounded_to) {
  Culture culture{{"haemonchus", 20}, {"trichostrongylus", 30}};
  culture.percentages = PercentCulture{50, number_told, rounded_to};
  return culture;
}

} // namespace

TEST_CASE("Cultures are spoken of only where a worm was told by its larvae") {
  const Group group = cultured_group(in_percent(false, 1), in_percent(false, 1));
  WormAnalysis by_eggs = haemonchus({40, 100}, {10, 100}, 0.9);
  by_eggs.source = WormSource::eggs_told_apart;
  CHECK(culture_caveats(group, nullptr, {by_eggs}).empty());
  CHECK(culture_caveats(group, nullptr, {}).empty());
}

TEST_CASE("Percentages are named by their cultures, and by the coarsest rounding among them") {
  const std::vector<WormAnalysis> worms{haemonchus({40, 100}, {10, 100}, 0.9)};
  CHECK(culture_caveats(cultured_group({{"haemonchus", 40}}, {{"haemonchus", 10}}), nullptr, worms)
            .empty());
  CHECK(lines(culture_caveats(cultured_group(in_percent(false, 1), in_percent(false, 5)), nullptr,
                              worms)) ==
        Lines{"warning larvae-in-percent: Percentages are given and not how many larvae were told "
              "apart before treatment and after treatment: they are taken to be of 50 larvae "
              "(laboratories tell 100 apart, some 50: practice), rounded to 5%. Were they fewer, "
              "less is known than the intervals say: ask the laboratory for the number."});
  const Group control = cultured_group({}, in_percent(true, 0.1));
  CHECK(lines(culture_caveats(cultured_group({{"haemonchus", 40}}, in_percent(true, 0.1)), &control,
                              worms)) ==
        Lines{"note larvae-in-percent: Percentages after treatment and in the control group after "
              "treatment, rounded to 0.1%, may stand for several numbers of larvae: the intervals "
              "allow for all of them."});
}

TEST_CASE("A culture of several groups, and one that stands in, are told once") {
  Group group = cultured_group({{"haemonchus", 40}}, {{"haemonchus", 10}});
  group.culture_before.mixed_groups = {"white", "yellow"};
  std::vector<WormAnalysis> worms{haemonchus({40, 100}, {10, 100}, 0.9)};
  CHECK(lines(culture_caveats(group, &group, worms)) ==
        Lines{"warning culture-of-several-groups: Faeces of this group were cultured together with "
              "those of yellow before treatment: the shares are of them all. So the falls of a "
              "worm in these groups are not independent: an error in its share makes all of them "
              "too high, or all too low."});
  group.culture_before.mixed_groups.clear();
  worms.front().evidence.larvae->stand_in =
      StandIn{{"before treatment"}, "in the control group before treatment"};
  CHECK(lines(culture_caveats(group, nullptr, worms)) ==
        Lines{"warning culture-stands-in: No culture of its own before treatment: the one in the "
              "control group before treatment stands in, as of the same mob. Where the groups' "
              "worms, or the days', were not alike, the falls of single worms are wrong by as "
              "much: have the missing one cultured next time."});
}
