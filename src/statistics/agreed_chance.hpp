#pragma once

#include <algorithm>

namespace eggfall {

/// A chance on which several witnesses (see GuardedLaw) speak, as far as all of them agree. It is
/// the largest chance that a witness gives where all say at most 1/2, the smallest where all say at
/// least 1/2, and 1/2 otherwise. So neither a thing nor its opposite is claimed further than the
/// most doubtful witness goes.
class AgreedChance {
public:
  /// Takes in what a witness says.
  void hear(double chance) {
    most_ = std::max(most_, chance);
    hear_at_most(chance);
  }

  /// Takes in what a witness says that can only doubt that the chance is large: it can lower the
  /// agreed chance to 1/2, and never raises it.
  void hear_at_most(double chance) { least_ = std::min(least_, chance); }

  double value() const { return most_ <= 0.5 ? most_ : std::max(least_, 0.5); }

private:
  double least_ = 1;
  double most_ = 0;
};

} // namespace eggfall
