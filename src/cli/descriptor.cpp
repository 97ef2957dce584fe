#include "cli/descriptor.hpp"

#include <unistd.h>

#include <cerrno>
#include <system_error>
#include <utility>

namespace eggfall::cli {
namespace {

[[noreturn]] void fail() {
  throw std::system_error(errno, std::generic_category());
}

} // namespace

Descriptor::Descriptor(int number) : number_(number) {
  if (number < 0)
    fail();
}

Descriptor::Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}

Descriptor& Descriptor::operator=(Descriptor&& other) noexcept {
  std::swap(number_, other.number_);
  return *this;
}

Descriptor::~Descriptor() {
  if (number_ >= 0)
    ::close(number_);
}

std::size_t Descriptor::read(char* bytes, std::size_t most) {
  while (true) {
    const ssize_t got = ::read(number_, bytes, most);
    if (got >= 0)
      return static_cast<std::size_t>(got);
    if (errno != EINTR)
      fail();
  }
}

void Descriptor::write(std::string_view text) {
  while (!text.empty()) {
    const ssize_t taken = ::write(number_, text.data(), text.size());
    if (taken >= 0)
      text.remove_prefix(static_cast<std::size_t>(taken));
    else if (errno != EINTR)
      fail();
  }
}

void Descriptor::sync() {
  if (::fsync(number_) != 0)
    fail();
}

void Descriptor::close() {
  // After EINTR too it is closed on Linux, and its number may be another file's already.
  if (::close(std::exchange(number_, -1)) != 0 && errno != EINTR)
    fail();
}

} // namespace eggfall::cli
