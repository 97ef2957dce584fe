#pragma once

#include "eggfall/base/error.hpp"

#include <stdexcept>
#include <string>
#include <string_view>

/// What every fuzz target has: bytes go into a reader, and what was read is put to use.
namespace fuzz {

/// A promise of the documentation that did not hold: no InputError, so that it counts as a fault.
class BrokenPromise : public std::logic_error {
public:
  using std::logic_error::logic_error;
};

/// @throws BrokenPromise unless `kept`.
inline void promise(bool kept, const std::string& what) {
  if (!kept)
    throw BrokenPromise("broken promise: " + what);
}

/// What `use` makes of something that was read, and so must be fit for use.
/// @throws BrokenPromise instead of an InputError.
template <typename Use> auto accepted(const std::string& what, Use&& use) {
  try {
    return use();
  } catch (const eggfall::InputError& error) {
    throw BrokenPromise("broken promise: " + what + ": " + error.what());
  }
}

/// Defined by each target: reads the bytes, uses what they hold, and checks what the documentation
/// promises of it. @throws InputError for bytes that the reader may refuse.
void read_and_use(std::string_view bytes);

/// read_and_use(), an InputError that a user can be shown being right as well.
/// @return whether the bytes were taken, and not refused.
/// @throws anything else that read_and_use() throws; BrokenPromise for a message that is empty or
///   would garble a terminal.
bool check(std::string_view bytes);

} // namespace fuzz
