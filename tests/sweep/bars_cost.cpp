// What the bars to judgement cost where nothing is wrong (docs/bars.md): of simulated trials
// without a flaw, how many each bar takes from the class of their counts.
#include "yard.hpp"

#include "eggfall/survey/survey_row.hpp"
#include "simulation/scenario.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <array>
#include <cstdint>
#include <iostream>
#include <string>
#include <vector>

namespace {

using namespace eggfall;

/// Of trials whose counts alone give a class.
struct Tally {
  std::uint64_t judged = 0;
  std::uint64_t barred = 0; ///< By any bar but few eggs, which is no class of the counts.
  std::array<std::uint64_t, all_bar_codes.size()> by_bar{};
};

void add(Tally& tally, const Standing& standing) {
  const bool judged = standing.by_counts_alone != VerdictClass::inconclusive &&
                      standing.by_counts_alone != VerdictClass::not_applicable;
  tally.judged += judged ? 1 : 0;
  if (!judged || standing.bars.empty())
    return;
  ++tally.barred;
  for (const Bar& bar : standing.bars)
    ++tally.by_bar[static_cast<std::size_t>(bar.code)];
}

void print(const std::string& name, const Tally& tally) {
  const auto of_100 = [&](std::uint64_t number) {
    return 100 * static_cast<double>(number) / static_cast<double>(tally.judged);
  };
  std::string line = fmt::format("| {} | {} | {:.1f} |", name, tally.judged, of_100(tally.barred));
  for (const BarCode code : {BarCode::units_in_doubt, BarCode::day, BarCode::control,
                             BarCode::missing, BarCode::dose, BarCode::few_animals})
    line += fmt::format(" {:.1f} |", of_100(tally.by_bar[static_cast<std::size_t>(code)]));
  std::cout << line << '\n';
}

/// Of trials of one truth in one season, how many the counts alone call so, and how many stand so.
std::string called(VerdictClass wrong, const Yard& yard, std::uint64_t trials, std::uint64_t seed,
                   const SurveySettings& settings) {
  std::uint64_t by_counts = 0;
  std::uint64_t stands = 0;
  for (std::uint32_t number = 0; number < trials; ++number) {
    const Trial trial = simulate(sound(yard), seed, number).trial;
    for (const SurveyRow& row : survey_rows(trial, number + 1, settings)) {
      by_counts += row.standing.by_counts_alone == wrong ? 1 : 0;
      stands += row.standing.verdict_class == wrong ? 1 : 0;
    }
  }
  const auto of_100 = [&](std::uint64_t number) {
    return 100 * static_cast<double>(number) / static_cast<double>(trials);
  };
  return fmt::format("{:.1f} / {:.1f}", of_100(by_counts), of_100(stands));
}

} // namespace

int main(int argc, char** argv) {
  std::uint64_t trials = 200;
  std::uint64_t seed = 1;
  CLI::App app("What the bars to judgement cost sound trials");
  app.add_option("--trials", trials, "Of each setting")->capture_default_str();
  app.add_option("--seed", seed)->capture_default_str();
  CLI11_PARSE(app, argc, argv);

  const CutOffs cut_offs = published_cut_offs();
  SurveySettings settings;
  settings.criteria = cut_offs.criteria.front();
  settings.windows = cut_offs.windows;
  std::cout
      << "| controls | with a class | barred, of 100 | units in doubt | day | control | missing "
         "| dose | few animals |\n|---|---|---|---|---|---|---|---|---|\n";
  Tally all;
  for (const std::size_t controls : {0U, 6U, 10U, 15U}) {
    Tally tally;
    for (const double efficacy : {0.8, 0.88, 0.97, 0.99})
      for (const double eggs : {5.0, 20.0})
        for (std::uint32_t number = 0; number < trials; ++number) {
          const int days_after = 10 + static_cast<int>(number % 5);
          Trial trial =
              simulate(sound({efficacy, eggs, controls, 1, days_after}), seed, number).trial;
          as_in_a_yard(trial.groups.front(), seed, number);
          for (const SurveyRow& row : survey_rows(trial, number + 1, settings)) {
            add(tally, row.standing);
            add(all, row.standing);
          }
        }
    print(controls == 0 ? "none" : fmt::format("{}", controls), tally);
  }
  print("all", all);

  std::cout << "\n| season | controls | 88% called susceptible: by counts / standing | 97% called "
               "resistant: by counts / standing |\n|---|---|---|---|\n";
  for (const double season : {0.25, 0.4, 0.7, 1.0, 2.5})
    for (const std::size_t controls : {6U, 10U, 15U})
      std::cout << fmt::format(
          "| x {:g} | {} | {} | {} |\n", season, controls,
          called(VerdictClass::susceptible, {0.88, 25, controls, season}, trials, seed, settings),
          called(VerdictClass::resistant, {0.97, 25, controls, season}, trials, seed, settings));
  return 0;
}
