#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/reading_options.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "plan/blank_counts.hpp"
#include "plan/field_sheets.hpp"
#include "plan/field_sheets_text.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"
#include "trial/name_words.hpp"
#include "trial/read_animals.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

struct SheetOptions {
  std::string list;
  std::string sheet;
  std::size_t animals = 0;
  std::vector<std::string> groups;
  std::string control;
  std::string host;
  std::string farm;
  std::vector<std::string> by_volume;
  std::vector<std::string> by_substance;
  double dose_step_ml = FieldSheetQuestion().dose_step_ml;
  std::string block_by;
  std::uint64_t seed = FieldSheetQuestion().seed;
  std::string day0;
  std::optional<double> faeces_g;
  std::optional<double> added_ml;
  std::optional<double> total_ml;
  std::optional<int> chambers;
  std::optional<int> chambers_after;
  std::optional<double> chamber_ml;
  std::vector<std::string> told_apart;
  std::string cut_offs_file;
  std::string html_file;
  std::string counts_file;
};

/// What stands between colons, trimmed. The last part keeps colons of its own.
std::vector<std::string> parts_of(std::string_view text, std::size_t most) {
  std::vector<std::string> parts;
  while (parts.size() + 1 < most && text.find(':') != std::string_view::npos) {
    const std::size_t colon = text.find(':');
    parts.emplace_back(trimmed(text.substr(0, colon)));
    text.remove_prefix(colon + 1);
  }
  parts.emplace_back(trimmed(text));
  return parts;
}

/// "white", "white:BZ" or "white:BZ:oral white drench".
PlannedGroup parse_group(const std::string& text) {
  const std::vector<std::string> parts = parts_of(text, 3);
  PlannedGroup group;
  group.name = parts[0];
  if (parts.size() > 1 && !parts[1].empty()) {
    const auto classes = parse_drug_classes(parts[1]);
    if (!classes)
      throw InputError(fmt::format("--group: found the class {}; expected NAME:CLASS or "
                                   "NAME:CLASS:DRENCH, a class {}",
                                   in_quotes(parts[1]), expected_drug_classes(parts[1])));
    group.classes = *classes;
  }
  if (parts.size() > 2)
    group.drench = parts[2];
  return group;
}

PlannedGroup& treated_group(std::vector<PlannedGroup>& groups, const std::string& name,
                            std::string_view option) {
  const auto found = std::ranges::find(groups, name, &PlannedGroup::name);
  if (found == groups.end() || !found->treated())
    throw InputError(
        fmt::format("{}: found {}; expected a treated group", option, in_quotes(name)));
  if (found->label)
    throw InputError(
        fmt::format("{}: found a second rate for {}; expected one", option, in_quotes(name)));
  return *found;
}

/// The numbers behind the name in NAME:NUMBER or NAME:NUMBER:NUMBER.
struct NamedNumbers {
  std::string name;
  std::vector<double> numbers;
};

NamedNumbers parse_rate(const std::string& text, std::size_t numbers, std::string_view option,
                        std::string_view pattern) {
  const std::vector<std::string> parts = parts_of(text, numbers + 1);
  NamedNumbers named{parts[0], {}};
  for (std::size_t i = 1; i < parts.size(); ++i)
    if (const auto number = parse_number(parts[i]))
      named.numbers.push_back(*number);
  if (named.numbers.size() != numbers)
    throw InputError(fmt::format("{}: found {}; expected {}", option, in_quotes(text), pattern));
  return named;
}

std::vector<PlannedGroup> groups_of(const SheetOptions& options) {
  std::vector<PlannedGroup> groups;
  for (const std::string& text : options.groups)
    groups.push_back(parse_group(text));
  if (!options.control.empty()) {
    groups.emplace_back();
    groups.back().name = options.control;
    groups.back().role = Role::control;
  }
  for (const std::string& text : options.by_volume) {
    constexpr std::string_view option = "--label-ml-per-kg";
    const NamedNumbers rate = parse_rate(text, 1, option, "NAME:RATE, such as white:0.2");
    treated_group(groups, rate.name, option).label = LabelDose::by_volume(rate.numbers[0]);
  }
  for (const std::string& text : options.by_substance) {
    constexpr std::string_view option = "--label-mg-per-kg";
    const NamedNumbers rate =
        parse_rate(text, 2, option, "NAME:MG-PER-KG:MG-PER-ML, such as white:5:25");
    treated_group(groups, rate.name, option).label =
        LabelDose::by_substance(rate.numbers[0], rate.numbers[1]);
  }
  return groups;
}

