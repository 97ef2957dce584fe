#include "cli/chosen_cut_offs.hpp"

#include "cli/files.hpp"
#include "cli/values.hpp"

#include <CLI/CLI.hpp>

namespace eggfall::cli {

void add_cut_offs_option(CLI::App& command, std::string& own_file) {
  command.add_option("--cutoffs", own_file, "Your own cut-offs, TOML (docs/cut-offs.md)")
      ->type_name(file_value);
}

void add_criteria_option(CLI::App& command, std::string& name) {
  command
      .add_option("--criteria", name,
                  "Criteria to judge by (default: your own file's, or waavp-2023-clinical); "
                  "eggfall cutoffs lists them")
      ->check(criteria_names());
}

CutOffs chosen_cut_offs(const std::string& own_file) {
  return own_file.empty() ? published_cut_offs()
                          : before_published(read_cut_offs(read_file(own_file), own_file));
}

} // namespace eggfall::cli
