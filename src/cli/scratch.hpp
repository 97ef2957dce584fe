#pragma once

#include <filesystem>
#include <functional>
#include <mutex>

namespace eggfall::cli {

/// Begin the names of all scratch files and folders: what is found of them after a crash or a power
/// cut may be deleted.
inline constexpr const char* scratch_prefix = "eggfall-unfinished-";

/// From now on SIGINT, SIGTERM and SIGHUP remove all scratch files before they end the program,
/// which then ends by the very signal. To be called before there is a second thread.
void remove_scratch_on_signals();

/// While one lives, no signal of those ends the program.
class Uninterrupted {
public:
  Uninterrupted();

private:
  std::unique_lock<std::recursive_mutex> lock_;
};

/// A file or folder for the time being, removed with the object or by a signal.
class Scratch {
public:
  Scratch() = default; ///< None.
  /// `make` makes it and gives its path, or an empty path if it made none.
  explicit Scratch(const std::function<std::filesystem::path()>& make);
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  Scratch(Scratch&& other) noexcept;
  Scratch& operator=(Scratch&& other) noexcept;
  ~Scratch();

  const std::filesystem::path& path() const { return path_; } ///< Empty: none.

  /// It has got another name, and stays.
  void forget();

private:
  std::filesystem::path path_;
};

} // namespace eggfall::cli
