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

struct Passed {
  std::size_t files = 0;
  std::size_t taken = 0; ///< And not refused as bad input.
  std::size_t failed = 0;
};

void put_through(Passed& passed, const fs::path& file) {
  ++passed.files;
  try {
    passed.taken += fuzz::check(bytes_of(file)) ? 1U : 0U;
  } catch (const std::exception& error) {
    std::cerr << file.string() << ": " << error.what() << '\n';
    ++passed.failed;
  }
}

} // namespace

int main(int count, char** arguments) {
  Passed passed;
  for (int i = 1; i < count; ++i)
    for (const fs::path& file : files_in(arguments[i]))
      put_through(passed, file);
  std::cout << passed.files << " inputs, " << passed.taken << " of them taken, " << passed.failed
            << " failed\n";
  // Seeds that are all refused, as those of an old schema are, try nothing but the refusal.
  return passed.taken > 0 && passed.failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
