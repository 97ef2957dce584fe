#include "harness.hpp"

#include "base/text.hpp"

#include <algorithm>

namespace fuzz {
namespace {

bool is_control(char c) {
  return (static_cast<unsigned char>(c) < 0x20U && c != '\n') || c == 0x7F;
}

} // namespace

bool check(std::string_view bytes) {
  try {
    read_and_use(bytes);
    return true;
  } catch (const eggfall::InputError& error) {
    const std::string_view message = error.what();
    promise(!message.empty(), "a message says something");
    promise(!eggfall::first_invalid_utf8(message), "a message is UTF-8");
    promise(std::ranges::none_of(message, is_control), "a message holds no control characters");
    return false;
  }
}

} // namespace fuzz
