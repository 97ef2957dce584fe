#pragma once

#include "eggfall/statistics/guarded_law.hpp"

namespace eggfall {

/// Whether a drench does less than it did: two tests of it, one after the other. Both chances are
/// proportions.
struct EfficacyDrop {
  double any = 0;    ///< P(rho later > rho earlier): that the efficacy has dropped at all.
  double marked = 0; ///< P(rho later > rho earlier + 0.02): by more than close_efficacies.

  bool operator==(const EfficacyDrop&) const = default;
};

/// The chances of a drop between two independent tests,
///
///     P(rho_2 > rho_1 + m) = integral f_2(eta) F_1(log(exp(eta) - m)) d eta,
///
/// by quadrature for each witness by itself; the guard is drawn last, as in GuardedLaw: where all
/// witnesses say at most 1/2, the largest of their chances; where all say at least that, the
/// smallest; else 1/2. So neither a drop nor its absence is claimed further than the most doubtful
/// witness goes.
///
/// What is not independent: animals that were in both tests, and a counting method's own fault in
/// both (which cancels in part). Both make a drop easier to see than is said here.
EfficacyDrop drop_between(const GuardedLaw& earlier, const GuardedLaw& later);

} // namespace eggfall