std::optional<FieldSheetBench> bench_of(const SheetOptions& options) {
  const bool any = options.faeces_g || options.added_ml || options.total_ml || options.chambers ||
                   options.chambers_after || options.chamber_ml;
  if (!any)
    return std::nullopt;
  if (!options.faeces_g || !options.chambers || !options.chamber_ml)
    throw InputError("found some of the bench figures; expected --faeces-g, --chambers, "
                     "--chamber-ml and one of --total-ml and --added-ml, or none of them");
  FieldSheetBench bench;
  bench.before = {*options.faeces_g, options.added_ml, options.total_ml, *options.chambers,
                  *options.chamber_ml};
  bench.chambers_after = options.chambers_after.value_or(*options.chambers);
  return bench;
}

FieldSheetQuestion question_of(const SheetOptions& options) {
  FieldSheetQuestion question;
  question.host = host_told(options.host);
  question.farm = options.farm;
  question.groups = groups_of(options);
  if (!options.list.empty()) {
    AnimalList list = read_animals(read_file(options.list), {options.list, options.sheet});
    tell_notes(list.notes);
    question.mob = std::move(list.animals);
  }
  question.unlisted = options.animals;
  if (!options.block_by.empty())
    question.blocks = parse_blocked_by(options.block_by);
  question.seed = options.seed;
  question.bench = bench_of(options);
  for (const std::string& kind : options.told_apart) {
    const std::string worm = canonical_worm(kind);
    if (std::ranges::find(question.told_apart, worm) != question.told_apart.end())
      continue;
    for (const std::string& other : question.told_apart)
      if (may_be_one_worm(worm, other))
        throw InputError(
            fmt::format("--told-apart: found {} beside {}; expected each worm once, or "
                        "names that tell two worms apart",
                        in_quotes(worm), in_quotes(other)));
    question.told_apart.push_back(worm);
  }
  question.dose_step_ml = options.dose_step_ml;
  if (!options.day0.empty()) {
    question.day0 = parse_date(options.day0);
    if (!question.day0)
      throw InputError(fmt::format("--day0: found {}; expected a date written YYYY-MM-DD, such as "
                                   "2031-04-27",
                                   in_quotes(options.day0)));
  }
  return question;
}

/// The command that reads the table once it is filled in. What the table has no cells for is asked
/// for there; the words to replace are in capitals.
std::string reading_command(const SheetOptions& options) {
  return fmt::format("eggfall analyse {}{}{}", options.counts_file,
                     bench_of(options) ? "" : " --factor EPG_PER_EGG",
                     options.host.empty() ? " --host HOST" : "");
}

void run_sheet(const SheetOptions& options) {
  if (options.html_file.empty() && options.counts_file.empty())
    throw InputError("nothing to write; expected --html FILE (sheets to print), --counts FILE (a "
                     "table to fill in), or both");
  const std::vector<std::string> outputs = given({options.html_file, options.counts_file});
  const std::vector<std::string> inputs = given({options.list, options.cut_offs_file});
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs);
  const FieldSheets sheets =
      field_sheets(question_of(options), chosen_cut_offs(options.cut_offs_file));
  std::vector<OutputFile> files;
  if (!options.html_file.empty())
    files.push_back({options.html_file, field_sheets_page(sheets)});
  if (!options.counts_file.empty())
    files.push_back({options.counts_file, blank_counts(sheets)});
  write_files(files, inputs);
  if (!on_screen)
    return;
  std::string text = field_sheets_text(sheets);
  if (!options.html_file.empty())
    text += fmt::format("To print: {}\n", options.html_file);
  if (!options.counts_file.empty())
    text += "To fill in, then: " + reading_command(options) + "\n";
  show(text);
}

