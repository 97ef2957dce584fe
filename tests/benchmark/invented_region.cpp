// Writes an invented survey's counts table to standard output.
// Run: eggfall_invented_region FARMS DRENCHES ANIMALS SEED

#include "support/invented_region.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <string>

int main(int argc, char** argv) {
  std::array<std::uint64_t, 4> numbers{};
  for (int i = 0; i < 4; ++i) {
    const auto number = i + 1 < argc ? eggfall::parse_whole_number(argv[i + 1]) : std::nullopt;
    if (argc != 5 || !number || (i == 1 && (*number < 1 || *number > 3))) {
      std::fputs("expected FARMS DRENCHES ANIMALS SEED, whole numbers, DRENCHES 1 to 3\n", stderr);
      return 2;
    }
    numbers[static_cast<std::size_t>(i)] = *number;
  }
  const auto [farms, drenches, animals, seed] = numbers;
  const InventedRegion region(drenches, animals, seed);
  std::fputs(InventedRegion::header().c_str(), stdout);
  for (std::size_t farm = 1; farm <= farms; ++farm)
    std::fputs(region.farm(farm).c_str(), stdout);
  return 0;
}
