#include "teach/exercises/design_exercises.hpp"

#include "support/support.hpp"
#include "teach/exercises/invented_exercises.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <set>

using namespace eggfall;
using namespace invented_exercises;

namespace {

const Group& group(const ExerciseTest& test, Role role) {
  return *std::ranges::find(test.trial.groups, role, &Group::role);
}

std::vector<std::uint32_t> eggs(const Group& group, std::optional<Count> Animal::*when) {
  std::vector<std::uint32_t> result;
  for (const Animal& animal : group.animals)
    result.push_back((animal.*when)->eggs.value());
  return result;
}

double sum(const std::vector<std::uint32_t>& counts) {
  double total = 0;
  for (const std::uint32_t count : counts)
    total += count;
  return total;
}

} // namespace

TEST_CASE("geometric mean: that of EPG + 1, less 1") {
  // R 4.2.2: exp(mean(log(c(0, 50, 150, 0, 700) + 1))) - 1
  CHECK_THAT(geometric_mean_epg(support::counts({0, 1, 3, 0, 14}, 50)),
             support::close_to(21.205115079281));
  CHECK(geometric_mean_epg({}) == 0);
}

TEST_CASE("exercise on group size: fewer animals are the first of more") {
  const std::vector<DesignChoice>& choices = exercises().group_size.choices;
  REQUIRE(choices.size() == GroupSizeExercise::sizes.size());
  for (std::size_t i = 0; i < choices.size(); ++i)
    for (const Role role : {Role::treated, Role::control}) {
      const Group& own = group(choices[i].test, role);
      const Group& whole = group(choices.back().test, role);
      CHECK(own.animals.size() == GroupSizeExercise::sizes[i]);
      for (std::size_t a = 0; a < own.animals.size(); ++a) {
        CHECK(own.animals[a].tag == whole.animals[a].tag);
        CHECK(own.animals[a].after->eggs == whole.animals[a].after->eggs);
      }
      CHECK(choices[i].many.farm.model.animals == own.animals.size());
      CHECK(choices[i].many.farm.model.control_animals == own.animals.size());
    }
}

TEST_CASE("exercise on the factor: what a coarse slide shows is part of what a fine one does") {
  const std::vector<DesignChoice>& choices = exercises().factor.choices;
  REQUIRE(choices.size() == FactorExercise::factors.size());
  for (const Role role : {Role::treated, Role::control})
    for (std::size_t i = 1; i < choices.size(); ++i) {
      const auto coarse = eggs(group(choices[i - 1].test, role), &Animal::after);
      const auto fine = eggs(group(choices[i].test, role), &Animal::after);
      for (std::size_t a = 0; a < coarse.size(); ++a)
        CHECK(coarse[a] <= fine[a]);
      // Binomial: within 5 standard deviations of the share looked at.
      const double share = FactorExercise::factors[i] / FactorExercise::factors[i - 1];
      CHECK(std::abs(sum(coarse) - share * sum(fine)) <=
            5 * std::sqrt(share * (1 - share) * sum(fine)));
    }
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const CountModel& model = choices[i].many.farm.model;
    CHECK(model.factor_after.value() == FactorExercise::factors[i]);
    CHECK_THAT(model.mean_eggs * model.factor_before.value(), support::close_to(400));
  }
}

TEST_CASE("exercise on means: many arithmetic means lie at the truth, geometric ones do not") {
  const MeansExercise& exercise = exercises().means;
  CHECK(exercise.arithmetic.once == exercise.test.analysis.evidence.reduction);
  // A thousand tests of ten animals: a standard error of some 0.006, by a bootstrap in R of sums
  // of 10,000 gamma levels of k 0.2 and variation 0.5 within animals.
  CHECK(std::abs(*exercise.arithmetic.often - exercises().truth) < 0.02);
  CHECK(std::abs(*exercise.geometric.often - exercises().truth) > 0.02);
}

TEST_CASE("exercise on leaving out: untreated animals that were high fall by themselves") {
  const LeftOutExercise& exercise = exercises().left_out;
  // Ten thousand sheep of 8 eggs, k 0.5 and a variation of 0.5 between samples have a standard
  // error of sqrt((2/8 + 2 0.5^2 (1 + 1/0.5))/10,000) = 0.013, and this is one and a half of it.
  CHECK(std::abs(*exercise.untreated.all.often) < 0.02);
  CHECK(*exercise.untreated.kept.often > 0.03);
  CHECK(*exercise.treated.kept.often > *exercise.treated.all.often);
  double before = 0;
  double after = 0;
  std::size_t kept = 0;
  for (const Animal& animal : group(exercise.test, Role::control).animals)
    if (animal.before->epg() >= 150) {
      before += animal.before->epg();
      after += animal.after->epg();
      ++kept;
    }
  CHECK(exercise.untreated.animals_kept == kept);
  CHECK_THAT(*exercise.untreated.kept.once, support::close_to(1 - after / before));
}

TEST_CASE("exercise on the day: the animals are the same, what they lay is not") {
  const WrongDayExercise& exercise = exercises().wrong_day;
  REQUIRE(exercise.days.size() == 3);
  CHECK_THAT(exercise.days[0].truth, support::close_to(1 - 0.07 * 0.2));
  CHECK_THAT(exercise.days[1].truth, support::close_to(0.93));
  CHECK_THAT(exercise.days[2].truth, support::close_to(0.93 - 0.15));
  for (const WrongDayExercise::Day& day : exercise.days) {
    const Group& treated = group(day.test, Role::treated);
    CHECK(eggs(treated, &Animal::before) ==
          eggs(group(exercise.days[1].test, Role::treated), &Animal::before));
    for (const Animal& animal : treated.animals)
      CHECK(
          (std::chrono::sys_days(*animal.date_after) - std::chrono::sys_days(*animal.date_treated))
              .count() == day.day);
  }
}

TEST_CASE("exercise on a missed animal: the highest one, and the others as they were") {
  const MissedAnimalExercise& exercise = exercises().missed;
  const Group& with = group(exercise.test, Role::treated);
  const Group& without = group(exercise.without, Role::treated);
  CHECK(without.animals.size() + 1 == with.animals.size());
  CHECK(std::ranges::find(without.animals, exercise.tag, &Animal::tag) == without.animals.end());
  const auto highest = eggs(with, &Animal::before);
  CHECK(std::ranges::find(with.animals, exercise.tag, &Animal::tag)->before->eggs.value() ==
        std::ranges::max(highest));
  CHECK(*exercise.test.analysis.evidence.reduction < *exercise.without.analysis.evidence.reduction);
}

TEST_CASE("exercises: their tests have names of their own") {
  std::set<std::string> names;
  for (const ExerciseTest* test : all_tests(exercises()))
    names.insert(test->trial.name);
  CHECK(names.size() == all_tests(exercises()).size());
  CHECK(names.size() == 14);
}
