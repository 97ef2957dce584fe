#pragma once

#include "eggfall/trial/trial.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

/// One trial that is asked for.
struct FlawedTrial {
  bool failing = false; ///< Of a failing drench, or of a good one.
  bool flawed = true;   ///< With the flaw, or the same without it.
  std::uint64_t seed = 1;
  std::uint32_t number = 0;
};

/// A flaw that no count shows by itself, and invented trials that have it.
struct Flaw {
  std::string name;
  std::string how;            ///< How its trials are made, in a sentence.
  double failing;             ///< True efficacy of the failing drench.
  double good;                ///< And of the good one.
  bool comforts_none = false; ///< A bar holds of every such trial: none may comfort.
  bool accuses_none = false;  ///< Nor accuse.
  std::function<eggfall::Trial(const Flaw&, const FlawedTrial&)> trial;

  double efficacy(const FlawedTrial& wanted) const { return wanted.failing ? failing : good; }
};

/// The flaws that the standing is to catch (docs/bars.md), and some kin of theirs that it cannot
/// see: what nobody wrote down. Fifteen sheep with 20 eggs a head, k 0.7 and a variation of 0.5
/// within animals, sampled on day 14 with weights, doses and dates, unless a flaw says otherwise.
const std::vector<Flaw>& all_flaws();
