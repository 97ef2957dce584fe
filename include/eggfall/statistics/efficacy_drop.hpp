#pragma once

#include "eggfall/statistics/guarded_law.hpp"

namespace eggfall {

/// Whether a drench does less than it did, from two tests made one after the other. rho is the
/// share of eggs that a test says are left; both chances are proportions.
struct EfficacyDrop {
  double any = 0;    ///< P(rho later > rho earlier): that the efficacy has dropped at all.
  double marked = 0; ///< P(rho later > rho earlier + 0.02): by more than close_efficacies.

  bool operator==(const EfficacyDrop&) const = default;
};

/// The chances of a drop of more than m (0, and close_efficacies = 0.02) between two independent
/// tests,
///
///     P(rho_2 > rho_1 + m) = integral f_2(eta) F_1(log(exp(eta) - m)) d eta,
///
/// f_2 being the density of eta = log(rho) by the later test and F_1 the distribution function by
/// the earlier one. The integral is taken by quadrature for each witness by itself, and the
/// witnesses' answers are put together only afterwards, as in GuardedLaw: the largest of them where
/// all are at most 1/2, the smallest where all are at least 1/2, and 1/2 otherwise. So neither a
/// drop nor its absence is claimed further than the most doubtful witness goes.
///
/// Two tests are not independent where animals were in both, or where a counting method errs in the
/// same way in both (an error that cancels in part). Either makes a drop easier to see than these
/// chances say.
EfficacyDrop drop_between(const GuardedLaw& earlier, const GuardedLaw& later);

} // namespace eggfall
