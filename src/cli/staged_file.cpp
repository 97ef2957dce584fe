#include "cli/staged_file.hpp"

#include "cli/file_identity.hpp"
#include "cli/refuse_file.hpp"
#include "cli/screen.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <optional>
#include <set>
#include <system_error>

namespace eggfall::cli {
namespace {

std::filesystem::path folder_of(const std::filesystem::path& path) {
  return path.has_parent_path() ? path.parent_path() : ".";
}

std::optional<struct stat> status_of(const std::filesystem::path& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) == 0)
    return status;
  return std::nullopt;
}

mode_t mode_of_a_new_file() {
  const mode_t mask = umask(0);
  umask(mask);
  return 0666 & ~mask;
}

/// mkstemp makes a file for its owner alone.
void set_permissions(const Descriptor& file, const std::optional<struct stat>& old) {
  // Only root can give a file away; for anybody else it becomes theirs.
  if (old && fchown(file.number(), old->st_uid, old->st_gid) != 0 && errno != EPERM)
    throw std::system_error(errno, std::generic_category());
  if (fchmod(file.number(), old ? old->st_mode & 07777 : mode_of_a_new_file()) != 0)
    throw std::system_error(errno, std::generic_category());
}

} // namespace

bool can_be_replaced(const std::string& path) {
  if (path == "-")
    return false;
  std::error_code ignored;
  const auto status = std::filesystem::status(path, ignored);
  return !std::filesystem::exists(status) || std::filesystem::is_regular_file(status);
}

StagedFile::StagedFile(const std::string& path) : shown_(path == "-" ? "standard output" : path) {
  checked([&] {
    if (path == "-") {
      file_ = Descriptor(dup(STDOUT_FILENO));
    } else if (can_be_replaced(path)) {
      path_ = end_of_links(path);
      open_aside();
    } else {
      file_ = Descriptor(open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY));
    }
  });
}

void StagedFile::open_aside() {
  const auto old = status_of(path_);
  if (old && access(path_.c_str(), W_OK) != 0) // protected, though its folder is not
    cannot_write(shown_, std::strerror(errno));
  aside_ = Scratch([&] {
    std::string pattern = (folder_of(path_) / scratch_prefix).string() + "XXXXXX";
    const int number = mkostemp(pattern.data(), O_CLOEXEC);
    if (number < 0)
      cannot_write(shown_, fmt::format("no new file in its folder: {}", std::strerror(errno)));
    file_ = Descriptor(number);
    return std::filesystem::path(pattern);
  });
  set_permissions(file_, old);
}

void StagedFile::append(std::string_view text) {
  checked([&] { file_.write(text); });
}

void StagedFile::finish() {
  if (file_.number() < 0)
    return;
  checked([&] {
    if (!path_.empty())
      file_.sync();
    file_.close();
  });
}

void StagedFile::checked(const std::function<void()>& write) const {
  try {
    write();
  } catch (const std::system_error& error) {
    if (shown_ == "standard output" && error.code() == std::errc::broken_pipe)
      throw ClosedPipe();
    if (error.code() == std::errc::is_a_directory)
      refuse_file(shown_, "a directory", "a file");
    cannot_write(shown_, error.code().message());
  }
}

/// For put_back().
void StagedFile::keep_old() {
  if (path_.empty())
    return;
  old_ = Scratch([&] {
    std::filesystem::path second_name = aside_.path();
    second_name += "-old";
    std::error_code error;
    std::filesystem::create_hard_link(path_, second_name, error);
    is_new_ = error == std::errc::no_such_file_or_directory;
    return error ? std::filesystem::path() : second_name;
  });
}

void StagedFile::replace() {
  if (path_.empty())
    return;
  checked([&] { std::filesystem::rename(aside_.path(), path_); });
  aside_.forget();
  replaced_ = true;
}

void StagedFile::put_back() noexcept {
  if (!replaced_)
    return;
  std::error_code error;
  if (is_new_)
    std::filesystem::remove(path_, error);
  else if (!old_.path().empty())
    std::filesystem::rename(old_.path(), path_, error);
}

void commit(std::span<StagedFile> files) {
  for (StagedFile& file : files)
    file.finish();
  const Uninterrupted until_all_are_moved;
  try {
    for (StagedFile& file : files) {
      if (&file != &files.back())
        file.keep_old();
      file.replace();
    }
  } catch (...) {
    for (StagedFile& file : files)
      file.put_back();
    throw;
  }
  std::set<std::filesystem::path> folders;
  for (StagedFile& file : files) {
    file.old_ = Scratch();
    if (!file.path_.empty())
      folders.insert(folder_of(file.path_));
  }
  for (const std::filesystem::path& folder : folders)
    sync_folder(folder);
}

void sync_folder(const std::filesystem::path& folder) {
  const int number = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (number < 0) // one may write into a folder that one may not read
    return;
  try {
    Descriptor(number).sync();
  } catch (const std::system_error& error) {
    if (error.code() != std::errc::invalid_argument) // a file system that cannot
      cannot_write(folder.string(), error.code().message());
  }
}

} // namespace eggfall::cli
