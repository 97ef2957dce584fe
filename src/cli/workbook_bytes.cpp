#include "cli/workbook_bytes.hpp"

#include "cli/descriptor.hpp"
#include "cli/files.hpp"
#include "cli/refuse_file.hpp"
#include "cli/scratch.hpp"

#include "eggfall/base/error.hpp"
#include "xlsx/fill_workbook.hpp"
#include "xlsx/workbook_check.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <limits>
#include <system_error>

namespace eggfall::cli {
namespace {

[[noreturn]] void cannot(const std::string& reason) {
  throw CalculationError("the workbook could not be made: " + reason);
}

[[noreturn]] void did_not_fit(const std::filesystem::path& folder, const std::string& reason) {
  refuse_file(folder.empty() ? std::string("TMPDIR") : folder.string(),
              fmt::format("no way to make the workbook in this folder ({})", reason),
              "room for it, or another folder in the environment variable TMPDIR");
}

/// A folder for the library, which writes files alone.
Scratch scratch_folder() {
  return Scratch([] {
    std::error_code error;
    const std::filesystem::path place = std::filesystem::temp_directory_path(error);
    if (error)
      did_not_fit(place, error.message());
    std::string pattern = (place / scratch_prefix).string() + "XXXXXX";
    if (mkdtemp(pattern.data()) == nullptr)
      did_not_fit(place, std::strerror(errno));
    return std::filesystem::path(pattern);
  });
}

/// While one lives, nothing comes onto standard error: the library tells there what it returns.
class Silence {
public:
  Silence() { dup2(nowhere_.number(), STDERR_FILENO); }
  ~Silence() { dup2(errors_.number(), STDERR_FILENO); }
  Silence(const Silence&) = delete;
  Silence& operator=(const Silence&) = delete;

private:
  Descriptor errors_{dup(STDERR_FILENO)};
  Descriptor nowhere_{open("/dev/null", O_WRONLY | O_CLOEXEC)};
};

lxw_error close_silently(lxw_workbook* workbook) {
  const Silence silence;
  return workbook_close(workbook);
}

} // namespace

std::string workbook_bytes(const std::vector<ResultSheet>& sheets) {
  const Scratch folder = scratch_folder();
  std::string folder_name = folder.path();
  const std::string file = folder.path() / "results.xlsx";
  lxw_workbook_options options{};
  options.tmpdir = folder_name.data();
  lxw_workbook* const workbook = workbook_new_opt(file.c_str(), &options);
  if (workbook == nullptr)
    cannot("no memory");
  std::vector<std::size_t> cells;
  try {
    cells = fill_workbook(workbook, sheets);
  } catch (...) {
    lxw_workbook_free(workbook);
    throw;
  }
  if (const lxw_error error = close_silently(workbook); error != LXW_NO_ERROR) // and frees it
    did_not_fit(folder.path().parent_path(), lxw_strerror(error));
  constexpr std::size_t any = std::numeric_limits<std::size_t>::max();
  std::string bytes = read_file(file, any);
  if (!is_whole(bytes, cells))
    did_not_fit(folder.path().parent_path(), "a part of it is cut short");
  return bytes;
}

} // namespace eggfall::cli
