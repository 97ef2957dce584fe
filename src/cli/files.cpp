#include "files.hpp"

#include "eggfall/error.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <system_error>

namespace eggfall::cli {
namespace {

constexpr std::size_t largest_file = 65U << 20U;

std::string read_stream(std::istream& stream, const std::string& path) {
  std::string text;
  char buffer[1U << 16U];
  while (stream.read(buffer, sizeof buffer) || stream.gcount() > 0) {
    text.append(buffer, static_cast<std::size_t>(stream.gcount()));
    if (text.size() > largest_file)
      throw InputError(
          {Problem{path, 0, 0, {}, "more than 65 MiB", "a table of egg counts, far smaller"}});
  }
  if (stream.bad())
    throw InputError({Problem{path, 0, 0, {}, "an error while reading", "a readable file"}});
  return text;
}

} // namespace

std::string read_file(const std::string& path) {
  if (path == "-")
    return read_stream(std::cin, "standard input");
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
  return read_stream(file, path);
}

void write_file(const std::string& path, const std::string& text) {
  if (path == "-") {
    std::cout << text << std::flush;
    return;
  }
  const std::string temporary = path + ".part";
  {
    std::ofstream file(temporary, std::ios::binary | std::ios::trunc);
    file << text << std::flush;
    if (!file) {
      const std::string reason = std::strerror(errno);
      std::error_code ignored;
      file.close();
      std::filesystem::remove(temporary, ignored);
      throw InputError({Problem{
          path, 0, 0, {}, fmt::format("no way to write it ({})", reason), "a writable file"}});
    }
  }
  std::error_code error;
  std::filesystem::rename(temporary, path, error);
  if (error) {
    std::error_code ignored;
    std::filesystem::remove(temporary, ignored);
    throw InputError({Problem{path,
                              0,
                              0,
                              {},
                              fmt::format("no way to write it ({})", error.message()),
                              "a writable file"}});
  }
}

} // namespace eggfall::cli
