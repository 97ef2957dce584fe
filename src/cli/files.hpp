#pragma once

#include <string>

namespace eggfall::cli {

/// The whole of a file; "-" is standard input.
/// @throws InputError if it cannot be read or is larger than 65 MiB.
std::string read_file(const std::string& path);

/// Writes a file whole or not at all (a temporary beside it is renamed); "-" is
/// standard output. @throws InputError if it cannot be written.
void write_file(const std::string& path, const std::string& text);

} // namespace eggfall::cli
