#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

/// An invented survey's counts table, to be made piece by piece, for it may be long.
class InventedRegion {
public:
  /// Each farm tests `drenches` (1 to 3) drenches, on so many animals each.
  InventedRegion(std::size_t drenches, std::size_t animals, std::uint64_t seed)
      : drenches_(drenches), animals_(animals), seed_(seed) {}

  static std::string header();

  /// The rows of farm `number`, from 1: sheep in one of three regions, in one of two years.
  /// A drench is resisted on some farms (the older its class, the more), and its efficacy then
  /// 50 to 90%, or else 97 to 99.9%; counts from eggfall::simulate(), factor 15.
  std::string farm(std::size_t number) const;

private:
  std::size_t drenches_;
  std::size_t animals_;
  std::uint64_t seed_;
};
