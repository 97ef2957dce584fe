#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "simulation/read_scenario.hpp"
#include "teach/exercises/design_exercises.hpp"
#include "teach/students/student_pack.hpp"

// The exercises of an invented farm, made once for all tests.
namespace invented_exercises {

using namespace eggfall;

/// The farm of the first lesson, with a class of two.
inline const StudentPack& pack() {
  static const StudentPack made =
      student_pack(built_in_scenario("class"), 2, 5, published_cut_offs());
  return made;
}

/// With a few repeated tests only: how intervals fare is the audit's own test.
inline const DesignExercises& exercises() {
  static const DesignExercises made = [] {
    AuditResult audit = exercise_audit(pack(), published_cut_offs());
    for (AuditedFarm& audited : audit.farms)
      audited.tally = audit_trials(audited.farm, audit.settings, 0, 5);
    return design_exercises(pack(), published_cut_offs(), audit);
  }();
  return made;
}

} // namespace invented_exercises
