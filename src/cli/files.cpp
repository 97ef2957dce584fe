#include "files.hpp"

#include "eggfall/error.hpp"

#include <fmt/format.h>

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <system_error>
#include <utility>

namespace eggfall::cli {
namespace {

std::string read_stream(std::istream& stream, const std::string& path, std::size_t most) {
  std::string text;
  char buffer[1U << 16U];
  while (stream.read(buffer, sizeof buffer) || stream.gcount() > 0) {
    text.append(buffer, static_cast<std::size_t>(stream.gcount()));
    if (text.size() > most)
      throw InputError({Problem{path,
                                0,
                                0,
                                {},
                                fmt::format("more than {} MiB", most >> 20U),
                                "a file of counts or settings, far smaller"}});
  }
  if (stream.bad())
    throw InputError({Problem{path, 0, 0, {}, "an error while reading", "a readable file"}});
  return text;
}

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

void write_through(const OutputFile& file) {
  if (file.path == "-") {
    std::cout << file.text;
    return;
  }
  if (std::filesystem::is_directory(file.path))
    refuse(file.path, "a directory", "a file");
  std::ofstream stream(file.path, std::ios::binary);
  stream << file.text << std::flush;
  if (!stream)
    cannot_write(file.path, std::strerror(errno));
}

/// A text written beside its destination, and moved there by commit().
class StagedFile {
public:
  explicit StagedFile(const OutputFile& file) : path_(file.path), shown_(file.path) {
    std::error_code error;
    if (std::filesystem::is_symlink(path_, error)) // replace what it points to, not the link
      path_ = std::filesystem::weakly_canonical(path_, error);
    std::string pattern = path_.string() + ".XXXXXX";
    const int descriptor = mkstemp(pattern.data());
    if (descriptor < 0)
      cannot_write(shown_, std::strerror(errno));
    close(descriptor);
    temporary_ = pattern;
    std::ofstream stream(temporary_, std::ios::binary);
    stream << file.text << std::flush;
    if (!stream) {
      const std::string reason = std::strerror(errno);
      std::filesystem::remove(temporary_, error);
      cannot_write(shown_, reason);
    }
    // mkstemp leaves a file for its owner alone; give it the mode of any new file.
    const mode_t mask = umask(0);
    umask(mask);
    chmod(temporary_.c_str(), 0666 & ~mask);
  }
  StagedFile(StagedFile&& other) noexcept
      : path_(std::move(other.path_)), shown_(std::move(other.shown_)),
        temporary_(std::exchange(other.temporary_, {})) {}
  StagedFile& operator=(StagedFile&&) = delete;
  ~StagedFile() {
    std::error_code ignored;
    if (!temporary_.empty())
      std::filesystem::remove(temporary_, ignored);
  }

  void commit() {
    std::error_code error;
    std::filesystem::rename(temporary_, path_, error);
    if (error)
      cannot_write(shown_, error.message());
    temporary_.clear();
  }

private:
  std::filesystem::path path_;
  std::string shown_;
  std::filesystem::path temporary_;
};

} // namespace

std::string read_file(const std::string& path, std::size_t most) {
  if (path == "-")
    return read_stream(std::cin, "standard input", most);
  if (std::filesystem::is_directory(path))
    throw InputError({Problem{path, 0, 0, {}, "a directory", "a file"}});
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw InputError({Problem{path,
                              0,
                              0,
                              {},
                              fmt::format("no way to open it ({})", std::strerror(errno)),
                              "a readable file"}});
  return read_stream(file, path, most);
}

void check_places(const std::vector<std::string>& paths) {
  for (const std::string& path : paths) {
    const std::filesystem::path directory = std::filesystem::path(path).parent_path();
    std::error_code ignored;
    if (path != "-" && !directory.empty() && !std::filesystem::is_directory(directory, ignored))
      cannot_write(path, "no such directory");
  }
}

void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs) {
  for (std::size_t i = 0; i < files.size(); ++i) {
    for (const std::string& input : inputs)
      if (same_file(files[i].path, input))
        refuse(files[i].path, "the name of an input", "another file to write to");
    for (std::size_t j = 0; j < i; ++j)
      if (same_file(files[i].path, files[j].path))
        refuse(files[i].path, "the same file for two outputs", "a file for each");
  }
  std::vector<StagedFile> staged;
  for (const OutputFile& file : files)
    if (is_regular(file.path))
      staged.emplace_back(file);
  for (StagedFile& file : staged)
    file.commit();
  for (const OutputFile& file : files)
    if (!is_regular(file.path))
      write_through(file);
}

} // namespace eggfall::cli
