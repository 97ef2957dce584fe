#pragma once

#include <string>

namespace eggfall::cli {

/// @throws InputError about a whole file.
[[noreturn]] void refuse_file(const std::string& path, std::string found, std::string expected);

[[noreturn]] void cannot_read(const std::string& path, const std::string& reason);

[[noreturn]] void cannot_write(const std::string& path, const std::string& reason);

} // namespace eggfall::cli
