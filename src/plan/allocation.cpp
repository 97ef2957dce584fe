#include "plan/allocation.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <utility>

namespace eggfall {
namespace {

/// By value, those without one last.
std::vector<std::size_t> ranked(const std::vector<std::optional<double>>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    if (!values[a] || !values[b])
      return values[a].has_value() && !values[b].has_value();
    return *values[a] < *values[b];
  });
  return order;
}

/// The groups 0 to n - 1 in random order (Fisher-Yates).
std::vector<std::size_t> shuffled(std::size_t n, RandomStream& random) {
  std::vector<std::size_t> groups(n);
  std::iota(groups.begin(), groups.end(), std::size_t{0});
  for (std::size_t i = n; i > 1; --i)
    std::swap(groups[i - 1], groups[random.below(static_cast<std::uint32_t>(i))]);
  return groups;
}

} // namespace

std::vector<std::size_t> allocate(const std::vector<std::optional<double>>& values,
                                  std::size_t groups, std::uint64_t seed) {
  constexpr std::size_t most_groups = 1'000'000;
  if (groups < 1 || groups > most_groups)
    throw InputError(
        fmt::format("groups to allocate to: found {}; expected 1 to {}", groups, most_groups));
  const std::vector<std::size_t> order = ranked(values);
  std::vector<std::size_t> group_of(values.size());
  std::vector<std::size_t> block;
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (i % groups == 0) {
      RandomStream random(
          {seed, stream_group("allocation", ""), static_cast<std::uint32_t>(i / groups)});
      block = shuffled(groups, random);
    }
    group_of[order[i]] = block[i % groups];
  }
  return group_of;
}

} // namespace eggfall
