// Puts kept inputs through a target without libFuzzer: replay FILE_OR_DIRECTORY...
#include "harness.hpp"

#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::vector<fs::path> files_in(const fs::path& path) {
  if (!fs::is_directory(path))
    return {path};
  std::vector<fs::path> files;
  for (const fs::directory_entry& entry : fs::directory_iterator(path))
    files.push_back(entry.path());
  return files;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw std::runtime_error("it cannot be opened");
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Whether the file passes.
bool passes(const fs::path& file) {
  try {
    fuzz::check(bytes_of(file));
    return true;
  } catch (const std::exception& error) {
    std::cerr << file.string() << ": " << error.what() << '\n';
    return false;
  }
}

} // namespace

int main(int count, char** arguments) {
  std::size_t files = 0;
  std::size_t failed = 0;
  for (int i = 1; i < count; ++i)
    for (const fs::path& file : files_in(arguments[i])) {
      ++files;
      failed += passes(file) ? 0 : 1;
    }
  std::cout << files << " inputs, " << failed << " failed\n";
  return files > 0 && failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
