#include "teach/students/student_pack.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "trial/trial_lookup.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

/// A class works with one drench and a control, whose animals are all there.
void check_for_class(const Scenario& scenario) {
  check(scenario);
  std::size_t treated = 0;
  for (const ScenarioGroup& group : scenario.groups) {
    treated += group.role == Role::treated ? 1 : 0;
    if (group.model.missing_after > 0)
      throw InputError("a class's scenario: found animals that are not found again; expected all, "
                       "so that everyone works with as many");
  }
  if (treated != 1 || scenario.groups.size() != 2)
    throw InputError(fmt::format("a class's scenario: found {} treated groups and {} controls; "
                                 "expected one of each",
                                 treated, scenario.groups.size() - treated));
}

} // namespace

const ScenarioGroup& treated_group(const Scenario& scenario) {
  return *std::ranges::find(scenario.groups, Role::treated, &ScenarioGroup::role);
}

AnalysisSettings student_settings(std::uint64_t seed) {
  AnalysisSettings settings;
  settings.level = StudentPack::level;
  settings.seed = seed;
  settings.simulations = 0;
  settings.design = Design::two_group;
  settings.criteria = "waavp-1992";
  return settings;
}

StudentPack student_pack(const Scenario& scenario, std::size_t students, std::uint64_t seed,
                         const CutOffs& cut_offs) {
  if (students < 1 || students > StudentPack::most_students)
    throw InputError(
        fmt::format("students: found {}; expected 1 to {}", students, StudentPack::most_students));
  check_for_class(scenario);
  StudentPack pack{scenario, seed, true_efficacy(treated_group(scenario)), {}};
  for (std::size_t number = 0; number < students; ++number) {
    Worksheet sheet;
    sheet.simulated = simulate(scenario, seed, static_cast<std::uint32_t>(number));
    Trial& trial = sheet.simulated.trial;
    trial.name = fmt::format("worksheet-{:02}", number + 1);
    sheet.hand = hand_calculation(
        counts_when(group_of(trial, Role::treated).animals, &Animal::after),
        counts_when(group_of(trial, Role::control).animals, &Animal::after), StudentPack::level);
    sheet.analysis = analyse(trial, cut_offs, student_settings(seed)).groups.front();
    if (!sheet.analysis.judgement.first_verdict().expected)
      throw InputError(fmt::format("a class's scenario: found no cut-off of {} for its host and "
                                   "drug class; expected one, so that the class can judge its "
                                   "tests",
                                   sheet.analysis.judgement.first_verdict().criteria_title));
    pack.worksheets.push_back(std::move(sheet));
  }
  return pack;
}

LineUp students_line_up(const StudentPack& pack) {
  LineUp line_up{pack.truth, {}};
  for (std::size_t i = 0; i < pack.worksheets.size(); ++i)
    line_up.rows.push_back(line_up_row(fmt::format("{}", i + 1), pack.worksheets[i].analysis));
  return line_up;
}

} // namespace eggfall
