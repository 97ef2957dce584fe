#pragma once

#include <chrono>
#include <cstddef>
#include <mutex>
#include <optional>
#include <string>

namespace eggfall::cli {

/// A bar on standard error, if that is a terminal; nothing otherwise. For many threads.
class Progress {
public:
  /// So many steps are to be done.
  explicit Progress(std::size_t steps);
  /// Nobody knows how many are to be done: those done are told, as so many of `unit`.
  explicit Progress(std::string unit);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  /// Wipes the bar.
  ~Progress();

  void step(std::size_t steps = 1);

private:
  std::optional<std::size_t> steps_;
  std::string unit_;
  std::size_t done_ = 0;
  bool shown_;
  std::chrono::steady_clock::time_point start_;
  std::chrono::steady_clock::time_point last_;
  std::mutex mutex_;
};

} // namespace eggfall::cli
