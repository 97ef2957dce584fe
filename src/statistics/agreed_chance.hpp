#pragma once

#include <algorithm>

namespace eggfall {

/// A chance on which several witnesses speak, as far as all of them agree: the largest that one
/// gives where all say at most 1/2, the smallest where all say at least that, and 1/2 between. So
/// neither a thing nor its opposite is claimed further than the most doubtful witness goes.
class AgreedChance {
public:
  void hear(double chance) {
    most_ = std::max(most_, chance);
    hear_at_most(chance);
  }

  /// Of a witness that can only doubt that the chance is large: it never holds one up.
  void hear_at_most(double chance) { least_ = std::min(least_, chance); }

  double value() const { return most_ <= 0.5 ? most_ : std::max(least_, 0.5); }

private:
  double least_ = 1;
  double most_ = 0;
};

} // namespace eggfall
