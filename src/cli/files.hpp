#pragma once

#include <string>
#include <vector>

namespace eggfall::cli {

/// The whole of a file; "-" is standard input.
/// @throws InputError if it cannot be read or is larger than 65 MiB.
std::string read_file(const std::string& path);

struct OutputFile {
  std::string path; ///< "-" is standard output.
  std::string text;
};

/// Writes all files or none: each to a temporary beside it, renamed once all are there.
/// Devices and pipes are written to as they are.
/// @throws InputError if one cannot be written, is one of the `inputs` of the command, or
///   is named twice.
void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs);

} // namespace eggfall::cli
