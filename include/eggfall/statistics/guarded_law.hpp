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

/// What the guarded law listens to: each may see a doubt that the others do not.
enum class Witness {
  posterior, ///< The posterior of a model with one efficacy for all animals.
  animals, ///< The bootstrap: animals may respond differently. Silent where no egg was found after
           ///< treatment, and under five animals or pools.
  luck,    ///< The luck of counting alone, by mid-P: what no number of alike animals takes away.
};

/// In the order of their values.
inline constexpr std::array all_witnesses{Witness::posterior, Witness::animals, Witness::luck};

/// Which witness reaches furthest on each side of a guarded interval of the reduction. A limit of
/// the luck of counting says that too few eggs were counted for one further in.
struct GuardedBy {
  Witness lower = Witness::posterior;
  Witness upper = Witness::posterior;

  bool operator==(const GuardedBy&) const = default;
};

/// What counts say of eta = log(rho), rho = 1 - efficacy, as far as all witnesses agree: the
/// envelope of their distribution functions,
///
///     G(eta) = the largest of them where that is at most 1/2,
///              the smallest where that is at least 1/2, and 1/2 between.
///
/// G rises, and its quantiles are the outermost of the witnesses' at every level, so that no chance
/// read from it contradicts a limit read from it. G(eta) below 1/2 is the largest chance that any
/// witness gives to a smaller rho, and above 1/2 the smallest: a chance "at least as far as the
/// most doubtful witness goes", and no probability by one model. A witness that has half of its
/// probability and more at rho = 0, as the luck of counting has where no egg was found after
/// treatment, bounds rho from above alone and keeps out of what bounds it from below.
///
/// An envelope must not be convolved (it is flat at 1/2 between the medians): differences, sums,
/// shares and seasons are taken of each witness by itself, and G is drawn last. Where one of two
/// laws has a silent witness, its posterior stands in for it.
///
/// Quantiles once asked for are kept, and copies share them: a law and its copies are for one
/// thread at a time.
class GuardedLaw {
public:
  /// eta of half an egg above the fraction bar, and of half an egg below it: what lies beyond is
  /// put there in differences and sums, where 0 and infinity have no place.
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

  /// The quantiles of G at (1 -/+ level)/2, as rho: 0 or infinity if a witness reaches there. The
  /// error is the posterior's. @throws InputError unless 0 < level < 1.
  RatioLimits limits(double level) const;

  /// The same by one witness alone, or none if it is silent; of a witness that bounds rho from
  /// above alone the lower limit is 0.
  OrReason<RatioLimits> limits(Witness witness, double level) const;

  /// @throws InputError unless 0 < level < 1.
  GuardedBy guarded_by(double level) const;

  /// The same with another posterior.
  GuardedLaw with_posterior(LogRatioDensity posterior) const;

  /// Each witness's law, changed in the same way and by itself.
  GuardedLaw changed(const std::function<LogRatioDensity(const LogRatioDensity&)>& change) const;

  /// A witness that speaks, held within half an egg: a law that may be convolved. The posterior if
  /// the witness is silent.
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
