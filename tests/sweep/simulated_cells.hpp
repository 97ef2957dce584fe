#pragma once

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <mutex>
#include <vector>

/// Tallies of trials 0 ... trials - 1 of each cell, on all cores: count(tally, cell, trial) adds a
/// trial. Tallies are whole numbers, added by +=, so that the order does not matter.
template <typename Tally, typename Count>
std::vector<Tally> tallies_of(std::size_t cells, std::uint32_t trials, Count&& count) {
  constexpr std::uint32_t trials_a_task = 50;
  const std::uint32_t a_cell = (trials + trials_a_task - 1) / trials_a_task;
  std::vector<Tally> all(cells);
  std::mutex mutex;
  tbb::parallel_for(std::size_t{0}, cells * a_cell, [&](std::size_t task) {
    const std::size_t cell = task / a_cell;
    const auto first = static_cast<std::uint32_t>(task % a_cell) * trials_a_task;
    Tally tally;
    for (std::uint32_t trial = first; trial < std::min(trials, first + trials_a_task); ++trial)
      count(tally, cell, trial);
    const std::lock_guard lock(mutex);
    all[cell] += tally;
  });
  return all;
}
