#include "cli/progress.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <string>
#include <utility>

#include <unistd.h>

namespace eggfall::cli {
namespace {

constexpr std::size_t bar_width = 30;

std::string remaining(double seconds) {
  constexpr double minute = 60;
  return seconds < 2 * minute ? fmt::format("{:.0f} s", seconds)
                              : fmt::format("{:.0f} min", seconds / minute);
}

} // namespace

Progress::Progress(std::size_t steps)
    : steps_(steps), shown_(isatty(STDERR_FILENO) == 1), start_(std::chrono::steady_clock::now()),
      last_(start_) {}

Progress::Progress(std::string unit) : Progress(std::size_t{1}) {
  steps_.reset();
  unit_ = std::move(unit);
}

Progress::~Progress() {
  if (shown_)
    std::fputs("\r\x1B[K", stderr);
}

void Progress::step(std::size_t steps) {
  if (!shown_)
    return;
  const std::lock_guard lock(mutex_);
  done_ += steps;
  const auto now = std::chrono::steady_clock::now();
  if (now - last_ < std::chrono::milliseconds(200))
    return;
  last_ = now;
  if (!steps_) {
    std::fputs(fmt::format("\r{} {} done\x1B[K", done_, unit_).c_str(), stderr);
    return;
  }
  const double share = static_cast<double>(done_) / static_cast<double>(*steps_);
  const double left = std::chrono::duration<double>(now - start_).count() * (1 - share) / share;
  const auto filled = static_cast<std::size_t>(share * static_cast<double>(bar_width));
  std::fputs(fmt::format("\r[{}{}] {:3.0f}%, about {} left\x1B[K", std::string(filled, '#'),
                         std::string(bar_width - filled, '.'), 100 * share, remaining(left))
                 .c_str(),
             stderr);
}

} // namespace eggfall::cli
