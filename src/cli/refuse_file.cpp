#include "cli/refuse_file.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall::cli {

void refuse_file(const std::string& path, std::string found, std::string expected) {
  throw InputError({Problem{path, 0, 0, {}, std::move(found), std::move(expected)}});
}

void cannot_read(const std::string& path, const std::string& reason) {
  refuse_file(path, fmt::format("no way to read it ({})", reason), "a readable file");
}

void cannot_write(const std::string& path, const std::string& reason) {
  refuse_file(path, fmt::format("no way to write it ({})", reason), "a writable file");
}

} // namespace eggfall::cli
