#include "cli/carry_out.hpp"
#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/drug_class_option.hpp"
#include "cli/farm_option_name.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"
#include "cli/work_options.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/simulation/audit.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "simulation/audit_figures.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/audit_html_page.hpp"
#include "simulation/audit_json.hpp"
#include "simulation/audit_page.hpp"
#include "simulation/audit_text.hpp"
#include "trial/field_words.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <memory>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

struct AuditOptions {
  std::string grid;
  std::vector<std::string> designs;
  std::vector<std::string> shapes;
  FarmValues values;
  std::string host = "sheep";
  std::string worm;
  std::string drug_class;
  std::string cut_offs_file;
  std::vector<std::string> methods;
  std::vector<std::string> criteria;
  std::vector<std::string> parts;
  WorkOptions work;
  double level_percent = 100 * AuditSettings().level;
  double prior_scale = 1;
  std::string json_file;
  std::string csv_file;
  std::string page_file;
  std::string figures_directory;
  bool verbose = false;
  AuditSettings settings;
};

bool is_built_in(const std::string& grid) {
  return std::ranges::find(built_in_grids(), grid, &BuiltInGrid::name) != built_in_grids().end();
}

std::vector<AuditFarm> grid_farms(const std::string& grid) {
  for (const BuiltInGrid& built_in : built_in_grids())
    if (built_in.name == grid)
      return read_audit_grid(built_in.toml, grid);
  return read_audit_grid(read_file(grid), grid);
}

std::vector<AuditFarm> farms(const AuditOptions& options) {
  if (!options.grid.empty())
    return grid_farms(options.grid);
  FarmValues values = options.values;
  for (const std::string& design : options.designs)
    values.designs.push_back(*parse_design(design));
  for (const std::string& shape : options.shapes)
    values.shapes.push_back(*parse_level_shape(shape));
  return combinations(values);
}

/// Those named, in the order of the cut-offs; without names all.
std::vector<AuditCriterion> chosen(std::vector<AuditCriterion> criteria,
                                   const std::vector<std::string>& names) {
  for (const std::string& name : names)
    if (std::ranges::find(criteria, name, &AuditCriterion::name) == criteria.end()) {
      std::string list;
      for (const AuditCriterion& known : criteria)
        list += (list.empty() ? "" : ", ") + known.name;
      throw InputError(fmt::format("--criteria: found {}; expected one with a cut-off for this "
                                   "host, worm and class: {}",
                                   in_quotes(name), list.empty() ? "there is none" : list));
    }
  if (!names.empty())
    std::erase_if(criteria, [&](const AuditCriterion& each) {
      return std::ranges::find(names, each.name) == names.end();
    });
  return criteria;
}

AuditSettings settings(const AuditOptions& options) {
  AuditSettings result = options.settings;
  result.level = of_percent(options.level_percent);
  result.priors = scaled(result.priors, options.prior_scale);
  for (const std::string& name : options.methods) {
    if (name == "posterior") // whichever the design has
      for (const Design design : all_designs)
        result.methods.push_back(posterior_method(design));
    else if (const auto method = parse_method(name))
      result.methods.push_back(*method);
    else {
      std::string list = "posterior";
      for (const Design design : {Design::paired, Design::two_group})
        for (const Method known : methods_for(design))
          if (list.find(to_string(known)) == std::string::npos)
            list += ", " + std::string(to_string(known));
      throw InputError(
          fmt::format("--method: found {}; expected one of {}", in_quotes(name), list));
    }
  }
  Group farm;
  farm.host = host_told(options.host);
  farm.worm = canonical_worm(options.worm);
  if (!options.drug_class.empty())
    farm.classes.push_back(drug_class_option(options.drug_class));
  result.criteria = chosen(audit_criteria(chosen_cut_offs(options.cut_offs_file).criteria, farm),
                           options.criteria);
  return result;
}

/// Every task of the shard.
AuditResult audited(const std::vector<AuditFarm>& farms, const AuditSettings& settings,
                    Shard shard) {
  AuditResult result = empty_result(farms, settings, shard);
  carry_out(result, audit_tasks(farms.size(), settings, shard));
  return result;
}

/// Of a part's JSON, in bytes: some 3 kB a farm.
constexpr std::size_t largest_audit_part = std::size_t{4} << 30U;

AuditResult merged_audits(const std::vector<std::string>& paths) {
  std::vector<AuditResult> parts;
  for (const std::string& path : paths)
    parts.push_back(read_audit_json(read_file(path, largest_audit_part), path));
  return merged(parts);
}

/// Whether a page is to be HTML, by the ending of its name; otherwise it is Markdown.
bool is_html(const std::filesystem::path& page) {
  const std::string ending = lower_case(page.extension().string());
  return ending == ".html" || ending == ".htm";
}

OutputFile page_file(const AuditResult& result, const std::string& path) {
  const std::filesystem::path page(path);
  const std::string title = path == "-" ? "Audit" : "Audit: " + page.stem().string();
  return {path, is_html(page) ? audit_html_page(result, title) : audit_page(result, title)};
}

/// The figures of the HTML page, in a folder that is made if need be.
std::vector<OutputFile> figure_files(const AuditResult& result, const std::string& directory) {
  make_directory(directory);
  std::vector<OutputFile> files;
  const auto add = [&](const std::string& name, std::string svg) {
    files.push_back({fmt::format("{}/{}.svg", directory, name), std::move(svg)});
  };
  const std::vector<Design> designs = designs_to_draw(result);
  if (!designs.empty())
    add("coverage", coverage_figure(result));
  if (!result.settings.criteria.empty())
    for (const Design design : designs)
      add(fmt::format("classes-{}", to_string(design)), verdict_figure(result, design));
  return files;
}

