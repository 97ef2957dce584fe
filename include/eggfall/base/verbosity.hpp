#pragma once

namespace eggfall {

/// How much of a result to tell.
enum class Verbosity {
  brief, ///< Only what a reader needs in order to act.
  full,  ///< Besides that every interval, design, criterion and caveat, and each animal.
};

} // namespace eggfall
