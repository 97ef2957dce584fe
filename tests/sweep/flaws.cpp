#include "flaws.hpp"

#include "yard.hpp"

#include "eggfall/base/random_stream.hpp"
#include "simulation/scenario.hpp"
#include "statistics/random_draws.hpp"
#include "trial/repeat_counts.hpp"

#include <boost/random/binomial_distribution.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

using namespace eggfall;

namespace {

// What the flaws are made of is invented, but for what is said to be from memory.

Scenario flock(double efficacy, double eggs = 20) {
  return sound({efficacy, eggs});
}

Trial simulated(const Scenario& scenario, const FlawedTrial& wanted) {
  return simulate(scenario, wanted.seed, wanted.number).trial;
}

RandomStream own_stream(const FlawedTrial& wanted, std::string_view what) {
  return RandomStream({wanted.seed, stream_group("flaw", what), wanted.number});
}

CountModel& treated_model(Scenario& scenario) {
  return scenario.groups.front().model;
}

std::vector<Animal>& treated(Trial& trial) {
  return trial.groups.front().animals;
}

using OfTreated = std::optional<Count> Animal::*;

/// Calls use(count) for the counts of the treated on one day.
template <typename Use> void each_count(Trial& trial, OfTreated when, Use&& use) {
  for (Animal& animal : treated(trial))
    if (animal.*when)
      use(*(animal.*when));
}

void undated(Trial& trial) {
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals)
      animal.date_before = animal.date_treated = animal.date_after = std::nullopt;
}

/// EPG, rounded, in a column of eggs whose factor is `given`.
void type_as_epg(Trial& trial, OfTreated when, double given) {
  each_count(trial, when, [given](Count& count) {
    count = {EggsSeen(static_cast<std::uint32_t>(std::lround(count.epg()))),
             MultiplicationFactor(given), count.animals};
  });
}

Trial epg_as_eggs(const Flaw& flaw, const FlawedTrial& wanted, double before, double after) {
  Scenario scenario = flock(flaw.efficacy(wanted), 2);
  treated_model(scenario).k = 3;
  treated_model(scenario).within_cv = 0.1;
  treated_model(scenario).factor_before = MultiplicationFactor(before);
  treated_model(scenario).factor_after = MultiplicationFactor(after);
  Trial trial = simulated(scenario, wanted);
  if (wanted.flawed)
    for (const OfTreated when : {&Animal::before, &Animal::after})
      type_as_epg(trial, when, before);
  return trial;
}

/// EPG of one day, and eggs of the other: of the day that makes the drench look like the other
/// kind.
Trial epg_of_one_day(const Flaw& flaw, const FlawedTrial& wanted, double factor) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  treated_model(scenario).factor_before = MultiplicationFactor(factor);
  treated_model(scenario).factor_after = MultiplicationFactor(factor);
  Trial trial = simulated(scenario, wanted);
  if (wanted.flawed)
    type_as_epg(trial, wanted.failing ? &Animal::before : &Animal::after, factor);
  return trial;
}

Trial swapped(const Flaw& flaw, const FlawedTrial& wanted) {
  Trial trial = simulated(flock(flaw.efficacy(wanted)), wanted);
  if (wanted.flawed)
    for (Animal& animal : treated(trial))
      std::swap(animal.before, animal.after);
  return trial;
}

/// A drench that only stops the worms laying, seen on `day`.
Trial too_early(const Flaw& flaw, const FlawedTrial& wanted, int day) {
  constexpr double seen = 0.97; // of a failing one while the worms do not lay
  Scenario scenario = flock(wanted.flawed && wanted.failing ? seen : flaw.efficacy(wanted));
  scenario.days_after = wanted.flawed ? day : 15;
  scenario.groups.front().classes = {DrugClass::ml};
  return simulated(scenario, wanted);
}

Trial early_undated(const Flaw& flaw, const FlawedTrial& wanted) {
  Trial trial = too_early(flaw, wanted, 5);
  undated(trial);
  return trial;
}

/// New worms lay `share` of the eggs before by then, spread over the animals anew.
Trial with_new_worms(const Flaw& flaw, const FlawedTrial& wanted, DrugClass drug_class,
                     int right_day, int day, double share) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  scenario.groups.front().classes = {drug_class};
  scenario.days_after = wanted.flawed ? day : right_day;
  const CountModel& model = treated_model(scenario);
  Trial trial = simulated(scenario, wanted);
  if (!wanted.flawed)
    return trial;
  RandomStream stream = own_stream(wanted, "new worms");
  each_count(trial, &Animal::after, [&](Count& count) {
    const double level = share * model.mean_eggs * gamma_luck(1 / std::sqrt(model.k), stream) *
                         gamma_luck(model.within_cv, stream);
    count.eggs = EggsSeen(count.eggs.value() + poisson_draw(level, stream).value());
  });
  return trial;
}

