#pragma once

#include <cstddef>
#include <string>

namespace eggfall::cli {

/// Looks, before any work, whether a class pack of so many students may be written into a folder.
/// @throws InputError if it holds something of a name that the pack's own files have and no earlier
///   pack wrote, or worksheets of an earlier class that this one would leave among its own.
void check_student_folder(const std::string& folder, std::size_t students);

} // namespace eggfall::cli
