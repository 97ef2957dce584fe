#include "files.hpp"

#include "eggfall/error.hpp"
#include "eggfall/text.hpp"

#include <fmt/format.h>

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <iostream>
#include <system_error>
#include <utility>

namespace eggfall::cli {
namespace {

[[noreturn]] void refuse(const std::string& path, std::string found, std::string expected) {
  throw InputError({Problem{path, 0, 0, {}, std::move(found), std::move(expected)}});
}

[[noreturn]] void cannot_write(const std::string& path, const std::string& reason) {
  refuse(path, fmt::format("no way to write it ({})", reason), "a writable file");
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code ignored;
  return a != "-" && b != "-" &&
         (a == b || std::filesystem::equivalent(a, b, ignored) ||
          std::filesystem::weakly_canonical(std::filesystem::absolute(a), ignored) ==
              std::filesystem::weakly_canonical(std::filesystem::absolute(b), ignored));
}

/// A file that can be replaced; not standard output, a device or a pipe.
bool is_regular(const std::string& path) {
  std::error_code ignored;
  const auto status = std::filesystem::status(path, ignored);
  return path != "-" &&
         (!std::filesystem::exists(status) || std::filesystem::is_regular_file(status));
}

} // namespace

InputFile::InputFile(const std::string& path)
    : shown_(path == "-" ? "standard input" : path), stream_(path == "-" ? &std::cin : &file_) {
  if (path == "-")
    return;
  if (std::filesystem::is_directory(path))
    refuse(shown_, "a directory", "a file");
  file_.open(path, std::ios::binary);
  if (!file_)
    refuse(shown_, fmt::format("no way to open it ({})", std::strerror(errno)), "a readable file");
}

std::string_view InputFile::read(std::size_t most) {
  buffer_.resize(most);
  stream_->read(buffer_.data(), static_cast<std::streamsize>(most));
  if (stream_->bad())
    refuse(shown_, "an error while reading", "a readable file");
  return std::string_view(buffer_).substr(0, static_cast<std::size_t>(stream_->gcount()));
}

std::optional<std::size_t> size_of(const std::string& path) {
  std::error_code error;
  if (path == "-" || !std::filesystem::is_regular_file(path, error))
    return std::nullopt;
  const std::uintmax_t size = std::filesystem::file_size(path, error);
  return error ? std::nullopt : std::optional<std::size_t>(size);
}

StagedFile::StagedFile(const std::string& path)
    : shown_(path == "-" ? "standard output" : path), path_(path),
      stream_(path == "-" ? &std::cout : &file_) {
  if (path == "-")
    return;
  if (!is_regular(path)) {
    if (std::filesystem::is_directory(path))
      refuse(path, "a directory", "a file");
    file_.open(path, std::ios::binary);
    append({});
    return;
  }
  std::error_code error;
  if (std::filesystem::is_symlink(path_, error)) // replace what it points to, not the link
    path_ = std::filesystem::weakly_canonical(path_, error);
  std::string pattern = path_.string() + ".XXXXXX";
  const int descriptor = mkstemp(pattern.data());
  if (descriptor < 0)
    cannot_write(shown_, std::strerror(errno));
  close(descriptor);
  temporary_ = pattern;
  // mkstemp leaves a file for its owner alone; give it the mode of any new file.
  const mode_t mask = umask(0);
  umask(mask);
  chmod(temporary_.c_str(), 0666 & ~mask);
  file_.open(temporary_, std::ios::binary);
}

StagedFile::StagedFile(StagedFile&& other) noexcept
    : shown_(std::move(other.shown_)), path_(std::move(other.path_)),
      temporary_(std::exchange(other.temporary_, {})), file_(std::move(other.file_)),
      stream_(other.stream_ == &std::cout ? other.stream_ : &file_) {}

StagedFile::~StagedFile() {
  std::error_code ignored;
  if (!temporary_.empty())
    std::filesystem::remove(temporary_, ignored);
}

void StagedFile::append(std::string_view text) {
  *stream_ << text;
  if (!*stream_)
    cannot_write(shown_, std::strerror(errno));
}

void StagedFile::flush() {
  stream_->flush();
  append({});
}

void StagedFile::commit() {
  flush();
  if (temporary_.empty())
    return;
  std::error_code error;
  std::filesystem::rename(temporary_, path_, error);
  if (error)
    cannot_write(shown_, error.message());
  temporary_.clear();
}

std::string read_file(const std::string& path, std::size_t most) {
  InputFile file(path);
  std::string text;
  constexpr std::size_t piece = 1U << 16U;
  for (std::string_view bytes = file.read(piece); !bytes.empty(); bytes = file.read(piece)) {
    text += bytes;
    if (text.size() > most)
      refuse(path == "-" ? "standard input" : path, fmt::format("more than {} MiB", most >> 20U),
             "a file of counts or settings, far smaller");
  }
  return text;
}

void make_directory(const std::string& path) {
  std::error_code error;
  std::filesystem::create_directories(path, error);
  if (!std::filesystem::is_directory(path, error))
    throw InputError(fmt::format("{}: found no way to make this folder; expected a place for it",
                                 in_quotes(path)));
}

bool screen_is_free(const std::vector<std::string>& paths) {
  const auto dashes = std::ranges::count(paths, "-");
  if (dashes > 1)
    throw InputError("several outputs to \"-\"; expected one of them on standard output");
  return dashes == 0;
}

void check_places(const std::vector<std::string>& paths) {
  for (const std::string& path : paths) {
    const std::filesystem::path directory = std::filesystem::path(path).parent_path();
    std::error_code ignored;
    if (path != "-" && !directory.empty() && !std::filesystem::is_directory(directory, ignored))
      cannot_write(path, "no such directory");
  }
}

void check_outputs(const std::vector<std::string>& paths, const std::vector<std::string>& inputs) {
  for (std::size_t i = 0; i < paths.size(); ++i) {
    for (const std::string& input : inputs)
      if (same_file(paths[i], input))
        refuse(paths[i], "the name of an input", "another file to write to");
    for (std::size_t j = 0; j < i; ++j)
      if (same_file(paths[i], paths[j]))
        refuse(paths[i], "the same file for two outputs", "a file for each");
  }
}

void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs) {
  std::vector<std::string> paths;
  for (const OutputFile& file : files)
    paths.push_back(file.path);
  check_outputs(paths, inputs);
  const auto written = [](const OutputFile& file) {
    StagedFile staged(file.path);
    staged.append(file.text);
    staged.flush();
    return staged;
  };
  std::vector<StagedFile> staged;
  for (const OutputFile& file : files)
    if (is_regular(file.path))
      staged.push_back(written(file));
  for (StagedFile& file : staged)
    file.commit();
  for (const OutputFile& file : files) // last, since these cannot be taken back
    if (!is_regular(file.path))
      written(file).commit();
}

} // namespace eggfall::cli
