#include "statistics/posterior_grid.hpp"

#include "support/support.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

using namespace eggfall;

namespace {

constexpr double minus_infinity = -std::numeric_limits<double>::infinity();

/// The log density of a normal variable, up to a constant, on a grid.
auto normal(double mean, double sd) {
  return [=](const EtaGrid& grid) {
    std::vector<double> values;
    for (std::size_t i = 0; i < grid.points; ++i)
      values.push_back(-std::pow((grid.eta(i) - mean) / sd, 2) / 2);
    return values;
  };
}

struct Node {
  double variation = 0;
  double log_weight = 0;
};

} // namespace

TEST_CASE("A grid of eta has its first and last point at the ends of the range") {
  const EtaGrid grid({-1, 3}, 9);
  CHECK(grid.points == 9);
  CHECK(grid.step == 0.5);
  CHECK(grid.eta(0) == -1);
  CHECK(grid.eta(3) == 0.5);
  CHECK(grid.end() == 3);
}

TEST_CASE("Logs are summed without overflow, and of nothing there is no sum") {
  Eigen::ArrayXd values(3);
  values << std::log(1.0), std::log(2.0), std::log(3.0);
  CHECK_THAT(log_sum_exp(values), support::close_to(std::log(6.0)));
  CHECK_THAT(log_sum_exp(values + 2000), support::close_to(2000 + std::log(6.0)));
  CHECK_THAT(log_sum_exp(values - 2000), support::close_to(-2000 + std::log(6.0)));
  values(1) = minus_infinity;
  CHECK_THAT(log_sum_exp(values), support::close_to(std::log(4.0)));
  CHECK(log_sum_exp(Eigen::ArrayXd::Constant(3, minus_infinity)) == minus_infinity);
}

TEST_CASE("The marginal log density adds the nodes of each row by their weights") {
  Eigen::ArrayXXd joint(3, 2);
  joint << 1, 2, 3, 4, 5, 6;
  Eigen::ArrayXd log_weight(2);
  log_weight << std::log(0.25), std::log(0.75);
  const auto all = marginal(joint.log(), log_weight);
  REQUIRE(all.size() == 3);
  CHECK_THAT(std::exp(all[0]), support::close_to(0.25 * 1 + 0.75 * 2));
  CHECK_THAT(std::exp(all[1]), support::close_to(0.25 * 3 + 0.75 * 4));
  CHECK_THAT(std::exp(all[2]), support::close_to(0.25 * 5 + 0.75 * 6));
  CHECK(marginal(joint.log(), log_weight, 2) == std::vector<double>{all[0], all[2]});
}

TEST_CASE("Uniform draws lie between 0 and 1, and are spread as they should be") {
  RandomStream stream(StreamKey{1, 2, 3});
  constexpr int draws = 20'000;
  double sum = 0;
  double squares = 0;
  for (int i = 0; i < draws; ++i) {
    const double u = uniform(stream);
    REQUIRE(u > 0);
    REQUIRE(u < 1);
    sum += u;
    squares += u * u;
  }
  // Mean 1/2 and mean square 1/3; five of their standard errors, sqrt(1/12/n) and sqrt(4/45/n).
  CHECK_THAT(sum / draws, Catch::Matchers::WithinAbs(0.5, 5 * std::sqrt(1.0 / 12 / draws)));
  CHECK_THAT(squares / draws, Catch::Matchers::WithinAbs(1.0 / 3, 5 * std::sqrt(4.0 / 45 / draws)));
}

TEST_CASE("Weights add up one by one, and an index is drawn by its own") {
  CHECK(cumulative(std::vector<double>{1, 0, 3}) == std::vector<double>{1, 1, 4});
  CHECK(cumulative(std::vector<double>{}).empty());
  RandomStream stream(StreamKey{4, 5, 6});
  const auto sums = cumulative(std::vector<double>{1, 0, 3});
  constexpr int draws = 20'000;
  std::vector<int> times(3);
  for (int i = 0; i < draws; ++i)
    ++times.at(drawn(sums, stream));
  CHECK(times[1] == 0);
  // A share of 3/4, within five standard errors.
  CHECK_THAT(static_cast<double>(times[2]) / draws,
             Catch::Matchers::WithinAbs(0.75, 5 * std::sqrt(0.75 * 0.25 / draws)));
}