Trial in_season(const Flaw& flaw, const FlawedTrial& wanted, double season, std::size_t controls) {
  return simulated(sound({flaw.efficacy(wanted), 20, controls, wanted.flawed ? season : 1}),
                   wanted);
}

/// Those with the most eggs after treatment were sold, or died.
Trial worst_lost(const Flaw& flaw, const FlawedTrial& wanted, std::size_t lost) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  treated_model(scenario).efficacy_cv = 1.5;
  Trial trial = simulated(scenario, wanted);
  if (!wanted.flawed)
    return trial;
  std::vector<std::size_t> order(treated(trial).size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    return treated(trial)[a].after->eggs > treated(trial)[b].after->eggs;
  });
  for (std::size_t i = 0; i < lost; ++i)
    treated(trial)[order[i]].after.reset();
  return trial;
}

/// A gun that gives `share` of what it is set to, which then removes `seen` in place of the
/// drench's efficacy.
Trial by_gun(const FlawedTrial& wanted, double efficacy, double seen, double share, bool noticed) {
  Trial trial = simulated(flock(wanted.flawed ? seen : efficacy), wanted);
  if (wanted.flawed && noticed)
    for (Animal& animal : treated(trial))
      animal.dose_ml = share * *animal.dose_ml;
  return trial;
}

Trial gun_too_low(const Flaw& flaw, const FlawedTrial& wanted, bool noticed) {
  constexpr double effect = 0.85;
  return by_gun(wanted, flaw.efficacy(wanted), effect * flaw.efficacy(wanted), 0.6, noticed);
}

Trial some_too_little(const Flaw& flaw, const FlawedTrial& wanted) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  treated_model(scenario).underdosed = wanted.flawed ? 1.0 / 3 : 0;
  treated_model(scenario).underdose_effect = 0.5;
  return simulated(scenario, wanted);
}

/// What survives the label's dose is `left` times as much at this one.
Trial gun_too_high(const Flaw& flaw, const FlawedTrial& wanted, double share, double left,
                   bool noticed) {
  return by_gun(wanted, flaw.efficacy(wanted), 1 - left * (1 - flaw.efficacy(wanted)), share,
                noticed);
}

Trial goats(const Flaw& flaw, const FlawedTrial& wanted, bool written_down) {
  constexpr double effect = 0.8; // of the label's dose, in goats
  Scenario scenario = flock((wanted.flawed ? effect : 1) * flaw.efficacy(wanted));
  if (wanted.flawed)
    scenario.host = "goats";
  Trial trial = simulated(scenario, wanted);
  if (!written_down)
    for (Animal& animal : treated(trial))
      animal.weight_kg = animal.dose_ml = animal.label_ml_per_kg = std::nullopt;
  return trial;
}

Trial few_animals(const Flaw& flaw, const FlawedTrial& wanted) {
  Scenario scenario = flock(flaw.efficacy(wanted), 60);
  treated_model(scenario).animals = wanted.flawed ? 4 : 15;
  return simulated(scenario, wanted);
}

Trial few_eggs(const Flaw& flaw, const FlawedTrial& wanted) {
  return simulated(flock(flaw.efficacy(wanted), wanted.flawed ? 1 : 20), wanted);
}

/// A tenth of the eggs is of a worm that a failing drench leaves.
Trial one_survives(const Flaw& flaw, const FlawedTrial& wanted, bool cultured) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  if (wanted.flawed) {
    treated_model(scenario).worm_share = 0.1;
    treated_model(scenario).other_efficacy = wanted.failing ? 0.999 : flaw.good;
  }
  Trial trial = simulated(scenario, wanted);
  if (!cultured) {
    trial.groups.front().culture_before = {};
    trial.groups.front().culture_after = {};
  }
  return trial;
}

