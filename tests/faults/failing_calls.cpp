// Preloaded by faults.sh: makes one call of the operating system fail, as a real disk does when it
// is too late to set that up in a test.
//
//   FAILING_CALL  rename, link, fsync or close (of a file that was synced): the FAILING_AT-th fails
//   FAILING_AT    a number from 1; 0: every one
//   FAILING_WITH  errno then
//   SHORT_CALLS   set: each read and write takes 7 bytes at most, and every third is interrupted

#include <dlfcn.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

namespace {

constexpr int most_descriptors = 1024;
std::atomic<bool> synced[most_descriptors]; // by number

long number_in(const char* variable) {
  const char* const text = std::getenv(variable);
  return text == nullptr ? -1 : std::atol(text);
}

/// Whether this call of that name is the one to fail; errno is set then.
bool fails(const char* name) {
  static std::atomic<long> calls{0};
  const char* const failing = std::getenv("FAILING_CALL");
  if (failing == nullptr || std::strcmp(failing, name) != 0)
    return false;
  const long position = number_in("FAILING_AT");
  if (++calls != position && position != 0)
    return false;
  errno = static_cast<int>(number_in("FAILING_WITH"));
  return true;
}

bool is_interrupted() {
  static std::atomic<long> calls{0};
  if (++calls % 3 != 0)
    return false;
  errno = EINTR;
  return true;
}

size_t shortened(size_t size) {
  constexpr size_t longest = 7;
  return std::min(size, longest);
}

template <typename Function> Function* real(const char* name) {
  return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

} // namespace

extern "C" {

int rename(const char* from, const char* to) noexcept {
  return fails("rename") ? -1 : real<int(const char*, const char*)>("rename")(from, to);
}

int link(const char* from, const char* to) noexcept {
  return fails("link") ? -1 : real<int(const char*, const char*)>("link")(from, to);
}

int fsync(int number) {
  if (number >= 0 && number < most_descriptors)
    synced[number] = true;
  return fails("fsync") ? -1 : real<int(int)>("fsync")(number);
}

int close(int number) {
  const bool told = number >= 0 && number < most_descriptors && synced[number].exchange(false);
  const int result = real<int(int)>("close")(number);
  return told && fails("close") ? -1 : result;
}

ssize_t read(int number, void* bytes, size_t size) {
  if (std::getenv("SHORT_CALLS") != nullptr) {
    if (is_interrupted())
      return -1;
    size = shortened(size);
  }
  return real<ssize_t(int, void*, size_t)>("read")(number, bytes, size);
}

ssize_t write(int number, const void* bytes, size_t size) {
  if (std::getenv("SHORT_CALLS") != nullptr) {
    if (is_interrupted())
      return -1;
    size = shortened(size);
  }
  return real<ssize_t(int, const void*, size_t)>("write")(number, bytes, size);
}

} // extern "C"
