#pragma once

#include "swept_trial.hpp"

#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

/// An invariant that did not hold.
struct Breach {
  std::uint64_t trial = 0;
  std::string invariant;
  std::string what;
};

/// How often each invariant was checked, and what broke it.
class Tally {
public:
  /// Counts a check of `invariant` in a trial; `what()`, a text, is asked for a breach alone.
  template <typename What>
  void check(const SweptTrial& trial, std::string_view invariant, bool holds, What&& what) {
    ++counts_[std::string(invariant)][static_cast<std::size_t>(trial.design)];
    if (!holds)
      add({trial.number, std::string(invariant), what()});
  }

  /// Counts something that is no breach, such as a method that gives no limits.
  void note(const SweptTrial& trial, std::string_view what) {
    ++notes_[std::string(what)][static_cast<std::size_t>(trial.design)];
  }

  std::uint64_t breaches() const { return breaches_; }

  /// Checks by invariant and design, and the first breaches, each with the command that replays it.
  std::string report(std::string_view program, std::uint64_t seed) const;

private:
  using ByDesign = std::array<std::uint64_t, 4>;

  void add(Breach breach);

  std::map<std::string, ByDesign> counts_;
  std::map<std::string, ByDesign> notes_;
  std::map<std::string, std::uint64_t> breaches_of_;
  std::uint64_t breaches_ = 0;
  std::vector<Breach> first_;
};
