#include "cli/scratch.hpp"

#include <pthread.h>

#include <csignal>
#include <cstdlib>
#include <set>
#include <system_error>
#include <thread>
#include <utility>

namespace eggfall::cli {
namespace {

struct Registry {
  std::recursive_mutex mutex;
  std::set<std::filesystem::path> paths;
};

/// Never destroyed, as a signal may come while the program ends.
Registry& registry() {
  static auto* const all = new Registry;
  return *all;
}

void remove_quietly(const std::filesystem::path& path) {
  std::error_code ignored;
  std::filesystem::remove_all(path, ignored);
}

/// Those that end the program; not one that whoever started it wants ignored, such as nohup.
sigset_t ending_signals() {
  sigset_t set;
  sigemptyset(&set);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction current {};
    if (sigaction(signal, nullptr, &current) == 0 && current.sa_handler == SIG_DFL)
      sigaddset(&set, signal);
  }
  return set;
}

[[noreturn]] void end_at_signal(sigset_t signals) {
  int signal = 0;
  sigwait(&signals, &signal);
  registry().mutex.lock(); // for good: nothing is made or moved any more
  for (const std::filesystem::path& path : registry().paths)
    remove_quietly(path);
  pthread_sigmask(SIG_UNBLOCK, &signals, nullptr);
  raise(signal); // unblocked, it does what it always does
  constexpr int signal_codes = 128;
  std::_Exit(signal_codes + signal);
}

/// What `make` makes, which a signal finds from the moment it is there.
std::filesystem::path made_known(const std::function<std::filesystem::path()>& make) {
  const Uninterrupted until_known;
  std::filesystem::path path = make();
  if (!path.empty())
    registry().paths.insert(path);
  return path;
}

} // namespace

void remove_scratch_on_signals() {
  registry();
  const sigset_t signals = ending_signals();
  pthread_sigmask(SIG_BLOCK, &signals, nullptr); // here and in all threads to come
  try {
    std::thread(end_at_signal, signals).detach();
  } catch (const std::system_error&) { // no thread to be had: they end the program as they are
    pthread_sigmask(SIG_UNBLOCK, &signals, nullptr);
  }
}

Uninterrupted::Uninterrupted() : lock_(registry().mutex) {}

Scratch::Scratch(const std::function<std::filesystem::path()>& make) : path_(made_known(make)) {}

Scratch::Scratch(Scratch&& other) noexcept : path_(std::exchange(other.path_, {})) {}

Scratch& Scratch::operator=(Scratch&& other) noexcept {
  std::swap(path_, other.path_);
  return *this;
}

Scratch::~Scratch() {
  if (path_.empty())
    return;
  const Uninterrupted until_gone;
  remove_quietly(path_);
  registry().paths.erase(path_);
}

void Scratch::forget() {
  const Uninterrupted until_forgotten;
  registry().paths.erase(path_);
  path_.clear();
}

} // namespace eggfall::cli
