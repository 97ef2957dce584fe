#include "statistics/nested_rule.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace eggfall;

namespace {

/// The integral of x^power over the range by one of the weights.
double integral(const std::vector<RuleNode>& nodes, const Range& range, double RuleNode::*weight,
                int power) {
  double sum = 0;
  for (const RuleNode& node : nodes)
    sum += node.*weight * std::pow(node.x, power);
  return range.length() / 2 * sum;
}

double exact(const Range& range, int power) {
  return (std::pow(range.high, power + 1) - std::pow(range.low, power + 1)) / (power + 1);
}

std::size_t coarse_nodes(const std::vector<RuleNode>& nodes) {
  return static_cast<std::size_t>(
      std::ranges::count_if(nodes, [](const RuleNode& node) { return node.coarse_weight > 0; }));
}

/// A Gauss rule of n points has degree 2n - 1, and the Kronrod rule around it at least 3n + 1
/// (Kronrod 1965); in a range with both signs of x odd and even powers are tried alike.
template <unsigned points> void check_degrees() {
  const Range range{-1, 2};
  const auto nodes = nested_rule<points>(range);
  constexpr int gauss = static_cast<int>(points / 2);
  REQUIRE(nodes.size() == points);
  CHECK(coarse_nodes(nodes) == points / 2);
  for (const RuleNode& node : nodes) {
    CHECK(node.x > range.low);
    CHECK(node.x < range.high);
  }
  for (int power = 0; power <= 3 * gauss + 1; ++power) {
    CAPTURE(points, power);
    CHECK_THAT(integral(nodes, range, &RuleNode::weight, power),
               support::close_to(exact(range, power)));
    if (power <= 2 * gauss - 1)
      CHECK_THAT(integral(nodes, range, &RuleNode::coarse_weight, power),
                 support::close_to(exact(range, power)));
  }
}

} // namespace

TEST_CASE("A range has its length and middle") {
  const Range range{-1, 4};
  CHECK(range.length() == 5);
  CHECK(range.middle() == 1.5);
}

TEST_CASE("The 21-point rule is that of QUADPACK, with the 10-point Gauss rule inside") {
  // Piessens et al. 1983, QUADPACK, routine QK21, outermost nodes and weights.
  const auto nodes = nested_rule<21>({-1, 1});
  REQUIRE(nodes.size() == 21);
  CHECK(coarse_nodes(nodes) == 10);
  const auto outermost = std::ranges::max_element(nodes, {}, &RuleNode::x);
  CHECK_THAT(outermost->x, support::close_to(0.995657163025808081));
  CHECK_THAT(outermost->weight, support::close_to(0.011694638867371874));
  CHECK(outermost->coarse_weight == 0);
  // The node is the tabled one but for its last bits.
  const auto gauss = std::ranges::find_if(nodes, [](const RuleNode& node) {
    return std::abs(node.x - 0.973906528517171720) < support::other_order;
  });
  REQUIRE(gauss != nodes.end());
  CHECK_THAT(gauss->coarse_weight, support::close_to(0.066671344308688138));
}

TEST_CASE("Both rules of a nested one are exact for polynomials of their degree") {
  check_degrees<21>();
  check_degrees<31>();
}

TEST_CASE("The Gauss rule stands in ascending order, as tabled") {
  // Abramowitz & Stegun 1964, table 25.4, to the ten digits printed there.
  constexpr double printed = support::ten_digits;
  const auto seven = gauss_rule<7>({-1, 1});
  REQUIRE(seven.size() == 7);
  CHECK(std::ranges::is_sorted(seven, {}, &RuleNode::x));
  CHECK_THAT(seven.back().x, support::close_to(0.9491079123, printed));
  CHECK_THAT(seven.back().weight, support::close_to(0.1294849662, printed));
  CHECK_THAT(seven.front().x, support::close_to(-0.9491079123, printed));
  CHECK_THAT(seven.front().weight, support::close_to(0.1294849662, printed));
  CHECK(seven[3].x == 0);
  CHECK_THAT(seven[3].weight, support::close_to(0.4179591837, printed));
  const auto ten = gauss_rule<10>({-1, 1});
  REQUIRE(ten.size() == 10);
  CHECK(std::ranges::is_sorted(ten, {}, &RuleNode::x));
  CHECK_THAT(ten[5].x, support::close_to(0.1488743390, printed));
  CHECK_THAT(ten[5].weight, support::close_to(0.2955242247, printed));
  for (const RuleNode& node : ten)
    CHECK(node.coarse_weight == node.weight);
}

TEST_CASE("The Gauss rule on a range of its own is exact for polynomials of its degree") {
  const Range range{2, 5};
  for (const int power : {0, 1, 7, 13})
    CHECK_THAT(integral(gauss_rule<7>(range), range, &RuleNode::weight, power),
               support::close_to(exact(range, power)));
}
