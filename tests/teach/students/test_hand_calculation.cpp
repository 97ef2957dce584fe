#include "teach/students/hand_calculation.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/log_ratio_interval.hpp"
#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("hand calculation: the worked example, step by step") {
  // R 4.2.2: y2 <- var(t)/(12*mean(t)^2) + var(c)/(12*mean(c)^2); qt(0.975, 22);
  // 100*(1 - mean(t)/mean(c)*exp(c(1, -1)*qt(0.975, 22)*sqrt(y2)))
  const HandCalculation hand = hand_calculation(support::counts(trial_a::after, 50),
                                                support::counts(trial_a::control, 50), 0.95);
  CHECK(hand.treated.animals == 12);
  CHECK(hand.treated.eggs == 8);
  CHECK(hand.treated.squares == 16);
  CHECK(hand.control.eggs == 199);
  CHECK_THAT(hand.treated.mean_epg, support::close_to(50 * 8 / 12.0));
  CHECK(hand.degrees_of_freedom == 22);
  CHECK_THAT(hand.t, support::close_to(2.073873067904));
  CHECK_THAT(*hand.y2, support::close_to(0.232475763927));
  CHECK_THAT(100 * *hand.lower, support::close_to(89.072963168887));
  CHECK_THAT(100 * *hand.upper, support::close_to(98.520988965253));
  CHECK_THAT(100 * *hand.reduction, support::close_to(95.979899497487)); // 100*(1 - 8/199)
  CHECK(hand.factor == 50);
  CHECK(hand.why_no_limits.empty());
}

TEST_CASE("hand calculation: limits are those of the log ratio for any counts") {
  const std::vector<std::vector<std::uint32_t>> treated{{0, 1}, {5, 0, 0, 0}, {900, 3, 1}};
  const std::vector<std::uint32_t> control{4, 0, 71, 2, 2};
  for (const auto& counts : treated) {
    const HandCalculation hand =
        hand_calculation(support::counts(counts, 15), support::counts(control, 15), 0.9);
    const RatioLimits rho = *log_ratio_limits(support::two_group(counts, control), 0.9);
    CHECK_THAT(*hand.lower, support::close_to(1 - rho.upper));
    CHECK_THAT(*hand.upper, support::close_to(1 - rho.lower));
  }
}

TEST_CASE("hand calculation: where it must stop it says why") {
  const HandCalculation none_left =
      hand_calculation(support::counts({0, 0}, 50), support::counts({3, 4}, 50), 0.95);
  CHECK(*none_left.reduction == 1);
  CHECK_FALSE(none_left.y2);
  CHECK_FALSE(none_left.treated.share_of_y);
  CHECK_FALSE(none_left.lower);
  CHECK(none_left.why_no_limits.find("treated animals") != std::string::npos);
  const HandCalculation none_at_all =
      hand_calculation(support::counts({1, 0}, 50), support::counts({0, 0}, 50), 0.95);
  CHECK_FALSE(none_at_all.reduction);
  CHECK(none_at_all.why_no_limits.find("untreated animals") != std::string::npos);
  CHECK_THROWS_AS(hand_calculation(support::counts({1}, 50), support::counts({3, 4}, 50), 0.95),
                  InputError);
  CHECK_THROWS_AS(hand_calculation(support::counts({1, 2}, 25), support::counts({3, 4}, 50), 0.95),
                  InputError);
  CHECK_THROWS_AS(hand_calculation(support::counts({1, 2}, 50), support::counts({3, 4}, 50), 1),
                  InputError);
  std::vector<Count> pools = support::counts({1, 2}, 50);
  pools.front().animals = 5;
  CHECK_THROWS_AS(hand_calculation(pools, support::counts({3, 4}, 50), 0.95), InputError);
}
