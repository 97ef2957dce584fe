#include "cli/input_file.hpp"

#include "cli/refuse_file.hpp"

#include <fmt/format.h>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <system_error>

namespace eggfall::cli {
namespace {

struct stat status_of(const Descriptor& file) {
  struct stat status {};
  if (fstat(file.number(), &status) != 0)
    throw std::system_error(errno, std::generic_category());
  return status;
}

} // namespace

InputFile::InputFile(const std::string& path) : shown_(path == "-" ? "standard input" : path) {
  try {
    file_ = Descriptor(path == "-" ? dup(STDIN_FILENO) : open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (S_ISDIR(status_of(file_).st_mode))
      refuse_file(shown_, "a directory", "a file");
    at_first_ = state();
  } catch (const std::system_error& error) {
    refuse_file(shown_, fmt::format("no way to open it ({})", error.code().message()),
                "a readable file");
  }
}

std::string_view InputFile::read(std::size_t most) {
  buffer_.resize(most);
  try {
    const std::size_t got = file_.read(buffer_.data(), most);
    if (got == 0)
      check_unchanged();
    return std::string_view(buffer_).substr(0, got);
  } catch (const std::system_error& error) {
    cannot_read(shown_, error.code().message());
  }
}

std::optional<InputFile::State> InputFile::state() const {
  const struct stat status = status_of(file_);
  if (!S_ISREG(status.st_mode))
    return std::nullopt;
  return State{status.st_size, status.st_mtim};
}

void InputFile::check_unchanged() const {
  const std::optional<State> now = state();
  if (now && at_first_ &&
      (now->size != at_first_->size || now->changed.tv_sec != at_first_->changed.tv_sec ||
       now->changed.tv_nsec != at_first_->changed.tv_nsec))
    refuse_file(shown_, "that it changed while it was read",
                "a file that nothing else writes to; run this again");
}

} // namespace eggfall::cli
