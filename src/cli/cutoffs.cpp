#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "report/cut_offs_text.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <string>
#include <string_view>

namespace eggfall::cli {
namespace {

/// In the place of a criterion's name: the thresholds that no criterion has.
constexpr std::string_view field_practice_name = "field-practice";

struct CutoffsOptions {
  std::string name;
  std::string file;
  std::string json_file;
};

void run_cutoffs(const CutoffsOptions& options) {
  const CutOffs cut_offs = options.file.empty()
                               ? published_cut_offs()
                               : read_cut_offs(read_file(options.file), options.file);
  std::string text = options.file.empty() ? "" : fmt::format("{} is in order.\n\n", options.file);
  if (options.name.empty())
    text += cut_offs_list(cut_offs);
  else if (options.name == field_practice_name)
    text += field_practice_explained();
  else {
    const auto found = std::ranges::find(cut_offs.criteria, options.name, &Criteria::name);
    if (found == cut_offs.criteria.end()) {
      std::string names(field_practice_name);
      for (const Criteria& criteria : cut_offs.criteria)
        names += ", " + criteria.name;
      throw InputError(fmt::format("found {}; expected one of {}", in_quotes(options.name), names));
    }
    text += criteria_explained(*found);
  }
  if (!options.json_file.empty())
    write_files({{options.json_file, cut_offs_json(cut_offs)}}, given({options.file}));
  if (options.json_file != "-")
    show(text);
}

} // namespace

void add_cutoffs(CLI::App& app, Action& action) {
  auto options = std::make_shared<CutoffsOptions>();
  CLI::App& command =
      *app.add_subcommand("cutoffs", "List and explain the cut-offs, or check a file of your own");
  command.add_option("NAME", options->name, "Criteria to explain in full, or field-practice")
      ->check(criteria_names());
  command.add_option("--file", options->file, "Check and show this TOML file (docs/cut-offs.md)")
      ->type_name(file_value);
  command
      .add_option("--json", options->json_file, "Write all of them as JSON; - is standard output")
      ->type_name(file_value);
  command.footer("Example: eggfall cutoffs waavp-1992");
  command.callback([options, &action] { action = [options] { run_cutoffs(*options); }; });
}

} // namespace eggfall::cli
