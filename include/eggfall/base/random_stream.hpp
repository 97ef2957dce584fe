#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace eggfall {

/// What a stream of random numbers belongs to. Two streams of different keys are
/// independent; one key always gives the same numbers, whatever the order, the
/// thread or the machine.
struct StreamKey {
  std::uint64_t seed = 0;
  std::uint64_t group = 0;     ///< stream_group() of the trial and group.
  std::uint32_t replicate = 0; ///< Which of many repetitions, such as simulated trials.
};

/// A stable 64-bit number for a trial and a group of it (FNV-1a).
constexpr std::uint64_t stream_group(std::string_view trial, std::string_view group) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  const auto mix = [&hash](unsigned char byte) {
    hash ^= byte;
    hash *= 0x100000001B3U;
  };
  for (const char c : trial)
    mix(static_cast<unsigned char>(c));
  mix(0xFFU); // in no UTF-8 text, so ("a", "bc") and ("ab", "c") differ
  for (const char c : group)
    mix(static_cast<unsigned char>(c));
  return hash;
}

/// Counter-based random numbers, Philox 4x32-10 (Salmon et al. 2011, Parallel
/// Random Numbers: As Easy as 1, 2, 3, SC'11): key = seed, counter = (block,
/// replicate, group). Meets the standard's uniform random bit generator.
class RandomStream {
public:
  using result_type = std::uint32_t;

  explicit RandomStream(const StreamKey& key)
      : key_{{static_cast<std::uint32_t>(key.seed), static_cast<std::uint32_t>(key.seed >> 32U)}},
        counter_{{0, key.replicate, static_cast<std::uint32_t>(key.group),
                  static_cast<std::uint32_t>(key.group >> 32U)}} {}

  static constexpr result_type min() { return 0; }
  static constexpr result_type max() { return 0xFFFFFFFFU; }

  result_type operator()() {
    if (used_ == drawn_.size())
      draw_more();
    return drawn_[used_++];
  }

  /// A whole number from 0 to n - 1, n >= 1. The scaled 32-bit draw favours some
  /// values by less than n / 2^32, far below what any resample can show.
  std::uint32_t below(std::uint32_t n) {
    const std::uint64_t scaled = std::uint64_t{(*this)()} * n;
    return static_cast<std::uint32_t>(scaled >> 32U);
  }

private:
  void draw_more();

  std::array<std::uint32_t, 2> key_;
  std::array<std::uint32_t, 4> counter_;
  std::array<std::uint32_t, 8> drawn_{};
  std::size_t used_ = 8;
};

} // namespace eggfall
