#pragma once

#include "eggfall/base/error.hpp"

namespace eggfall {

/// What to do, in plain words. It supports, and does not replace, a veterinarian registered where
/// the animals are.
struct Advice {
  Wording next_step; ///< After the standing, in a sentence or some.
};

} // namespace eggfall
