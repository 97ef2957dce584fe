// How soon a farm's years show that a drench slips, and how often they accuse a steady one
// (docs/audit.md shows what it prints): tests of one drench, one a year, whose truth is known.
#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/survey/farm_course.hpp"
#include "eggfall/survey/survey_row.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

namespace {

using namespace eggfall;

constexpr std::size_t years = 8;

/// The true efficacy in each year.
struct Truth {
  std::string name;
  std::array<double, years> efficacy;
  double varies = 0; ///< Standard deviation of its logit from year to year.
};

struct Size {
  std::string name;
  std::size_t animals;
  double mean_eggs; ///< Seen a head before treatment, by a factor of 15.
};

SurveySettings settings_of(const std::string& criteria) {
  CutOffs cut_offs = published_cut_offs();
  SurveySettings settings;
  for (const Criteria& each : cut_offs.criteria)
    if (each.name == criteria)
      settings.criteria = each;
  settings.windows = cut_offs.windows;
  return settings;
}

double varied(double efficacy, double change, RandomStream& stream) {
  if (change == 0)
    return efficacy;
  double normal = -6; // a sum of uniform numbers is near enough to a normal one
  for (int i = 0; i < 12; ++i)
    normal += static_cast<double>(stream()) / 4294967296.0;
  const double logit = std::log(efficacy / (1 - efficacy)) + change * normal;
  return 1 / (1 + std::exp(-logit));
}

/// The words of one farm, each year's by the tests up to it.
std::array<FarmCourse, years> courses_of(const Truth& truth, const Size& size, std::size_t farm,
                                         std::uint64_t seed, const SurveySettings& settings) {
  std::vector<SurveyRow> rows;
  std::array<FarmCourse, years> courses;
  CoursesUnderWay under_way;
  RandomStream of_years({seed, 1'000'000 + farm});
  for (std::size_t year = 0; year < years; ++year) {
    CountModel model;
    model.animals = size.animals;
    model.mean_eggs = size.mean_eggs;
    model.efficacy = varied(truth.efficacy[year], truth.varies, of_years);
    Trial trial = simulate(model, {seed, farm * years + year}).trial;
    for (Group& group : trial.groups) {
      group.farm = "farm";
      group.classes = {DrugClass::ml};
      group.host = "sheep";
      group.year = static_cast<int>(2030 + year);
    }
    for (const SurveyRow& row : survey_rows(trial, year + 1, settings))
      under_way.add(row);
    const auto kept = CoursesUnderWay(under_way).courses();
    if (!kept.empty())
      courses[year] = course_of(kept.front().first, kept.front().second, settings.priors);
  }
  return courses;
}

/// Of 100, rounded.
double of_100(std::size_t farms, std::size_t all) {
  return 100 * static_cast<double>(farms) / static_cast<double>(all);
}

bool accuses(const FarmCourse& course) {
  return course.word == CourseWord::slipping || course.word == CourseWord::lost;
}

std::string row_of(const Truth& truth, const std::vector<std::array<FarmCourse, years>>& farms) {
  std::string row = fmt::format("| {} |", truth.name);
  for (std::size_t year = 1; year < years; ++year)
    row += fmt::format(" {:.0f} |",
                       of_100(static_cast<std::size_t>(std::ranges::count_if(
                                  farms, [&](const auto& farm) { return accuses(farm[year]); })),
                              farms.size()));
  const auto of_the_last = [&](CourseWord word) {
    return of_100(static_cast<std::size_t>(std::ranges::count_if(
                      farms, [&](const auto& farm) { return farm.back().word == word; })),
                  farms.size());
  };
  const auto ever = static_cast<std::size_t>(std::ranges::count_if(
      farms, [](const auto& farm) { return std::ranges::any_of(farm, accuses); }));
  return row + fmt::format(" {:.0f} | {:.0f} | {:.0f} |\n", of_100(ever, farms.size()),
                           of_the_last(CourseWord::lost), of_the_last(CourseWord::holding));
}

} // namespace

int main(int count, char** arguments) {
  std::size_t farms = 400;
  std::uint64_t seed = 1;
  CLI::App app("How soon a slip is seen, and how often a steady drench is accused");
  app.add_option("--farms", farms, "Of each row")->check(CLI::Range(1, 100'000));
  app.add_option("--seed", seed)->capture_default_str();
  CLI11_PARSE(app, count, arguments);
  const SurveySettings settings = settings_of("waavp-2023-clinical");
  const auto steady = [](double efficacy) {
    std::array<double, years> each{};
    each.fill(efficacy);
    return each;
  };
  const std::vector<Truth> truths{
      {"steady, 99.5%", steady(0.995)},
      {"steady, 98%", steady(0.98)},
      {"98%, each year's truth apart (97 to 99)", steady(0.98), 0.4},
      {"steady, 96%", steady(0.96)},
      {"98%, and 90% from the third year", {0.98, 0.98, 0.90, 0.90, 0.90, 0.90, 0.90, 0.90}},
      {"98, 98, 97, 96, 95, 93, 91, 90%", {0.98, 0.98, 0.97, 0.96, 0.95, 0.93, 0.91, 0.90}},
  };
  const std::vector<Size> sizes{{"10 animals, 10 eggs seen a head", 10, 10},
                                {"15 animals, 20 eggs seen a head", 15, 20},
                                {"20 animals, 60 eggs seen a head", 20, 60}};
  for (const Size& size : sizes) {
    fmt::print(
        "{}, of 100 farms:\n\n| truth | slipping or lost after 2 years | 3 | 4 | 5 | 6 | 7 | "
        "8 | in any year | lost after 8 | holding after 8 |\n|---|---|---|---|---|---|---|---"
        "|---|---|---|\n",
        size.name);
    for (const Truth& truth : truths) {
      std::vector<std::array<FarmCourse, years>> all(farms);
      tbb::parallel_for(std::size_t{0}, farms, [&](std::size_t farm) {
        all[farm] = courses_of(truth, size, farm, seed, settings);
      });
      fmt::print("{}", row_of(truth, all));
    }
    fmt::print("\n");
  }
}
