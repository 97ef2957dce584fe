#include "cli/file_identity.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace eggfall::cli {
namespace {

FileIdentity identity(const struct stat& status) {
  return {status.st_dev, status.st_ino, "", S_ISREG(status.st_mode)};
}

std::optional<FileIdentity> of_stream(int number) {
  struct stat status {};
  if (fstat(number, &status) != 0)
    return std::nullopt;
  return identity(status);
}

std::optional<FileIdentity> of_path(const std::string& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) == 0)
    return identity(status);
  try {
    const std::filesystem::path end = end_of_links(path);
    const std::filesystem::path folder = end.has_parent_path() ? end.parent_path() : ".";
    if (stat(folder.c_str(), &status) != 0)
      return std::nullopt;
    return FileIdentity{status.st_dev, status.st_ino, end.filename().string(), true};
  } catch (const std::system_error&) { // links without an end, or a folder that may not be entered
    return std::nullopt;
  }
}

} // namespace

std::filesystem::path end_of_links(std::filesystem::path path) {
  constexpr int longest_chain = 40;
  for (int i = 0; i < longest_chain && std::filesystem::is_symlink(path); ++i)
    path = path.parent_path() / std::filesystem::read_symlink(path);
  if (std::filesystem::is_symlink(path))
    throw std::system_error(ELOOP, std::generic_category());
  return path;
}

std::optional<FileIdentity> identity_of_input(const std::string& path) {
  return path == "-" ? of_stream(STDIN_FILENO) : of_path(path);
}

std::optional<FileIdentity> identity_of_output(const std::string& path) {
  return path == "-" ? of_stream(STDOUT_FILENO) : of_path(path);
}

} // namespace eggfall::cli
