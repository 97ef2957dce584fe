#include "plan/allocation.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <map>
#include <numeric>

using namespace eggfall;

namespace {

using Values = std::vector<std::optional<double>>;

/// Sum of (seen - expected)^2 / expected.
double chi_square(const std::map<std::vector<std::size_t>, std::size_t>& seen, std::size_t cells,
                  std::size_t draws) {
  const double expected = static_cast<double>(draws) / static_cast<double>(cells);
  double sum = static_cast<double>(cells - seen.size()) * expected;
  for (const auto& [cell, count] : seen) {
    const double off = static_cast<double>(count) - expected;
    sum += off * off / expected;
  }
  return sum;
}

constexpr std::size_t seeds = 12'000;

/// How often each arrangement of the animals in `which` came, over the seeds 1, 2, ...
std::map<std::vector<std::size_t>, std::size_t>
arrangements(const Values& values, const std::vector<std::size_t>& which, std::size_t groups) {
  std::map<std::vector<std::size_t>, std::size_t> seen;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    const std::vector<std::size_t> group_of = allocate(values, groups, seed);
    std::vector<std::size_t> arrangement;
    for (const std::size_t animal : which)
      arrangement.push_back(group_of[animal]);
    ++seen[arrangement];
  }
  return seen;
}

} // namespace

// The bounds are R 4.2.2's qchisq(0.999, df) for the fixed seeds, df = cells - 1.
TEST_CASE("Every permutation of a block is as likely as another") {
  const Values four{1, 2, 3, 4};
  CHECK(chi_square(arrangements(four, {0, 1, 2, 3}, 4), 24, seeds) < 49.728); // df 23
  // The second block of six animals in threes; the values stand in no order.
  const Values six{60, 10, 50, 20, 40, 30};
  CHECK(chi_square(arrangements(six, {0, 2, 4}, 3), 6, seeds) < 20.515); // df 5
}

TEST_CASE("A last block that is not full goes to any groups alike") {
  const Values five{1, 2, 3, 4, 5};
  CHECK(chi_square(arrangements(five, {3, 4}, 3), 6, seeds) < 20.515); // df 5
}

TEST_CASE("Two blocks are drawn independently") {
  const Values four{1, 2, 3, 4};
  // The first animal of each block: 2 x 2 equally likely pairs.
  CHECK(chi_square(arrangements(four, {0, 2}, 2), 4, seeds) < 16.266); // df 3
}

TEST_CASE("Each block of like animals gives one to every group") {
  Values values(20);
  for (std::size_t i = 0; i < values.size(); ++i)
    values[i] = static_cast<double>((7 * i) % 20); // every value from 0 to 19 once
  const std::vector<std::size_t> group_of = allocate(values, 4, 3);
  for (std::size_t block = 0; block < 5; ++block) {
    std::vector<std::size_t> groups;
    for (std::size_t i = 0; i < values.size(); ++i)
      if (static_cast<std::size_t>(*values[i]) / 4 == block)
        groups.push_back(group_of[i]);
    std::ranges::sort(groups);
    CHECK(groups == std::vector<std::size_t>{0, 1, 2, 3});
  }
  CHECK(group_of == allocate(values, 4, 3));
  CHECK(group_of != allocate(values, 4, 4));
}

TEST_CASE("Group sizes differ by one at most, and animals without a value come last") {
  const Values values{std::nullopt, 5, std::nullopt, 1, 3, std::nullopt, 9};
  const std::vector<std::size_t> group_of = allocate(values, 3, 1);
  std::vector<std::size_t> sizes(3);
  for (const std::size_t group : group_of)
    ++sizes.at(group);
  std::ranges::sort(sizes);
  CHECK(sizes == std::vector<std::size_t>{2, 2, 3});
  // 1, 3 and 5 are the first block; 9 and the first two without a value the second.
  const auto all_groups = [&](std::vector<std::size_t> animals) {
    std::vector<std::size_t> groups;
    for (const std::size_t animal : animals)
      groups.push_back(group_of[animal]);
    std::ranges::sort(groups);
    return groups == std::vector<std::size_t>{0, 1, 2};
  };
  CHECK(all_groups({3, 4, 1}));
  CHECK(all_groups({6, 0, 2}));
  CHECK(allocate({}, 3, 1).empty());
  CHECK(support::input_error([] { allocate({}, 0, 1); }) ==
        "groups to allocate to: found 0; expected 1 to 1000000");
}
