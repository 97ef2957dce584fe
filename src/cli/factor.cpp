#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/trial/counting_method.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

struct FactorOptions {
  BenchFigures bench;
  std::vector<std::uint32_t> eggs;
  std::optional<double> wanted;
  std::string json_file;
};

void run_factor(const FactorOptions& options) {
  nlohmann::ordered_json json{{"schema", "eggfall.factor/1"},
                              {"version", version()},
                              {"suspension_ml", suspension_ml(options.bench)}};
  std::string text = fmt::format("Suspension            {:g} mL with {:g} g of faeces\n",
                                 suspension_ml(options.bench), options.bench.faeces_g);
  const bool counted = options.bench.chambers != 0;
  if (!counted && !options.wanted)
    throw InputError("nothing to work out; expected --chambers and --chamber-ml (the factor), or "
                     "--wanted (the volume to count)");
  if (counted) {
    const MultiplicationFactor factor = multiplication_factor(options.bench);
    const double volume = options.bench.chambers * *options.bench.chamber_volume_ml;
    json["counted_ml"] = volume;
    json["factor"] = factor.value();
    text += fmt::format("Volume counted        {:g} mL ({} x {:g} mL)\n"
                        "Multiplication factor {:g} EPG per egg seen\n"
                        "Detection limit       {:g} EPG: one egg in one sample; a sample without\n"
                        "                      eggs may still hold up to {:.0f} EPG (one time in "
                        "twenty)\n",
                        volume, options.bench.chambers, *options.bench.chamber_volume_ml,
                        factor.value(), factor.value(), most_unseen(factor).value());
    const auto counted_apart = static_cast<std::size_t>(options.bench.chambers);
    if (options.eggs.size() > 1 && options.eggs.size() != counted_apart)
      throw InputError(fmt::format("--eggs: found {} numbers; expected {} of them, one for each "
                                   "chamber, or one for all chambers together",
                                   options.eggs.size(), counted_apart));
    std::uint64_t total = 0;
    for (const std::uint32_t eggs : options.eggs)
      total += EggsSeen(eggs).value();
    if (!options.eggs.empty()) {
      const double epg = static_cast<double>(total) * factor.value();
      json["eggs"] = total;
      json["epg"] = epg;
      text += fmt::format("Eggs per gram         {:g} EPG from {} eggs in all chambers counted\n",
                          epg, total);
    }
  } else if (!options.eggs.empty())
    throw InputError("--eggs without --chambers and --chamber-ml; expected both of them");
  if (options.wanted) {
    const double volume = volume_to_count_ml(options.bench, MultiplicationFactor(*options.wanted));
    json["wanted_factor"] = *options.wanted;
    json["volume_to_count_ml"] = volume;
    text += fmt::format("For a factor of {:<5g} count {:.4g} mL", *options.wanted, volume);
    if (options.bench.chamber_volume_ml && *options.bench.chamber_volume_ml > 0)
      text += fmt::format(" ({} chambers of {:g} mL)",
                          chambers_for(volume, *options.bench.chamber_volume_ml),
                          *options.bench.chamber_volume_ml);
    text += '\n';
  }
  if (!options.json_file.empty())
    write_files({{options.json_file, json.dump(2) + "\n"}}, {});
  if (options.json_file != "-")
    show(text);
}

} // namespace

void add_factor(CLI::App& app, Action& action) {
  auto options = std::make_shared<FactorOptions>();
  CLI::App& command = *app.add_subcommand(
      "factor", "Multiplication factor and detection limit of a counting method");
  command.add_option("--faeces-g", options->bench.faeces_g, "Faeces weighed, g")->required();
  command.add_option("--added-ml", options->bench.added_ml,
                     "Liquid added, mL (faeces are taken as 1 mL a gram)");
  command.add_option("--total-ml", options->bench.total_ml, "Or: the whole suspension, mL");
  command.add_option("--chambers", options->bench.chambers, "Chambers (grids) counted")
      ->check(CLI::Range(1, BenchFigures::most_chambers));
  command.add_option("--chamber-ml", options->bench.chamber_volume_ml, "Volume of one chamber, mL")
      ->check(CLI::PositiveNumber);
  command
      .add_option("--eggs", options->eggs,
                  "Eggs seen, in each chamber or in all together: gives the EPG")
      ->check(whole_number());
  command.add_option("--wanted", options->wanted, "Wanted factor: gives the volume to count");
  command
      .add_option("--json", options->json_file, "Write the result as JSON; - is standard output")
      ->type_name(file_value);
  command.footer("Example: eggfall factor --faeces-g 3 --total-ml 45 --chambers 2 --chamber-ml 0.5 "
                 "--eggs 12 15");
  command.callback([options, &action] { action = [options] { run_factor(*options); }; });
}

} // namespace eggfall::cli