/// A drench for blood feeders, which lay nine tenths of the eggs; it leaves the others alone.
Trial narrow(const Flaw& flaw, const FlawedTrial& wanted) {
  Scenario scenario = flock(flaw.efficacy(wanted));
  if (wanted.flawed) {
    scenario.groups.front().drench = "closantel";
    treated_model(scenario).worm_share = 0.9;
    treated_model(scenario).other_efficacy = 0;
  }
  Trial trial = simulated(scenario, wanted);
  trial.groups.front().culture_before = {};
  trial.groups.front().culture_after = {};
  return trial;
}

/// Every sample counted twice; in the second chamber, of one day, foam hid nine eggs of ten.
Trial foam(const Flaw& flaw, const FlawedTrial& wanted) {
  constexpr double seen = 0.1;
  Trial trial = simulated(flock(flaw.efficacy(wanted), 40), wanted);
  RandomStream stream = own_stream(wanted, "foam");
  const auto drawn = [&](std::uint32_t eggs, double share) {
    return static_cast<std::uint32_t>(
        boost::random::binomial_distribution<int, double>(static_cast<int>(eggs), share)(stream));
  };
  const auto part = [&](std::optional<Count>& sum, std::vector<Count>& repeats, bool foamy) {
    const MultiplicationFactor factor(2 * sum->factor.value()); // of half the volume
    const std::uint32_t first = drawn(sum->eggs.value(), 0.5);
    std::uint32_t second = sum->eggs.value() - first;
    if (foamy)
      second = drawn(second, seen);
    repeats = {{EggsSeen(first), factor}, {EggsSeen(second), factor}};
    sum = combined(repeats);
  };
  for (Animal& animal : treated(trial)) {
    part(animal.before, animal.repeats_before, wanted.flawed && !wanted.failing);
    part(animal.after, animal.repeats_after, wanted.flawed && wanted.failing);
  }
  return trial;
}

/// Eggs of fluke leave the gall bladder for weeks after a cure.
Trial flukes(const Flaw& flaw, const FlawedTrial& wanted) {
  constexpr double by_then = 0.6; // of those that will go
  Trial trial = simulated(flock((wanted.flawed ? by_then : 1) * flaw.efficacy(wanted)), wanted);
  if (wanted.flawed)
    trial.groups.front().worm = canonical_worm("liver fluke");
  return trial;
}

/// A control that was sampled again three weeks after the treated, when the season was over.
Trial control_on_other_days(const Flaw& flaw, const FlawedTrial& wanted) {
  Trial trial = in_season(flaw, wanted, 0.25, 10);
  if (wanted.flawed) {
    const Scenario later = sound({flaw.efficacy(wanted), 20, 10, 1, 35});
    trial.groups.back() = simulated(later, wanted).groups.back();
  }
  return trial;
}

template <typename Make, typename... More> auto made_by(Make make, More... more) {
  return [=](const Flaw& flaw, const FlawedTrial& wanted) { return make(flaw, wanted, more...); };
}

} // namespace

