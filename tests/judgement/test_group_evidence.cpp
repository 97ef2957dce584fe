#include "eggfall/judgement/group_evidence.hpp"

#include "support/support.hpp"

#include <cstdint>
#include <optional>

using namespace eggfall;

namespace {

Count count(std::uint32_t eggs, double factor, std::uint32_t animals = 1) {
  return {EggsSeen(eggs), MultiplicationFactor(factor), animals};
}

} // namespace

TEST_CASE("A sample's summary, by hand") {
  // 3, 0 and 5 eggs: sum 8, sum of squares 34, variance (34 - 64/3)/2 = 19/3.
  const SampleSummary sample = summarise(support::counts({3, 0, 5}, 50));
  CHECK(sample.animals == 3);
  CHECK(sample.animals_mixed == 3);
  CHECK(sample.animals_without_eggs == 1);
  CHECK(sample.eggs == 8);
  CHECK(sample.largest == 1);
  CHECK(sample.pools == 0);
  CHECK_FALSE(is_pooled(sample));
  CHECK_THAT(*sample.mean_epg, support::close_to(50 * 8.0 / 3));
  REQUIRE(sample.factor);
  CHECK(sample.factor->value() == 50);
  CHECK_THAT(sample.spread.mean, support::close_to(8.0 / 3));
  CHECK_THAT(*sample.spread.variance, support::close_to(19.0 / 3));
}

TEST_CASE("Without any count there is no mean, and no factor") {
  const SampleSummary none = summarise({});
  CHECK(none.animals == 0);
  CHECK(none.eggs == 0);
  CHECK(none.largest == 0);
  CHECK_FALSE(none.mean_epg);
  CHECK_FALSE(none.factor);
  CHECK_FALSE(none.spread.variance);
  CHECK_FALSE(is_pooled(none));
}

TEST_CASE("A pool weighs as much as its animals in the mean") {
  const SampleSummary sample = summarise({count(4, 50, 10), count(2, 50)});
  CHECK(sample.animals == 2);
  CHECK(sample.animals_mixed == 11);
  CHECK(sample.pools == 1);
  CHECK(sample.largest == 10);
  CHECK(is_pooled(sample));
  CHECK_THAT(*sample.mean_epg, support::close_to((10 * 200.0 + 100) / 11));
  CHECK(summarise({count(4, 50, 2)}).pools == 1); // two animals are a pool, too
}

TEST_CASE("Eggs seen at several factors have a mean in EPG, but no spread") {
  const SampleSummary sample = summarise({count(3, 50), count(4, 15), count(0, 15)});
  CHECK_FALSE(sample.factor);
  CHECK(sample.spread.animals == 0);
  CHECK(sample.eggs == 7);
  CHECK(sample.animals_without_eggs == 1);
  CHECK_THAT(*sample.mean_epg, support::close_to((150.0 + 60) / 3));
}

TEST_CASE("Each animal's own fall is in EPG, and missing where nothing divides it") {
  Group group = support::group("T", {10, 0, 4, 5, 6, 1}, {1, 2, 8, 0, 0, 0}, 15, 50);
  group.animals[4].after.reset();
  const auto results = animal_results(group);
  REQUIRE(results.size() == 6);
  CHECK(results[0].animal == "1");
  CHECK_THAT(*results[0].reduction, support::close_to(1 - 50.0 / 150));
  CHECK_FALSE(results[1].reduction);                                    // no egg before
  CHECK_THAT(*results[2].reduction, support::close_to(1 - 400.0 / 60)); // a rise stays a rise
  CHECK(results[3].reduction == 1.0);
  CHECK_FALSE(results[4].reduction); // not sampled after treatment
  CHECK(results[4].before->eggs.value() == 6);
  CHECK_FALSE(results[4].after);
  CHECK(results[5].reduction == 1.0); // one egg is enough to divide by
}

TEST_CASE("The law is told by five intervals of falls, each within the next") {
  const Group group = support::group("T", trial_a::before, trial_a::after);
  const Evidence evidence(compare(Design::paired, group, nullptr).value(), {});
  const GuardedLaw& law = *evidence.guarded();
  const std::vector<GuardedPart> parts = guarded_parts(law);
  REQUIRE(parts.size() == 5);
  const std::vector<double> levels{0.5, 0.8, 0.9, 0.95, 0.99};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const RatioLimits left = law.limits(levels[i]); // of the eggs
    CHECK(parts[i].level == levels[i]);
    CHECK(parts[i].lower == 1 - left.upper);
    CHECK(parts[i].upper == 1 - left.lower);
  }
  for (std::size_t i = 1; i < parts.size(); ++i) {
    CHECK(parts[i].lower < parts[i - 1].lower);
    CHECK(parts[i].upper > parts[i - 1].upper);
  }
}

TEST_CASE("Counts are compared with the control's only where the design takes them") {
  GroupEvidence evidence;
  evidence.control = summarise(support::counts({7}, 1));
  const auto evidence_by = [&](std::optional<Design> design) {
    evidence.design = design;
    return &compared_with(evidence);
  };
  CHECK(evidence_by(Design::paired) == &evidence.before);
  CHECK(evidence_by(Design::controlled) == &evidence.before);
  CHECK(evidence_by(Design::two_group) == &*evidence.control);
  CHECK(evidence_by(Design::baseline) == &*evidence.control);
  CHECK(evidence_by(std::nullopt) == &evidence.before);
}