void add_bench_options(CLI::App& command, SheetOptions& options) {
  command.add_option("--faeces-g", options.faeces_g, "Faeces weighed for a sample, g")
      ->check(CLI::PositiveNumber);
  command.add_option("--added-ml", options.added_ml,
                     "Liquid added, mL (faeces are taken as 1 mL a gram)");
  command.add_option("--total-ml", options.total_ml, "Or: the whole suspension, mL");
  command.add_option("--chambers", options.chambers, "Chambers counted")
      ->check(CLI::Range(1, BenchFigures::most_chambers));
  command
      .add_option("--chambers-after", options.chambers_after,
                  "Chambers counted after treatment, if not as many")
      ->check(CLI::Range(1, BenchFigures::most_chambers));
  command.add_option("--chamber-ml", options.chamber_ml, "Volume of one chamber, mL")
      ->check(CLI::PositiveNumber);
  command
      .add_option("--told-apart", options.told_apart,
                  "Kinds of egg to count apart, joined by commas, such as nematodirus")
      ->delimiter(',');
}

} // namespace

void add_sheet(CLI::App& app, Action& action) {
  auto options = std::make_shared<SheetOptions>();
  CLI::App& command = *app.add_subcommand(
      "sheet", "Sheets for yard and bench, groups drawn at random, a counts table to fill in");
  CLI::Option* const list =
      command
          .add_option("LIST", options->list,
                      "Table of the animals: animal, weight_kg, epg (docs/sheets.md)")
          ->type_name(file_value);
  add_sheet_option(command, options->sheet);
  command.add_option("--animals", options->animals, "Without a list: animals a group")
      ->check(whole_number(FieldSheetQuestion::most_unlisted, 1))
      ->excludes(list);
  command
      .add_option("--group", options->groups,
                  "A treated group, as NAME, NAME:CLASS or NAME:CLASS:DRENCH; once for each")
      ->required();
  command.add_option("--control", options->control, "Name of an untreated control group");
  command.add_option("--host", options->host, hosts_to_choose())->check(hosts());
  command.add_option("--farm", options->farm,
                     "Name of the farm, for the head of each sheet (default: a line to write on)");
  command.add_option("--label-ml-per-kg", options->by_volume,
                     "Dose rate on a group's label, as NAME:RATE");
  command.add_option("--label-mg-per-kg", options->by_substance,
                     "The same by substance, as NAME:MG-PER-KG:MG-PER-ML");
  command
      .add_option("--dose-step-ml", options->dose_step_ml,
                  "Steps of the drench gun, mL; doses are rounded up to them")
      ->check(within(FieldSheetQuestion::dose_steps_ml))
      ->capture_default_str();
  command
      .add_option("--block-by", options->block_by,
                  "Groups alike in: count, weight or nothing (default: the first that every "
                  "animal has)")
      ->check(CLI::IsMember({"count", "weight", "nothing"}));
  command.add_option("--seed", options->seed, "Seed of the allocation")
      ->check(whole_number())
      ->capture_default_str();
  command.add_option("--day0", options->day0, "Day of treatment, YYYY-MM-DD");
  add_bench_options(command, *options);
  command
      .add_option("--cutoffs", options->cut_offs_file,
                  "Your own days and cut-offs, TOML (docs/cut-offs.md)")
      ->type_name(file_value);
  command.add_option("--html", options->html_file, "Write sheets to print; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--counts", options->counts_file,
                  "Write a counts table to fill in, CSV; - is standard output")
      ->type_name(file_value);
  command.footer("Example: eggfall sheet examples/mob.csv --group white:BZ --group clear:ML "
                 "--day0 2031-05-12 --html sheets.html --counts counts.csv");
  command.callback([options, &action] { action = [options] { run_sheet(*options); }; });
}

} // namespace eggfall::cli
