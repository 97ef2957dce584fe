#pragma once

#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>

namespace eggfall {

class EtaLaw;

/// The three laws of one ratio that a guarded law puts together. Each is called a witness, since
/// each may see a doubt that the others do not.
enum class Witness {
  posterior, ///< The posterior of a model with one efficacy for all animals.
  animals,   ///< The bootstrap: animals may respond differently. It is silent where no egg was
             ///< found after treatment, and with fewer than five animals or pools in a group.
  luck, ///< The luck of counting alone, by mid-P: a doubt that stays however alike the animals.
};

/// All of them, in the order of their enumeration values, which index arrays of laws.
inline constexpr std::array all_witnesses{Witness::posterior, Witness::animals, Witness::luck};

/// Which witness sets each limit of a guarded interval of the reduction, being the one that reaches
/// furthest out there. Where that is the luck of counting, too few eggs were counted for a limit
/// further in.
struct GuardedBy {
  Witness lower = Witness::posterior;
  Witness upper = Witness::posterior;

  bool operator==(const GuardedBy&) const = default;
};

/// What counts say of eta = log(rho), rho = 1 - efficacy, as far as all witnesses agree. It is the
/// envelope G of the distribution functions F of the witnesses that speak,
///
///     G(eta) = the largest F(eta) where that is at most 1/2,
///              the smallest F(eta) where that is at least 1/2, and 1/2 between.
///
/// G rises, and its quantiles are the outermost of the witnesses' at every level, so that no chance
/// read from it contradicts a limit read from it. G(eta) below 1/2 is the largest chance that any
/// witness gives to a smaller rho, and above 1/2 the smallest: it says how far the most doubtful
/// witness goes, and is no probability by one model. The luck of counting has half of its
/// probability at rho = 0 where no egg was found after treatment. A witness with half or more there
/// can only say how large rho may be: its F then counts among the smallest, and never among the
/// largest.
///
/// An envelope must not be convolved, since it is flat at 1/2 between the witnesses' medians.
/// Differences, sums, worm shares and seasons are therefore worked out for each witness by itself,
/// and G is drawn only when a chance or a limit is read. In a difference or sum of two laws of
/// which one has a silent witness, that law's posterior stands in for it.
///
/// Quantiles once asked for are kept, and copies share them without a lock: a law and its copies
/// must be used by one thread at a time.
class GuardedLaw {
public:
  /// The values of eta at which half an egg would have been counted above the fraction bar (a very
  /// small rho) and below it (a very large one). Differences and sums cannot hold a rho of 0 or
  /// infinity, so whatever lies beyond these two values is moved to them there.
  struct HalfEggs {
    double above = 0;
    double below = 0;
  };

  /// `animals` and `luck` may be nullptr: silent.
  GuardedLaw(LogRatioDensity posterior, std::shared_ptr<const EtaLaw> animals,
             std::shared_ptr<const EtaLaw> luck, const HalfEggs& half_eggs);

  const LogRatioDensity& posterior() const;

  /// Whether the witness has something to say.
  bool speaks(Witness witness) const;

  /// G(log(ratio)): the chance of a rho below `ratio`, as above. ratio >= 0.
  double probability_below(double ratio) const;

  /// 1 - G(log(1 - efficacy)): the chance of an efficacy below this proportion, at most 1.
  double probability_efficacy_below(double efficacy) const;

  /// Limits of rho: exp of the quantiles of G at (1 - level)/2 and (1 + level)/2, or 0 or infinity
  /// if a witness reaches there. Their `error` is the posterior's.
  /// @throws InputError unless 0 < level < 1.
  RatioLimits limits(double level) const;

  /// The limits of rho by one witness alone, or none if it is silent. A witness with half or more
  /// of its probability at rho = 0 has the lower limit 0.
  /// @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> limits(Witness witness, double level) const;

  /// Which witnesses set limits(level). @throws InputError unless 0 < level < 1.
  GuardedBy guarded_by(double level) const;

  /// This law with its posterior replaced, and the other witnesses as they are.
  GuardedLaw with_posterior(LogRatioDensity posterior) const;

  /// This law with `change` applied to the law of each witness that speaks.
  GuardedLaw changed(const std::function<LogRatioDensity(const LogRatioDensity&)>& change) const;

  /// One witness's law as a density that may be convolved: that of animals or luck held within half
  /// an egg (HalfEggs) on either side, or the posterior if the witness is silent or is the
  /// posterior.
  LogRatioDensity law_of(Witness witness) const;

  /// The laws of X - Y and of X + Y for independent X and Y.
  friend GuardedLaw difference(const GuardedLaw& x, const GuardedLaw& y);
  friend GuardedLaw sum(const GuardedLaw& x, const GuardedLaw& y);

private:
  struct Reach {
    RatioLimits rho;
    GuardedBy by_witness;
  };

  Reach reach(double level) const;

  using Combine = LogRatioDensity(const LogRatioDensity&, const LogRatioDensity&);

  /// Each witness's law combined with that of `other`.
  GuardedLaw with(const GuardedLaw& other, const HalfEggs& half_eggs, Combine* combine) const;

  /// One for each of all_witnesses; nullptr for a witness that is silent.
  std::array<std::shared_ptr<const EtaLaw>, all_witnesses.size()> laws_;
  HalfEggs half_eggs_;
};

GuardedLaw difference(const GuardedLaw& x, const GuardedLaw& y);
GuardedLaw sum(const GuardedLaw& x, const GuardedLaw& y);

} // namespace eggfall