TEST_CASE("Cells are drawn by density and weight together, somewhere within the cell") {
  const EtaGrid grid({0, 2}, 3);
  // Cell by cell the probabilities are 0, 1/4, 0 of the first node and 1/2, 0, 1/4 of the second.
  Eigen::ArrayXXd joint(3, 2);
  joint << 0, 2, 2, 0, 0, 1;
  Eigen::ArrayXd log_weight(2);
  log_weight << std::log(0.5), std::log(1.0);
  RandomStream stream(StreamKey{7, 8, 9});
  constexpr std::size_t draws = 20'000;
  const auto drawn_cells = draw(joint.log() + 700, log_weight, grid, draws, stream);
  REQUIRE(drawn_cells.size() == draws);
  double first_node = 0;
  double below_half = 0;
  double within = 0;
  for (const GridDraw& cell : drawn_cells) {
    const double point = std::round(cell.eta); // The step is 1.
    REQUIRE(std::abs(cell.eta - point) <= 0.5);
    REQUIRE((cell.node == 0 ? point == 1 : point == 0 || point == 2));
    first_node += cell.node == 0 ? 1 : 0;
    below_half += point == 0 ? 1 : 0;
    within += cell.eta - point;
  }
  const auto share = [](double p) {
    return Catch::Matchers::WithinAbs(p, 5 * std::sqrt(p * (1 - p) / draws));
  };
  CHECK_THAT(first_node / draws, share(0.25));
  CHECK_THAT(below_half / draws, share(0.5));
  // Uniform in the cell: mean 0 and variance 1/12.
  CHECK_THAT(within / draws, Catch::Matchers::WithinAbs(0, 5 * std::sqrt(1.0 / 12 / draws)));
}

TEST_CASE("A range is moved and narrowed until it just holds the posterior") {
  // Log densities are negligible beyond sqrt(2 x 14) standard deviations, at 3 - 0.529 and 3 +
  // 0.529.
  const double reach = 0.1 * std::sqrt(2 * negligible_posterior);
  for (const Range& start : {Range{-1, 1}, Range{2.9, 3.1}, Range{-500, 400}}) {
    int in_sight = 0;
    const Range range = fitted_range(start, normal(3, 0.1), [&] { ++in_sight; });
    CHECK(range.low <= 3 - reach);
    CHECK(range.high >= 3 + reach);
    // Of 16 steps of a range at most 1/0.35 as long, at most one is too much on each side.
    CHECK(range.length() < 2 * reach / (1 - 2.0 / 16 / 0.35));
    CHECK(in_sight >= 1);
  }
}

TEST_CASE("A posterior that is nowhere to be found is told") {
  const auto nowhere = [](const EtaGrid& grid) {
    return std::vector<double>(grid.points, minus_infinity);
  };
  int in_sight = 0;
  CHECK_THROWS_AS(fitted_range({-1, 1}, nowhere, [&] { ++in_sight; }), CalculationError);
  CHECK(in_sight == 0);
  // One that never falls off has no range that holds it.
  const auto flat = [](const EtaGrid& grid) { return std::vector<double>(grid.points, 0.0); };
  CHECK_THROWS_AS(fitted_range({-1, 1}, flat, [] {}), CalculationError);
}

TEST_CASE("A range of variation is cut where a straight line meets the threshold") {
  const std::vector<double> nodes{0.2, 0.4, 0.6, 0.8, 1.0};
  const Range range{0, 1.2};
  // From -22 to 0, the threshold at -11 is half the way.
  const Range both = narrowed(range, nodes, {-22, 0, -1, 0, -22});
  CHECK_THAT(both.low, support::close_to(0.3));
  CHECK_THAT(both.high, support::close_to(0.9));
  // Nothing is cut off where the outermost node counts.
  const Range high = narrowed(range, nodes, {-22, -22, 0, 0, -10.9});
  CHECK_THAT(high.low, support::close_to(0.5));
  CHECK(high.high == range.high);
  const Range all = narrowed(range, nodes, {0, -50, 0, -50, 0});
  CHECK(all.low == range.low);
  CHECK(all.high == range.high);
  // A density of none, and one just at the threshold, are out, and so is all beyond that node.
  const Range none = narrowed(range, nodes, {minus_infinity, minus_infinity, 0, -11, -50});
  CHECK_THAT(none.low, support::close_to(0.4));
  CHECK_THAT(none.high, support::close_to(0.8));
}

TEST_CASE("A range of variation is cut by a joint density with the weights of its nodes") {
  const std::vector<Node> nodes{{0.2, 0}, {0.4, 0}, {0.6, std::log(0.5)}};
  CHECK_THAT(weights(nodes, &Node::variation)(2), support::close_to(0.6));
  CHECK(weights(nodes, &Node::log_weight).size() == 3);
  // Two rows alike in each column: the sum of exp(joint) is 2 e^0, 2 e^0 and 2 e^-22 x 1/2.
  Eigen::ArrayXXd joint(2, 3);
  joint << 0, 0, -22, 0, 0, -22;
  const Range range = narrowed({0, 1}, nodes, &Node::variation, joint);
  CHECK(range.low == 0);
  // The line falls by 22 + log 2 between the nodes at 0.4 and 0.6.
  CHECK_THAT(range.high, support::close_to(0.4 + 0.2 * 11 / (22 + std::log(2.0))));
}
