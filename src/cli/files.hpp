#pragma once

#include <cstddef>
#include <filesystem>
#include <fstream>
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall::cli {

/// The most bytes of a file of a user's own making: 65 MiB.
inline constexpr std::size_t largest_file = 65U << 20U;

/// The whole of a file; "-" is standard input.
/// @throws InputError if it cannot be read or has more than `most` bytes.
std::string read_file(const std::string& path, std::size_t most = largest_file);

/// A file read piece by piece; "-" is standard input.
class InputFile {
public:
  /// @throws InputError if it cannot be opened.
  explicit InputFile(const std::string& path);
  InputFile(const InputFile&) = delete;

  /// The next bytes, at most `most`; valid until the next call, and empty at the end.
  /// @throws InputError if they cannot be read.
  std::string_view read(std::size_t most);

private:
  std::string shown_;
  std::ifstream file_;
  std::istream* stream_;
  std::string buffer_;
};

/// Bytes of a regular file; nothing for any other.
std::optional<std::size_t> size_of(const std::string& path);

/// A text written piece by piece: to a temporary beside its destination, which commit() moves
/// there and the destructor removes. A device, a pipe or standard output ("-") is written to as
/// it is.
class StagedFile {
public:
  /// @throws InputError if it cannot be written.
  explicit StagedFile(const std::string& path);
  StagedFile(StagedFile&& other) noexcept;
  StagedFile& operator=(StagedFile&&) = delete;
  ~StagedFile();

  /// @throws InputError if it cannot be written.
  void append(std::string_view text);
  void flush();
  void commit();

private:
  std::string shown_;
  std::filesystem::path path_;
  std::filesystem::path temporary_; ///< Empty: none, or committed.
  std::ofstream file_;
  std::ostream* stream_;
};

struct OutputFile {
  std::string path; ///< "-" is standard output.
  std::string text;
};

/// @throws InputError if a file that is to be written has no directory to be in. "-" and "" are no
///   files.
void check_places(const std::vector<std::string>& paths);

/// @throws InputError if a file that is to be written is one of the `inputs`, or named twice.
void check_outputs(const std::vector<std::string>& paths, const std::vector<std::string>& inputs);

/// Makes a directory, and those above it, where there is none.
/// @throws InputError if that cannot be done.
void make_directory(const std::string& path);

/// Whether none of these outputs goes to standard output ("-"), so that the usual text may.
/// @throws InputError if several do.
bool screen_is_free(const std::vector<std::string>& paths);

/// Writes all files or none: each to a temporary beside it, renamed once all are there.
/// Devices and pipes are written to as they are.
/// @throws InputError if one cannot be written, or as check_outputs().
void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs);

} // namespace eggfall::cli
