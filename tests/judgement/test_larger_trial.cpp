#include "eggfall/judgement/larger_trial.hpp"

#include "eggfall/judgement/verdict.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

std::vector<LargerTrialOutcome> outcomes(const Comparison& comparison, std::uint64_t seed = 1,
                                         std::size_t simulations = 60) {
  return larger_trials(comparison, {}, 0.9, 0.90, 0.95, usual_extensions(), {simulations, seed});
}

Comparison unclear() {
  return *compare(
      Design::paired,
      support::group("T", {12, 42, 4, 26, 13, 11, 46, 28, 13, 61}, {1, 10, 0, 1, 1, 3, 2, 1, 0, 4}),
      nullptr);
}

} // namespace

TEST_CASE("What next is reproducible, and its shares add up") {
  const auto first = outcomes(unclear());
  const auto again = outcomes(unclear());
  REQUIRE(first.size() == 5);
  bool differs = false;
  const auto other = outcomes(unclear(), 2);
  for (std::size_t i = 0; i < first.size(); ++i) {
    CHECK(first[i].clear == again[i].clear);
    differs = differs || first[i].clear != other[i].clear;
    CHECK_THAT(first[i].susceptible + first[i].low_resistant + first[i].resistant,
               Catch::Matchers::WithinAbs(first[i].clear, support::other_order));
    CHECK(first[i].clear >= 0);
    CHECK(first[i].clear <= 1 + support::other_order);
  }
  CHECK(differs);
}

TEST_CASE("Many more animals help more than a few") {
  // 60 simulations: a standard error of 6 points each; the true gap is far wider.
  const auto result = outcomes(unclear());
  CHECK(result[4].clear > result[2].clear);
}

TEST_CASE("The step that changes nothing gives the class of today") {
  // volume 1 and no more animals: the same counts, so the same class every time.
  const Comparison comparison = unclear();
  const RatioLimits limits = posterior(comparison, {})->limits(0.9);
  const auto result = larger_trials(comparison, {}, 0.9, 0.90, 0.95, {{1, 0}}, {20, 1});
  const bool clear_today =
      two_one_sided(1 - limits.upper, 1 - limits.lower, 0.90, 0.95) != VerdictClass::inconclusive;
  CHECK(result[0].clear == Approx(clear_today ? 1 : 0));
}

TEST_CASE("Every design can look ahead; without eggs there is nothing to see") {
  const Group treated = support::group("T", {12, 42, 4, 26}, {1, 10, 0, 1}, 15, 5);
  const Group control = support::group("C", {10, 20, 9}, {14, 17, 12}, 15, 15);
  for (const Design design : all_designs)
    CHECK(outcomes(*compare(design, treated, &control), 1, 5).size() == 5);
  CHECK(outcomes(*compare(Design::paired, support::group("T", {0, 0}, {1, 0}), nullptr)).empty());
}
