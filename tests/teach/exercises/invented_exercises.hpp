#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "simulation/read_scenario.hpp"
#include "teach/class/student_pack.hpp"
#include "teach/exercises/design_exercises.hpp"

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
    AuditResult audited = exercise_audit(pack(), published_cut_offs());
    for (AuditedCell& cell : audited.cells)
      cell.tally = audit_trials(cell.cell, audited.settings, 0, 5);
    return design_exercises(pack(), published_cut_offs(), audited);
  }();
  return made;
}

} // namespace invented_exercises
