#pragma once

namespace eggfall {

/// How much of a result to tell.
enum class Verbosity {
  brief, ///< What there is to act on.
  full,  ///< Also every interval, design, criterion and caveat, and each animal.
};

} // namespace eggfall