const std::vector<Flaw>& all_flaws() {
  static const std::vector<Flaw> flaws{
      {"units: EPG as eggs",
       "2 eggs a head at 50 EPG an egg, in animals alike (k 3, within 0.1), so that luck in "
       "counting is all; their EPG typed as eggs",
       0.85, 0.97, true, true, made_by(epg_as_eggs, 50.0, 50.0)},
      {"units: EPG as eggs, two factors",
       "the same, counted at 50 before and at 10 after, one factor given for both", 0.85, 0.97,
       false, false, made_by(epg_as_eggs, 50.0, 10.0)},
      {"units: EPG as eggs, rounded",
       "the same at 16.67 EPG an egg (three chambers), each EPG a whole number", 0.85, 0.97, false,
       false, made_by(epg_as_eggs, 50.0 / 3, 50.0 / 3)},
      {"units: EPG of one day, eggs of the other",
       "20 eggs a head at 50 EPG an egg; EPG typed for the day before a failing drench, or after a "
       "good one",
       0.6, 0.99, true, false, made_by(epg_of_one_day, 50.0)},
      {"units: EPG of one day, rounded", "the same at 16.67 EPG an egg, each EPG a whole number",
       0.6, 0.99, true, false, made_by(epg_of_one_day, 50.0 / 3)},
      {"columns swapped", "the counts of before and after change places", 0.6, 0.99, false, false,
       made_by(swapped)},
      {"too early, day 5",
       "a macrocyclic lactone; while a failing one only stops the laying, counts fall by 97%", 0.6,
       0.99, true, false, made_by(too_early, 5)},
      {"too early, day 8", "the same, on day 8", 0.6, 0.99, true, false, made_by(too_early, 8)},
      {"too early, day 12", "the same, on day 12: laying stopped as long as that", 0.6, 0.99, false,
       false, made_by(too_early, 12)},
      {"too early, no dates", "as on day 5, with no date in the table", 0.6, 0.99, false, false,
       made_by(early_undated)},
      {"too late, day 30", "by then new worms lay a fifth of the eggs of before", 0.8, 0.99, true,
       true, made_by(with_new_worms, DrugClass::bz, 9, 30, 0.2)},
      {"too late for levamisole, day 18",
       "young worms that it spares lay a tenth of the eggs of before (memory: it spares them)", 0.8,
       0.99, false, false, made_by(with_new_worms, DrugClass::lv, 7, 18, 0.1)},
      {"season x 0.25, no control", "all counts fall to a quarter by themselves", 0.8, 0.97, false,
       false, made_by(in_season, 0.25, std::size_t{0})},
      {"season x 2.5, no control", "all counts rise to two and a half times", 0.8, 0.97, false,
       false, made_by(in_season, 2.5, std::size_t{0})},
      {"season x 0.25, 10 controls", "the same fall, and ten untreated animals on the same days",
       0.8, 0.97, false, false, made_by(in_season, 0.25, std::size_t{10})},
      {"season x 2.5, 10 controls", "the same rise, and ten untreated animals on the same days",
       0.8, 0.97, false, false, made_by(in_season, 2.5, std::size_t{10})},
      {"season x 0.25, control on other days",
       "ten untreated animals, sampled again three weeks later, when counts are back", 0.8, 0.97,
       false, false, made_by(control_on_other_days)},
      {"4 worst lost",
       "of 15 the 4 with the most eggs after are not sampled; what is left varies by 1.5", 0.8,
       0.99, false, false, made_by(worst_lost, std::size_t{4})},
      {"2 worst lost", "the same with 2 of 15", 0.8, 0.99, false, false,
       made_by(worst_lost, std::size_t{2})},
      {"gun gives 60%, written down", "so small a dose removes 85% of what a full one does", 0.8,
       0.99, false, true, made_by(gun_too_low, true)},
      {"gun gives 60%, not noticed", "the same, and the table says the full dose", 0.8, 0.99, false,
       false, made_by(gun_too_low, false)},
      {"a third got half",
       "each animal got half its dose with a chance of a third; half of that is "
       "removed, and the dose is written down",
       0.8, 0.99, false, false, made_by(some_too_little)},
      {"gun gives twice, written down",
       "of what survives the label's dose twice of it leaves a fifth", 0.8, 0.99, true, false,
       made_by(gun_too_high, 2.0, 0.2, true)},
      {"gun gives twice, not noticed", "the same, and the table says the label's dose", 0.8, 0.99,
       false, false, made_by(gun_too_high, 2.0, 0.2, false)},
      {"gun gives 1.4 times, written down", "of what survives the label's dose a third is left",
       0.85, 0.99, false, false, made_by(gun_too_high, 1.4, 1.0 / 3, true)},
      {"goats at the sheep's dose", "in goats it removes 80% of what it does in sheep", 0.6, 0.99,
       false, true, made_by(goats, true)},
      {"goats, doses not written down", "the same, without weights and doses", 0.6, 0.99, false,
       false, made_by(goats, false)},
      {"four animals", "4 animals in place of 15, 60 eggs a head", 0.8, 0.99, true, true,
       made_by(few_animals)},
      {"few eggs", "one egg a head in place of 20", 0.85, 0.97, false, false, made_by(few_eggs)},
      {"a worm survives, cultured",
       "a tenth of the eggs is of a worm that falls by 60%, the others by 99.9%; 100 larvae a "
       "culture",
       0.6, 0.99, false, false, made_by(one_survives, true)},
      {"a worm survives, no cultures", "the same, and no larvae told apart", 0.6, 0.99, false,
       false, made_by(one_survives, false)},
      {"narrow drench",
       "closantel by name; blood feeders lay nine tenths of the eggs, the rest is left", 0.8, 0.99,
       true, true, made_by(narrow)},
      {"foam in a chamber",
       "40 eggs a head in two chambers; in the second, foam hid nine eggs of ten, after a failing "
       "drench or before a good one",
       0.85, 0.97, false, false, made_by(foam)},
      {"liver fluke", "named as the worm; of the eggs that will go, 40% still come", 0.6, 0.99,
       true, true, made_by(flukes)},
  };
  return flaws;
}
