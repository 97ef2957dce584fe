#pragma once

#include <cstddef>
#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

namespace eggfall::cli {

/// The most bytes of a file of a user's own making: 65 MiB.
inline constexpr std::size_t largest_file = 65U << 20U;

/// The whole of a file; "-" is standard input.
/// @throws InputError if it cannot be read or has more than `most` bytes.
std::string read_file(const std::string& path, std::size_t most = largest_file);

/// Bytes of a regular file; nothing for any other.
std::optional<std::size_t> size_of(const std::string& path);

struct OutputFile {
  std::string path; ///< "-" is standard output.
  std::string text;
};

/// Those that were named on the command line: "" is none.
std::vector<std::string> given(std::initializer_list<std::string> paths);

/// What is known of the places of results ("-" is standard output) before long work.
/// @throws InputError if one has no directory to be in, or one where no file can be made, or is a
///   directory itself; if it is one of the `inputs` ("-" is standard input), or two results, or the
///   text for the screen, would go to one file, however their paths are written.
void check_outputs(std::vector<std::string> paths, const std::vector<std::string>& inputs);

/// Makes a directory, and those above it, where there is none.
/// @throws InputError if that cannot be done.
void make_directory(const std::string& path);

/// Whether none of these outputs goes to standard output ("-"), so that the usual text may.
/// @throws InputError if several do.
bool screen_is_free(const std::vector<std::string>& paths);

/// Writes all files or none, as StagedFile and commit() do it. Devices and pipes are written once
/// all else is on the disk, and before any file is replaced.
/// @throws InputError if one cannot be written, or as check_outputs(); ClosedPipe.
void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs);

} // namespace eggfall::cli
