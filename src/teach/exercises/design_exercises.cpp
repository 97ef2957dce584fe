#include "teach/exercises/design_exercises.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "statistics/random_draws.hpp"
#include "trial/trial_lookup.hpp"

#include <boost/random/binomial_distribution.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

namespace eggfall {
namespace {

/// Tests 0, 1, ... of the scenario are the worksheets'; these come after them all.
constexpr std::uint32_t first_test = 1'000;
constexpr std::uint32_t first_of_many = 10'000;

/// The farm of a class, and how its tests are made and judged.
class Farm {
public:
  Farm(const StudentPack& pack, const CutOffs& cut_offs) : pack_(pack), cut_offs_(cut_offs) {}

  const ScenarioGroup& treated() const { return treated_group(pack_.scenario); }
  const Scenario& scenario() const { return pack_.scenario; }
  double truth() const { return pack_.truth; }

  ExerciseTest analysed(Trial trial) const {
    GroupAnalysis analysis = analyse(trial, cut_offs_, student_settings(pack_.seed)).groups.front();
    return {std::move(trial), std::move(analysis)};
  }

  SimulatedTrial simulated(const Scenario& scenario, std::uint32_t number) const {
    return simulate(scenario, pack_.seed, number);
  }

  /// Luck of an exercise's own, group by group.
  RandomStream luck(std::string_view exercise, const Group& group) const {
    return RandomStream({pack_.seed, stream_group(exercise, group.name), 0});
  }

private:
  const StudentPack& pack_;
  const CutOffs& cut_offs_;
};

/// The scenario with the model of every group changed.
template <typename Change> Scenario with(Scenario scenario, Change change) {
  for (ScenarioGroup& group : scenario.groups)
    change(group.model);
  return scenario;
}

/// The animals' true mean and the eggs they stand for stay as they are.
void set_factor(CountModel& model, double factor) {
  model.mean_eggs *= model.factor_before.value() / factor;
  model.factor_before = model.factor_after = MultiplicationFactor(factor);
}

AuditFarm like_the_treated(const Scenario& scenario) {
  AuditFarm farm{Design::two_group, treated_group(scenario).model};
  farm.model.control_animals = farm.model.animals;
  return farm;
}

/// That by which the class judges its tests.
std::vector<AuditCriterion> class_criteria(const StudentPack& pack, const CutOffs& cut_offs) {
  std::vector<Criteria> chosen;
  std::ranges::copy_if(cut_offs.criteria, std::back_inserter(chosen), [&](const Criteria& each) {
    return each.name == student_settings(pack.seed).criteria;
  });
  Group group;
  group.host = pack.scenario.host;
  group.classes = treated_group(pack.scenario).classes;
  return audit_criteria(chosen, group);
}

GroupSizeExercise group_size_exercise(const Farm& farm, const AuditedFarm* many) {
  GroupSizeExercise exercise;
  const Scenario all =
      with(farm.scenario(), [](CountModel& m) { m.animals = GroupSizeExercise::sizes.back(); });
  const Trial whole = farm.simulated(all, first_test).trial;
  for (const std::size_t size : GroupSizeExercise::sizes) {
    Trial trial = whole;
    trial.name = fmt::format("size-{:02}", size);
    for (Group& group : trial.groups)
      group.animals.resize(size);
    exercise.choices.push_back(
        {fmt::format("{} animals", size), farm.analysed(std::move(trial)), *many++});
  }
  return exercise;
}

/// Of the eggs seen at one factor, those seen where less is looked at.
void thin(std::optional<Count>& count, double factor, RandomStream& stream) {
  if (!count)
    return;
  const int seen = boost::random::binomial_distribution<int, double>(
      static_cast<int>(count->eggs.value()), count->factor.value() / factor)(stream);
  *count = {EggsSeen(static_cast<std::uint32_t>(seen)), MultiplicationFactor(factor)};
}

FactorExercise factor_exercise(const Farm& farm, const AuditedFarm* many) {
  constexpr std::array factors = FactorExercise::factors;
  const Scenario finest =
      with(farm.scenario(), [&](CountModel& m) { set_factor(m, factors.back()); });
  Trial trial = farm.simulated(finest, first_test + 1).trial;
  FactorExercise exercise;
  for (std::size_t i = factors.size(); i-- > 0;) {
    trial.name = fmt::format("factor-{:02}", factors[i]);
    for (Group& group : trial.groups) {
      RandomStream stream = farm.luck(trial.name, group);
      for (Animal& animal : group.animals) {
        thin(animal.before, factors[i], stream);
        thin(animal.after, factors[i], stream);
      }
    }
    exercise.choices.push_back(
        {fmt::format("factor {}", factors[i]), farm.analysed(trial), many[i]});
  }
  std::ranges::reverse(exercise.choices);
  return exercise;
}

/// Sums over tests, so that one test without eggs does no harm.
class MeanOfMany {
public:
  void add(double below, double above) {
    below_ += below;
    above_ += above;
  }
  std::optional<double> fall() const {
    return above_ > 0 ? std::optional(1 - below_ / above_) : std::nullopt;
  }

private:
  double below_ = 0;
  double above_ = 0;
};

std::optional<double> fall(double below, double above) {
  MeanOfMany one;
  one.add(below, above);
  return one.fall();
}

double arithmetic_mean_epg(const std::vector<Count>& counts) {
  return mean_epg(counts).value_or(0);
}

MeansExercise means_exercise(const Farm& farm) {
  MeansExercise exercise;
  Trial trial = farm.simulated(farm.scenario(), first_test + 2).trial;
  trial.name = "two-means";
  exercise.test = farm.analysed(std::move(trial));
  for (const auto& [falls, mean] : {std::pair{&exercise.arithmetic, &arithmetic_mean_epg},
                                    std::pair{&exercise.geometric, &geometric_mean_epg}}) {
    const auto mean_of = [mean = mean](const Trial& test, Role role) {
      return mean(counts_when(group_of(test, role).animals, &Animal::after));
    };
    const Trial& once = exercise.test.trial;
    falls->once = fall(mean_of(once, Role::treated), mean_of(once, Role::control));
    MeanOfMany often;
    for (std::uint32_t i = 0; i < DesignExercises::laid_together; ++i) {
      const Trial each = farm.simulated(farm.scenario(), first_of_many + i).trial;
      often.add(mean_of(each, Role::treated), mean_of(each, Role::control));
    }
    falls->often = often.fall();
  }
  return exercise;
}

/// The animals with so much before treatment, and a second sample.
std::vector<Animal> kept_animals(const Group& group, double least_epg) {
  std::vector<Animal> kept;
  std::ranges::copy_if(group.animals, std::back_inserter(kept), [least_epg](const Animal& animal) {
    return animal.before && animal.after && animal.before->epg() >= least_epg;
  });
  return kept;
}

LeftOutFalls left_out_falls(const Farm& farm, const Trial& trial, Role role) {
  LeftOutFalls falls;
  const auto add = [](MeanOfMany& sum, const std::vector<Animal>& animals) {
    for (const Animal& animal : animals)
      sum.add(animal.after->epg(), animal.before->epg());
  };
  const auto add_both = [&](MeanOfMany& all, MeanOfMany& kept, const Trial& test) {
    add(all, kept_animals(group_of(test, role), 0));
    add(kept, kept_animals(group_of(test, role), LeftOutExercise::least_epg));
  };
  MeanOfMany all;
  MeanOfMany kept;
  add_both(all, kept, trial);
  falls.all.once = all.fall();
  falls.kept.once = kept.fall();
  falls.animals_kept = kept_animals(group_of(trial, role), LeftOutExercise::least_epg).size();
  all = kept = {};
  for (std::uint32_t i = 0; i < DesignExercises::laid_together; ++i) {
    const Trial each = farm.simulated(farm.scenario(), first_of_many + i).trial;
    add_both(all, kept, each);
  }
  falls.all.often = all.fall();
  falls.kept.often = kept.fall();
  return falls;
}

LeftOutExercise left_out_exercise(const Farm& farm) {
  LeftOutExercise exercise;
  Trial trial = farm.simulated(farm.scenario(), first_test + 3).trial;
  trial.name = "left-out";
  exercise.treated = left_out_falls(farm, trial, Role::treated);
  exercise.untreated = left_out_falls(farm, trial, Role::control);
  exercise.test = farm.analysed(std::move(trial));
  return exercise;
}

/// What is true of a treated animal's EPG on another day than the scenario's.
struct DayTruth {
  std::string name;
  int day = 0;
  double laying = 1;    ///< Of the surviving worms' eggs.
  double new_worms = 0; ///< Eggs of new worms, of the animals' mean before treatment.
};

/// The test with its second samples taken on that day; the first samples stay.
WrongDayExercise::Day sampled_on(const Farm& farm, SimulatedTrial simulated, const DayTruth& on) {
  Trial& trial = simulated.trial;
  trial.name = on.name;
  const CountModel& model = farm.treated().model;
  const double mean_epg = model.mean_eggs * model.factor_before.value();
  for (std::size_t g = 0; g < trial.groups.size(); ++g) {
    Group& group = trial.groups[g];
    RandomStream stream = farm.luck(on.name, group);
    for (std::size_t i = 0; i < group.animals.size(); ++i) {
      Animal& animal = group.animals[i];
      double epg = *simulated.truths[g][i].epg_after;
      if (group.role == Role::treated)
        epg = epg * on.laying + on.new_worms * mean_epg * gamma_draw(model.k, stream) / model.k;
      animal.after->eggs = poisson_draw(epg / animal.after->factor.value(), stream);
      if (animal.date_before)
        animal.date_after = std::chrono::sys_days(*animal.date_before) + std::chrono::days(on.day);
    }
  }
  return {on.day, 1 - ((1 - farm.truth()) * on.laying + on.new_worms),
          farm.analysed(std::move(trial))};
}

WrongDayExercise wrong_day_exercise(const Farm& farm) {
  const int right = farm.scenario().days_after;
  const std::array days{
      DayTruth{"day-too-early", std::max(1, right / 3), 1 - WrongDayExercise::held_back, 0},
      DayTruth{"day-right", right, 1, 0},
      DayTruth{"day-too-late", right + 28, 1, WrongDayExercise::new_worms},
  };
  const SimulatedTrial simulated = farm.simulated(farm.scenario(), first_test + 4);
  WrongDayExercise exercise;
  for (const DayTruth& day : days)
    exercise.days.push_back(sampled_on(farm, simulated, day));
  return exercise;
}

MissedAnimalExercise missed_animal_exercise(const Farm& farm) {
  SimulatedTrial simulated = farm.simulated(farm.scenario(), first_test + 5);
  Trial& trial = simulated.trial;
  trial.name = "gate-all-animals";
  Group& treated = group_of(trial, Role::treated);
  const auto missed =
      std::ranges::max_element(treated.animals, {}, [](const Animal& a) { return a.before->eggs; });
  const auto g = static_cast<std::size_t>(std::distance(trial.groups.data(), &treated));
  const auto i = static_cast<std::size_t>(missed - treated.animals.begin());
  RandomStream stream = farm.luck(trial.name, treated);
  missed->after->eggs =
      poisson_draw(simulated.truths[g][i].epg_before / missed->after->factor.value(), stream);
  MissedAnimalExercise exercise;
  exercise.tag = missed->tag;
  exercise.test = farm.analysed(trial);
  trial.name = "gate-without-it";
  treated.animals.erase(missed);
  exercise.without = farm.analysed(trial);
  return exercise;
}

} // namespace

double geometric_mean_epg(const std::vector<Count>& counts) {
  double sum = 0;
  for (const Count& count : counts)
    sum += std::log1p(count.epg());
  return counts.empty() ? 0 : std::expm1(sum / static_cast<double>(counts.size()));
}

AuditResult exercise_audit(const StudentPack& pack, const CutOffs& cut_offs) {
  AuditSettings settings;
  settings.trials = DesignExercises::repeats;
  settings.seed = pack.seed;
  settings.level = StudentPack::level;
  settings.methods = {Method::log_ratio_1992, Method::guarded_posterior};
  settings.criteria = class_criteria(pack, cut_offs);
  std::vector<AuditFarm> farms;
  for (const std::size_t size : GroupSizeExercise::sizes) {
    AuditFarm& farm = farms.emplace_back(like_the_treated(pack.scenario));
    farm.model.animals = farm.model.control_animals = size;
  }
  for (const double factor : FactorExercise::factors)
    set_factor(farms.emplace_back(like_the_treated(pack.scenario)).model, factor);
  for (const AuditFarm& farm : farms)
    check(farm);
  return empty_result(farms, settings, Shard{});
}

DesignExercises design_exercises(const StudentPack& pack, const CutOffs& cut_offs,
                                 const AuditResult& audited) {
  const Farm farm(pack, cut_offs);
  DesignExercises exercises;
  exercises.truth = pack.truth;
  exercises.group_size = group_size_exercise(farm, audited.farms.data());
  exercises.factor = factor_exercise(farm, audited.farms.data() + GroupSizeExercise::sizes.size());
  exercises.means = means_exercise(farm);
  exercises.left_out = left_out_exercise(farm);
  exercises.wrong_day = wrong_day_exercise(farm);
  exercises.missed = missed_animal_exercise(farm);
  return exercises;
}

std::vector<const ExerciseTest*> all_tests(const DesignExercises& exercises) {
  std::vector<const ExerciseTest*> tests;
  for (const DesignChoice& choice : exercises.group_size.choices)
    tests.push_back(&choice.test);
  for (const DesignChoice& choice : exercises.factor.choices)
    tests.push_back(&choice.test);
  tests.push_back(&exercises.means.test);
  tests.push_back(&exercises.left_out.test);
  for (const WrongDayExercise::Day& day : exercises.wrong_day.days)
    tests.push_back(&day.test);
  tests.push_back(&exercises.missed.test);
  tests.push_back(&exercises.missed.without);
  return tests;
}

} // namespace eggfall