void run_audit(const AuditOptions& options) {
  const bool on_screen = screen_is_free({options.json_file, options.csv_file, options.page_file});
  std::vector<std::string> inputs =
      given({is_built_in(options.grid) ? "" : options.grid, options.cut_offs_file});
  inputs.insert(inputs.end(), options.parts.begin(), options.parts.end());
  check_outputs(given({options.json_file, options.csv_file, options.page_file}), inputs);
  const ThreadLimit limit(options.work.threads);
  const AuditResult result = options.parts.empty() ? audited(farms(options), settings(options),
                                                             parse_shard(options.work.shard))
                                                   : merged_audits(options.parts);
  std::vector<OutputFile> files;
  if (!options.json_file.empty())
    files.push_back({options.json_file, audit_json(result)});
  if (!options.csv_file.empty())
    files.push_back({options.csv_file, audit_csv(result)});
  if (!options.page_file.empty())
    files.push_back(page_file(result, options.page_file));
  if (!options.figures_directory.empty())
    std::ranges::move(figure_files(result, options.figures_directory), std::back_inserter(files));
  write_files(files, inputs);
  if (on_screen)
    show(audit_text(result, options.verbose ? Verbosity::full : Verbosity::brief));
}

void add_farm_options(CLI::App& command, const std::shared_ptr<AuditOptions>& options,
                      CLI::Option* grid) {
  command
      .add_option("--design", options->designs,
                  "paired, two-group, controlled, baseline (default: paired)")
      ->check(CLI::IsMember(names_of(all_designs)))
      ->delimiter(',')
      ->excludes(grid);
  command
      .add_option("--shape", options->shapes,
                  "Spread of the animals' levels: gamma, log-normal, weibull (default: gamma)")
      ->check(CLI::IsMember(names_of(all_level_shapes)))
      ->delimiter(',')
      ->excludes(grid);
  const AuditFarm standard;
  for (const FarmField& field : farm_fields()) {
    const auto value = field.get(standard);
    const std::string shown = field.key == "control_animals"
                                  ? "as many as treated, where the design needs them"
                              : field.key == "factor_after" ? "as before"
                              : value                       ? fmt::format("{:g}", *value)
                                                            : "none";
    command
        .add_option_function<std::vector<double>>(
            farm_option_name(field),
            [options, key = std::string(field.key)](const std::vector<double>& list) {
              options->values.numbers[key] = list;
            },
            fmt::format("{} (default: {})", field.help, shown))
        ->delimiter(',')
        ->excludes(grid);
  }
}

} // namespace

void add_audit(CLI::App& app, Action& action) {
  auto options = std::make_shared<AuditOptions>();
  CLI::App& command = *app.add_subcommand(
      "audit", "How often intervals hold the truth and verdicts are right, by simulated trials");
  CLI::Option* const grid = command
                                .add_option("--grid", options->grid,
                                            "Many settings: calibration, stress, thresholds, "
                                            "few-eggs, cultures, pools, lesson, or a TOML file "
                                            "(docs/audit.md)")
                                ->type_name(file_value)
                                ->check(grid_names());
  add_farm_options(command, options, grid);
  command.add_option("--trials", options->settings.trials, "Simulated trials of each setting")
      ->check(whole_number(AuditSettings::most_trials, 1))
      ->capture_default_str();
  command
      .add_option("--method", options->methods,
                  "Interval methods, by their names in docs/methods.md, or posterior for the "
                  "posterior without its guard (default: all; verdicts need guarded-posterior)")
      ->check(method_names())
      ->delimiter(',');
  command.add_option("--host", options->host, "Host, for the cut-offs")
      ->check(hosts())
      ->capture_default_str();
  command.add_option("--class", options->drug_class, "Drug class, for the cut-offs")
      ->check(drug_classes());
  command.add_option("--worm", options->worm, "Worm, for the cut-offs");
  command
      .add_option(
          "--criteria", options->criteria,
          "Criteria to judge by, by name (default: all with a cut-off for host, worm, class)")
      ->check(criteria_names())
      ->delimiter(',');
  add_cut_offs_option(command, options->cut_offs_file);
  command
      .add_option("--level", options->level_percent,
                  fmt::format("Level of the intervals, percent, {}; each criterion uses its own",
                              in_words(AnalysisSettings::levels_percent)))
      ->check(within(AnalysisSettings::levels_percent))
      ->capture_default_str();
  command
      .add_option("--prior-scale", options->prior_scale,
                  fmt::format("Prior scale of the variation, times the usual one, {}",
                              in_words(AuditSettings::prior_scales)))
      ->check(within(AuditSettings::prior_scales))
      ->capture_default_str();
  command.add_option("--seed", options->settings.seed, "Seed of the simulated trials")
      ->check(whole_number())
      ->capture_default_str();
  add_work_options(command, options->work);
  add_merge_option(command, options->parts);
  command.add_option("--json", options->json_file, "Write all as JSON; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--csv", options->csv_file,
                  "Write one row a setting and interval as CSV; - is standard output")
      ->type_name(file_value);
  command
      .add_option(
          "--page", options->page_file,
          "Write a page: HTML with figures if its name ends in .html, otherwise Markdown; - "
          "is standard output")
      ->type_name(file_value);
  command
      .add_option("--figures", options->figures_directory,
                  "Write the figures of the page into this folder, as SVG")
      ->type_name(folder_value);
  command.add_flag("--verbose", options->verbose, "Also each interval under each criterion");
  command.footer("A list, such as --animals 7,15,40, makes a setting of each combination.\n"
                 "Example: eggfall audit --animals 12 --eggs 8 --k 0.7 --efficacy 97");
  command.callback([options, &action] { action = [options] { run_audit(*options); }; });
}

} // namespace eggfall::cli
