#pragma once

#include "eggfall/base/random_stream.hpp"

#include <cstddef>
#include <cstdint>
#include <utility>

/// A stream with the draws that a sweep needs.
class Luck {
public:
  explicit Luck(const eggfall::StreamKey& key) : stream_(key) {}

  double uniform(double low, double high);
  double on_log_scale(double low, double high);
  std::size_t whole_on_log_scale(std::size_t low, std::size_t high);
  bool chance(double probability) { return uniform(0, 1) < probability; }
  std::uint32_t below(std::size_t n) { return stream_.below(static_cast<std::uint32_t>(n)); }

  template <typename List> const auto& one_of(const List& list) { return list[below(list.size())]; }

  /// All orders are as likely.
  template <typename List> void shuffle(List& list) {
    for (std::size_t i = list.size(); i > 1; --i)
      std::swap(list[i - 1], list[below(i)]);
  }

private:
  eggfall::RandomStream stream_;
};
