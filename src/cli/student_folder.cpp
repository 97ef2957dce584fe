#include "cli/student_folder.hpp"

#include "cli/files.hpp"
#include "cli/refuse_file.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "simulation/truth_json.hpp"
#include "teach/students/student_pack_text.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string_view>
#include <system_error>

namespace eggfall::cli {
namespace {

bool holds_earlier_pack(const std::filesystem::path& folder) {
  std::error_code error;
  const std::filesystem::path truth = folder / "truth.json";
  if (!std::filesystem::is_regular_file(truth, error))
    return false;
  try {
    return is_truth_json(read_file(truth.string()));
  } catch (const InputError&) { // too large, or not to be read: nothing that a pack holds
    return false;
  }
}

/// The number in "worksheet-07.csv".
std::optional<std::uint64_t> number_of_worksheet(std::string_view file) {
  constexpr std::string_view start = "worksheet-";
  constexpr std::string_view end = ".csv";
  if (!file.starts_with(start) || !file.ends_with(end))
    return std::nullopt;
  return parse_whole_number(file.substr(start.size(), file.size() - start.size() - end.size()));
}

} // namespace

void check_student_folder(const std::string& folder, std::size_t students) {
  namespace fs = std::filesystem;
  const fs::path path(folder);
  std::error_code error;
  if (!holds_earlier_pack(path))
    for (const std::string& name : pack_entries())
      if (fs::exists(path / name, error))
        refuse_file((path / name).string(), "something that no class pack wrote",
                    "a new or empty folder, or that of an earlier class");
  for (const fs::directory_entry& entry : fs::directory_iterator(path / "tables", error))
    if (const auto number = number_of_worksheet(entry.path().filename().string());
        number && *number > students)
      refuse_file(entry.path().string(),
                  fmt::format("a worksheet of a larger class than {}", students),
                  "a new or empty folder, so that no student is handed an old sheet");
}

} // namespace eggfall::cli
