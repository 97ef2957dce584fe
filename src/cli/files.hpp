#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall::cli {

/// The most bytes of a file of a user's own making: 65 MiB.
inline constexpr std::size_t largest_file = 65U << 20U;

/// The whole of a file; "-" is standard input.
/// @throws InputError if it cannot be read or has more than `most` bytes.
std::string read_file(const std::string& path, std::size_t most = largest_file);

struct OutputFile {
  std::string path; ///< "-" is standard output.
  std::string text;
};

/// @throws InputError if a file that is to be written has no directory to be in. "-" and "" are no
///   files.
void check_places(const std::vector<std::string>& paths);

/// Writes all files or none: each to a temporary beside it, renamed once all are there.
/// Devices and pipes are written to as they are.
/// @throws InputError if one cannot be written, is one of the `inputs` of the command, or
///   is named twice.
void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs);

} // namespace eggfall::cli
