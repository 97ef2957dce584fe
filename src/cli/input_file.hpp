#pragma once

#include "cli/descriptor.hpp"

#include <cstddef>
#include <ctime>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall::cli {

/// A file read piece by piece; "-" is standard input.
class InputFile {
public:
  /// @throws InputError if it cannot be opened.
  explicit InputFile(const std::string& path);

  /// The next bytes, at most `most`; valid until the next call, and empty at the end.
  /// @throws InputError if they cannot be read, and at the end if the file has changed since it was
  ///   opened, so that the parts read may not belong together.
  std::string_view read(std::size_t most);

private:
  /// What tells a file that is being written to. A pipe has none.
  struct State {
    off_t size;
    timespec changed;
  };
  std::optional<State> state() const;
  void check_unchanged() const;

  std::string shown_;
  Descriptor file_;
  std::optional<State> at_first_;
  std::string buffer_;
};

} // namespace eggfall::cli
