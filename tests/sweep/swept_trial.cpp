#include "swept_trial.hpp"

#include "luck.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/simulation/count_model.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <iterator>
#include <utility>

using namespace eggfall;

namespace {

std::size_t animals(Luck& luck) {
  constexpr std::size_t usual = 60;
  constexpr std::size_t most = 2'000;
  return luck.chance(0.05) ? 1 : luck.whole_on_log_scale(1, luck.chance(0.01) ? most : usual);
}

MultiplicationFactor factor(Luck& luck) {
  constexpr std::array usual{1.0, 5.0, 15.0, 16.67, 25.0, 50.0};
  return MultiplicationFactor(luck.chance(0.1) ? luck.on_log_scale(MultiplicationFactor::smallest,
                                                                   MultiplicationFactor::largest)
                                               : usual[luck.below(usual.size())]);
}

double efficacy(Luck& luck) {
  if (luck.chance(0.1))
    return 1;
  return luck.chance(0.2) ? luck.uniform(-10, 1) : 1 - luck.on_log_scale(1e-4, 1);
}

/// Any value in `most` of all models, `usual` in the others.
double sometimes(Luck& luck, double share, double usual, double low, double high) {
  return luck.chance(share) ? luck.uniform(low, high) : usual;
}

CountModel any_model(Luck& luck, Design design) {
  CountModel model;
  model.animals = animals(luck);
  model.control_animals = design == Design::paired && luck.chance(0.5) ? 0 : animals(luck);
  model.animals_in_pool = luck.chance(0.1) ? luck.whole_on_log_scale(1, 20) : 1;
  model.mean_eggs = luck.on_log_scale(0.01, 10'000);
  model.efficacy = efficacy(luck);
  model.shape = all_level_shapes[luck.below(std::size(all_level_shapes))];
  model.k = luck.on_log_scale(0.05, 1'000);
  if (luck.chance(0.2))
    model.k_after = luck.on_log_scale(0.05, model.k);
  model.within_cv = luck.chance(0.2) ? 0 : luck.uniform(0, luck.chance(0.1) ? 5 : 1);
  model.weighing_cv = sometimes(luck, 0.2, 0, 0, 2);
  model.efficacy_cv = sometimes(luck, 0.2, 0, 0, 5);
  model.undosed = sometimes(luck, 0.1, 0, 0, 1);
  model.underdosed = sometimes(luck, 0.1, 0, 0, 1);
  model.underdose_effect = luck.uniform(0, 1);
  model.without_worms = sometimes(luck, 0.2, 0, 0, 0.99);
  model.missing_after = sometimes(luck, 0.2, 0, 0, 0.99);
  model.season_change = luck.chance(0.2) ? luck.on_log_scale(0.001, 1'000) : 1;
  model.counts_a_sample = luck.chance(0.1) ? luck.whole_on_log_scale(1, 10) : 1;
  model.factor_before = factor(luck);
  model.factor_after = luck.chance(0.6) ? model.factor_before : factor(luck);
  return model;
}

/// The first of such models that expects no more eggs than a sample may hold.
CountModel model_in_range(Luck& luck, Design design) {
  for (;;)
    try {
      CountModel model = any_model(luck, design);
      check(model);
      return model;
    } catch (const InputError&) {
      continue;
    }
}

using Occasion = std::optional<Count> Animal::*;

void for_each_count(Trial& trial, const std::function<void(Count&)>& change) {
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals)
      for (const Occasion when : {&Animal::before, &Animal::after})
        if (animal.*when)
          change(*(animal.*when));
}

void without_eggs(Group& group, Occasion when) {
  for (Animal& animal : group.animals)
    if (animal.*when)
      (animal.*when)->eggs = EggsSeen(0);
}

Animal& any_animal(Group& group, Luck& luck) {
  return group.animals[luck.below(group.animals.size())];
}

struct Oddity {
  std::string name;
  std::function<void(Trial&, Luck&)> make;
};

const std::vector<Oddity>& oddities() {
  static const std::vector<Oddity> all{
      {"no egg after",
       [](Trial& trial, Luck&) { without_eggs(trial.groups.front(), &Animal::after); }},
      {"no egg before",
       [](Trial& trial, Luck&) { without_eggs(trial.groups.front(), &Animal::before); }},
      {"no egg in the control",
       [](Trial& trial, Luck&) {
         without_eggs(trial.groups.back(), &Animal::before);
         without_eggs(trial.groups.back(), &Animal::after);
       }},
      {"factors that differ",
       [](Trial& trial, Luck& luck) {
         for_each_count(trial, [&](Count& count) { count.factor = factor(luck); });
       }},
      {"pools that differ",
       [](Trial& trial, Luck& luck) {
         for (Group& group : trial.groups)
           for (Animal& animal : group.animals) {
             const auto size = static_cast<std::uint32_t>(luck.whole_on_log_scale(1, 1'000));
             for (const Occasion when : {&Animal::before, &Animal::after})
               if (animal.*when)
                 (animal.*when)->animals = size;
           }
       }},
      {"samples missing",
       [](Trial& trial, Luck& luck) {
         const double share = luck.uniform(0, 1);
         for (Group& group : trial.groups)
           for (Animal& animal : group.animals)
             for (const Occasion when : {&Animal::before, &Animal::after})
               if (luck.chance(share))
                 (animal.*when).reset();
       }},
      {"a count of 1,000,000",
       [](Trial& trial, Luck& luck) {
         for (Group& group : trial.groups)
           for (const Occasion when : {&Animal::before, &Animal::after})
             if (auto& count = any_animal(group, luck).*when; count && luck.chance(0.5))
               count->eggs = EggsSeen(EggsSeen::largest);
       }},
      {"animals all alike",
       [](Trial& trial, Luck& luck) {
         for (Group& group : trial.groups) {
           const Animal one = any_animal(group, luck);
           for (Animal& animal : group.animals) {
             animal.before = one.before;
             animal.after = one.after;
           }
         }
       }},
      {"all eggs in one animal",
       [](Trial& trial, Luck& luck) {
         for (Group& group : trial.groups) {
           const Animal one = any_animal(group, luck);
           without_eggs(group, &Animal::before);
           without_eggs(group, &Animal::after);
           Animal& other = any_animal(group, luck);
           other.before = one.before;
           other.after = one.after;
         }
       }},
  };
  return all;
}

} // namespace

SweptTrial swept_trial(std::uint64_t seed, std::uint64_t number) {
  // A replicate has 32 bits; more trials than that are in no sweep.
  const auto replicate = static_cast<std::uint32_t>(number);
  Luck luck({seed, stream_group("sweep", "model"), replicate});
  SweptTrial swept;
  swept.number = number;
  swept.design = all_designs[number % std::size(all_designs)];
  swept.trial = simulate(model_in_range(luck, swept.design),
                         {seed, stream_group("sweep", "counts"), replicate})
                    .trial;
  if (luck.chance(0.5))
    do {
      const Oddity& oddity = oddities()[luck.below(oddities().size())];
      oddity.make(swept.trial, luck);
      swept.oddities.push_back(oddity.name);
    } while (luck.chance(0.3));
  swept.comparison = compare(swept.design, swept.trial.groups.front(), control_of(swept.trial));
  return swept;
}
