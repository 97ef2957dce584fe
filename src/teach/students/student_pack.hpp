#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "simulation/scenario.hpp"
#include "teach/students/hand_calculation.hpp"
#include "teach/students/line_up.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace eggfall {

/// One student's test: the counts, the calculation by hand, and what the program makes of them.
struct Worksheet {
  SimulatedTrial simulated; ///< Its trial is named "worksheet-01" and so on.
  HandCalculation hand;
  GroupAnalysis analysis; ///< Of the treated group against the control, by analyse().
};

/// One invented farm, and as many tests of its drench as there are students.
struct StudentPack {
  static constexpr double level = 0.95; ///< Of the intervals by hand and by posterior alike.
  static constexpr std::size_t most_students = 200;

  Scenario scenario;
  std::uint64_t seed = 1;
  double truth = 0; ///< true_efficacy() of the treated group.
  std::vector<Worksheet> worksheets;
};

/// The treated group that a class works on.
const ScenarioGroup& treated_group(const Scenario& scenario);

/// Tests 0 ... students - 1 of the scenario, each analysed treated against untreated, judged first
/// by `criteria` waavp-1992.
/// @throws InputError unless the scenario has one treated group and a control of two animals or
///   more each, single animals counted alike, all found again, and a cut-off of WAAVP 1992 fits;
///   and unless there are 1 to `most_students`.
StudentPack student_pack(const Scenario& scenario, std::size_t students, std::uint64_t seed,
                         const CutOffs& cut_offs);

/// The settings that student_pack() analyses with.
AnalysisSettings student_settings(std::uint64_t seed);

/// The class's tests against the truth, by the number of the worksheet.
LineUp students_line_up(const StudentPack& pack);

} // namespace eggfall
