#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/simulation/audit.hpp"
#include "teach/students/student_pack.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// One invented test of an exercise and what analyse() makes of it.
struct ExerciseTest {
  Trial trial;
  GroupAnalysis analysis; ///< As in a class pack: treated against untreated, after treatment.
};

/// A way to do a test: once, as the class sees it, and over and over.
struct DesignChoice {
  std::string label; ///< "10 animals".
  ExerciseTest test;
  AuditedFarm many;
};

/// Falls of one test and of many laid together: 1 - (mean of all means after) / (mean of all
/// means compared with). Proportions; empty where nothing can be compared.
struct FallOnceAndOften {
  std::optional<double> once;
  std::optional<double> often;
};

/// The same animals, of which fewer or more are sampled.
struct GroupSizeExercise {
  static constexpr std::array<std::size_t, 3> sizes{5, 10, 20};
  std::vector<DesignChoice> choices; ///< By `sizes`; the animals of each are among the next's.
};

/// The same samples, of which less or more is looked at.
struct FactorExercise {
  static constexpr std::array<double, 4> factors{50, 25, 10, 1};
  std::vector<DesignChoice> choices; ///< By `factors`; the eggs of each are among the next's.
};

/// Arithmetic against geometric means of EPG after treatment: the second is exp(mean of
/// ln(EPG + 1)) - 1.
struct MeansExercise {
  ExerciseTest test;
  FallOnceAndOften arithmetic;
  FallOnceAndOften geometric;
};

/// Fall from before to after treatment of a group, all of it and without the animals that had few
/// eggs before.
struct LeftOutFalls {
  FallOnceAndOften all;
  FallOnceAndOften kept;
  std::size_t animals_kept = 0; ///< In the one test.
};

struct LeftOutExercise {
  static constexpr double least_epg = 150; ///< Before treatment, of an animal that is kept.
  ExerciseTest test;
  LeftOutFalls treated;
  LeftOutFalls untreated; ///< Nothing was done to them: their true fall is 0.
};

/// The same animals, sampled on one day or another. How much laying is held back, and how much
/// new worms lay, is invented.
struct WrongDayExercise {
  static constexpr double held_back = 0.8;  ///< Of surviving worms' eggs, soon after treatment.
  static constexpr double new_worms = 0.15; ///< Their eggs late on, of the animals' mean before.
  struct Day {
    int day = 0;      ///< After treatment.
    double truth = 0; ///< The fall that endless counting would show; a proportion.
    ExerciseTest test;
  };
  std::vector<Day> days; ///< Too early, the right one, too late.
};

/// One animal that walked past the drenching gun: of the treated animals the one with most eggs
/// before treatment.
struct MissedAnimalExercise {
  std::string tag;
  ExerciseTest test;    ///< With it.
  ExerciseTest without; ///< Without it.
};

/// Exercises on the design of a test, on the farm of a class.
struct DesignExercises {
  static constexpr std::size_t repeats = 500;         ///< Tests of each DesignChoice.
  static constexpr std::size_t laid_together = 1'000; ///< Tests in each FallOnceAndOften::often.

  double truth = 0; ///< Fall by the drench; a proportion.
  GroupSizeExercise group_size;
  FactorExercise factor;
  MeansExercise means;
  LeftOutExercise left_out;
  WrongDayExercise wrong_day;
  MissedAnimalExercise missed;
};

/// The settings of the exercises' repeated tests, and the farms: those of GroupSizeExercise::sizes,
/// then of FactorExercise::factors. They are of the treated group's model, with as many untreated
/// animals like them. An audit of all their trials is what design_exercises() asks for; who calls
/// may spread it over cores.
/// @throws InputError as check() where the scenario does not allow a factor.
AuditResult exercise_audit(const StudentPack& pack, const CutOffs& cut_offs);

/// The exercises of a class's farm: tests of its scenario that no worksheet holds, named for the
/// exercise. `audited` is exercise_audit() with its trials done.
/// @throws InputError as check() where the scenario does not allow a factor.
DesignExercises design_exercises(const StudentPack& pack, const CutOffs& cut_offs,
                                 const AuditResult& audited);

/// Every test of the exercises, in order: what a class is given as counts tables.
std::vector<const ExerciseTest*> all_tests(const DesignExercises& exercises);

/// exp(mean of ln(EPG + 1)) - 1; 0 for none.
double geometric_mean_epg(const std::vector<Count>& counts);

} // namespace eggfall
