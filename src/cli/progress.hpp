#pragma once

#include <chrono>
#include <cstddef>
#include <mutex>

namespace eggfall::cli {

/// A bar on standard error, if that is a terminal; nothing otherwise. For many threads.
class Progress {
public:
  explicit Progress(std::size_t steps);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  /// Wipes the bar.
  ~Progress();

  void step();

private:
  std::size_t steps_;
  std::size_t done_ = 0;
  bool shown_;
  std::chrono::steady_clock::time_point start_;
  std::chrono::steady_clock::time_point last_;
  std::mutex mutex_;
};

} // namespace eggfall::cli
