// How soon a farm's years show that a drench slips, and how often they accuse a steady one
// (docs/audit.md shows what it prints): tests of one drench, one a year, whose truth is known.
#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "eggfall/survey/farm_course.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <iostream>
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

/// Of how many farms the word was this, or worse, by the year.
struct Seen {
  std::array<std::size_t, years> accused{};
  std::array<std::size_t, years> holding{};
  std::array<std::size_t, years> called_susceptible{};
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

double varied(double efficacy, double by, RandomStream& stream) {
  if (by == 0)
    return efficacy;
  double normal = -6; // a sum of uniform numbers is near enough to a normal one
  for (int i = 0; i < 12; ++i)
    normal += static_cast<double>(stream()) / 4294967296.0;
  const double logit = std::log(efficacy / (1 - efficacy)) + by * normal;
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
    const auto kept = under_way.courses();
    if (!kept.empty())
      courses[year] = course_of(kept.front().first, kept.front().second, settings.priors);
  }
  return courses;
}

} // namespace

int main(int count, char** arguments) {
  std::size_t farms = 400;
  std::uint64_t seed = 1;
  CLI::App app("How soon a slip is seen, and how often a steady drench is accused");
  app.add_option("--farms", farms, "Of each cell")->capture_default_str();
  app.add_option("--seed", seed)->capture_default_str();
  CLI11_PARSE(app, count, arguments);
  const SurveySettings settings = settings_of("waavp-2023-clinical");
  const std::vector<Truth> truths{
      {"steady 99.5%", {.995, .995, .995, .995, .995, .995, .995, .995}},
      {"steady 98%", {.98, .98, .98, .98, .98, .98, .98, .98}},
      {"98%, varies", {.98, .98, .98, .98, .98, .98, .98, .98}, 0.4},
      {"steady 96%", {.96, .96, .96, .96, .96, .96, .96, .96}},
      {"98 to 90 at once", {.98, .98, .90, .90, .90, .90, .90, .90}},
      {"98 to 90, slowly", {.98, .98, .97, .96, .95, .93, .91, .90}},
  };
  const std::vector<Size> sizes{{"10 animals, 10 eggs", 10, 10},
                                {"15 animals, 20 eggs", 15, 20},
                                {"20 animals, 60 eggs", 20, 60}};
  fmt::print("{:<20} {:<18} {:>60}\n", "", "", "of 100 farms slipping or lost by the years (in 8th: holding)");
  for (const Size& size : sizes)
    for (const Truth& truth : truths) {
      std::vector<std::array<FarmCourse, years>> all(farms);
      if (getenv("LOOK")) {
        const auto c = courses_of(truth, size, 0, seed, settings);
        for (const auto& t : c[7].tests) fmt::print("{} {} {} {} {} '{}' {}\n", t.year, t.reduction.value_or(-1), t.lower.value_or(-1), to_string(t.standing), t.trial_number, t.left_out, t.since_first ? t.since_first->any : -1);
      }
      tbb::parallel_for(std::size_t{0}, farms, [&](std::size_t farm) {
        all[farm] = courses_of(truth, size, farm, seed, settings);
      });
      fmt::print("{:<20} {:<18}", size.name, truth.name);
      for (std::size_t year = 1; year < years; ++year) {
        std::size_t accused = 0;
        for (const auto& courses : all)
          accused += courses[year].word == CourseWord::slipping ||
                     courses[year].word == CourseWord::lost;
        fmt::print(" {:>4.0f}", 100.0 * static_cast<double>(accused) / static_cast<double>(farms));
      }
      std::size_t holding = 0, ever = 0, lost = 0;
      for (const auto& courses : all) {
        holding += courses[years - 1].word == CourseWord::holding;
        lost += courses[years - 1].word == CourseWord::lost;
        ever += std::ranges::any_of(courses, [](const FarmCourse& course) {
          return course.word == CourseWord::slipping || course.word == CourseWord::lost;
        });
      }
      fmt::print("  ever {:>4.0f} lost8 {:>4.0f} holding8 {:>4.0f}\n", 100.0 * static_cast<double>(ever) / static_cast<double>(farms),
       100.0 * static_cast<double>(lost) / static_cast<double>(farms),            100.0 * static_cast<double>(holding) / static_cast<double>(farms));
      for (const auto& [a, m] : {std::pair{.9,0.},{.95,0.},{.975,0.},{.9,.5},{.95,.5}, {.9,.8}}) {
        std::size_t f = 0, l = 0;
        for (const auto& courses : all) {
          bool e1 = false, e2 = false;
          for (const auto& t : courses[years-1].tests) {
            e1 |= t.since_first && t.since_first->any >= a && t.since_first->marked >= m;
            e2 |= t.since_last && t.since_last->any >= a && t.since_last->marked >= m;
          }
          f += e1; l += e2;
        }
        fmt::print("      any {} marked {}: ever since first {:.1f} since last {:.1f}\n", a, m, 100.0*double(f)/double(farms), 100.0*double(l)/double(farms));
      }
      std::cout << std::flush;
    }
}
