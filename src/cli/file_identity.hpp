#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

namespace eggfall::cli {

/// Where a chain of symbolic links ends, be there a file or not.
/// @throws std::system_error for one without an end.
std::filesystem::path end_of_links(std::filesystem::path path);

/// Which file a path means, however it is written: two paths mean one file if these are equal.
struct FileIdentity {
  std::uint64_t device = 0;
  std::uint64_t file = 0;  ///< Of the file, or of the folder it would be made in.
  std::string name = {};   ///< In that folder; empty if the file is there.
  bool is_regular = false; ///< Or would be, once made. Not so a terminal, a pipe or a device.

  friend bool operator==(const FileIdentity&, const FileIdentity&) = default;
};

/// Of a file to read ("-" is standard input) or to write ("-" is standard output). Nothing for one
/// that cannot be there, such as one in a folder that is missing.
std::optional<FileIdentity> identity_of_input(const std::string& path);
std::optional<FileIdentity> identity_of_output(const std::string& path);

} // namespace eggfall::cli
