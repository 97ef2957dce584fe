#pragma once

#include <CLI/CLI.hpp>

#include <functional>
#include <string>
#include <vector>

namespace eggfall::cli {

/// For an option's type_name(): what help, manual and completions say of its value.
inline constexpr const char* file_value = "FILE";
inline constexpr const char* folder_value = "FOLDER";

/// The names of all values of an enumeration, for CLI::IsMember and the like.
template <typename Values> std::vector<std::string> names_of(const Values& values) {
  std::vector<std::string> names;
  for (const auto value : values)
    names.emplace_back(to_string(value));
  return names;
}

/// Values that a command line may be completed with. Others are allowed, or the command itself
/// refuses them, so this checks nothing.
class Suggested : public CLI::Validator {
public:
  explicit Suggested(const std::function<std::vector<std::string>()>& values);
};

Suggested hosts();
/// What the help of an option for a host says: "sheep, goats, ... or another".
std::string hosts_to_choose();
Suggested drug_classes();
Suggested criteria_names();
Suggested lesson_names();
Suggested grid_names();
Suggested method_names();
Suggested survey_fields();

} // namespace eggfall::cli
