#include "judgement/larvae_caveats.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

using namespace eggfall;

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

/// A caveat as "severity code: text".
std::vector<std::string> lines(const std::vector<Caveat>& caveats) {
  std::vector<std::string> result;
  for (const Caveat& caveat : caveats)
    result.push_back(std::string(to_string(caveat.severity)) + " " +
                     std::string(to_string(caveat.code)) + ": " + caveat.text);
  return result;
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
