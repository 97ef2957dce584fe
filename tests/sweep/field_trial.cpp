#include "field_trial.hpp"

#include "flaws.hpp"
#include "luck.hpp"
#include "swept_trial.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

using namespace eggfall;

namespace {

using Words = std::vector<std::string>;

/// What a group may be treated with. A name alone tells its class too, where it is a known one.
struct Drench {
  std::string name;
  std::vector<DrugClass> classes;
};

const std::vector<Drench>& drenches() {
  static const std::vector<Drench> all{
      {"", {}},
      {"", {DrugClass::bz}},
      {"", {DrugClass::ml}},
      {"", {DrugClass::bz, DrugClass::lv}},
      {"ivermectin", {DrugClass::ml}},
      {"levamisole", {DrugClass::lv}},
      {"albendazole", {}},
      {"closantel", {}},       // for some worms only
      {"triclabendazole", {}}, // for none of this test's
      {"white drench", {DrugClass::bz}},
  };
  return all;
}

/// One treated group may become two or three, of the same animals.
void part_treated(Trial& trial, Luck& luck, Words& traits) {
  static const std::vector<Words> names{
      {"White", "Yellow", "Blue"}, {"Hill", "Lower", "North"}, {"Río", "Café", "Weiß"}};
  const Words& called = luck.one_of(names);
  Group whole = std::move(trial.groups.front());
  trial.groups.erase(trial.groups.begin());
  const std::size_t most = std::min<std::size_t>(3, whole.animals.size());
  const std::size_t groups = luck.chance(0.7) ? 1 : 1 + luck.below(most);
  std::vector<Group> parts(groups, whole);
  for (std::size_t g = 0; g < groups; ++g) {
    parts[g].name = called[g];
    parts[g].animals.clear();
  }
  for (std::size_t i = 0; i < whole.animals.size(); ++i)
    parts[i % groups].animals.push_back(whole.animals[i]);
  trial.groups.insert(trial.groups.begin(), parts.begin(), parts.end());
  if (groups > 1)
    traits.push_back(fmt::format("{} treated groups", groups));
}

void name_animals(Trial& trial) {
  std::size_t running = 100;
  for (Group& group : trial.groups) {
    if (group.role == Role::control)
      group.name = "Control";
    for (Animal& animal : group.animals)
      animal.tag = fmt::format("{}", ++running);
  }
}

void say_hosts(FieldTrial& field, Luck& luck) {
  static const Words hosts{"sheep",  "sheep", "sheep",   "goats", "cattle",
                           "horses", "pigs",  "alpacas", "emus",  ""};
  static const Words worms{"", "", "", "", "", "strongyles", "haemonchus", "liver fluke"};
  const std::string& host = luck.one_of(hosts);
  const std::string& worm = luck.one_of(worms);
  for (Group& group : field.trial.groups) {
    group.host = host;
    group.worm = worm;
    if (group.role == Role::control)
      continue;
    const Drench& drench = luck.one_of(drenches());
    group.drench = drench.name;
    group.classes = drench.classes;
  }
  if (host.empty() && luck.chance(0.5))
    field.host = "sheep";
  field.traits.push_back(fmt::format("host {:?}, worm {:?}", host, worm));
}

/// Treated on one day a group; the first sample and the second near to it, or far.
void date(Trial& trial, Luck& luck, Words& traits) {
  using namespace std::chrono;
  const sys_days base = sys_days(2031y / March / 1) + days(luck.below(200));
  const double missing = luck.chance(0.3) ? luck.uniform(0, 1) : 0;
  const unsigned usual_after = luck.chance(0.5) ? 14 : 1 + luck.below(60);
  for (Group& group : trial.groups) {
    const sys_days treated = base + days(luck.chance(0.2) ? luck.below(8) : 0);
    const unsigned after = luck.chance(0.2) ? 1 + luck.below(60) : usual_after;
    const days before(luck.chance(0.2) ? luck.below(21) : luck.below(2));
    for (Animal& animal : group.animals) {
      const unsigned own = luck.chance(0.05) ? 1 + luck.below(60) : after;
      animal.date_before = treated - before;
      animal.date_treated = treated;
      animal.date_after = treated + days(own);
      for (auto* const written : {&animal.date_before, &animal.date_treated, &animal.date_after})
        if (luck.chance(missing))
          written->reset();
    }
  }
  traits.push_back("dates");
}

bool any_pool(const Trial& trial) {
  return std::ranges::any_of(trial.groups, [](const Group& group) {
    return std::ranges::any_of(group.animals, [](const Animal& animal) {
      return (animal.before && animal.before->animals > 1) ||
             (animal.after && animal.after->animals > 1);
    });
  });
}

/// Weights, and doses of 0.2 mL/kg as a gun gives them: right, or far from it.
void dose(Trial& trial, Luck& luck, Words& traits) {
  constexpr double label = 0.2;
  for (Group& group : trial.groups) {
    if (group.role == Role::control)
      continue;
    const double gun = luck.chance(0.5) ? 1 : luck.on_log_scale(0.3, 3);
    for (Animal& animal : group.animals) {
      const double kg = std::round(10 * luck.uniform(18, 90)) / 10;
      const double share = luck.chance(0.1) ? luck.on_log_scale(0.2, 4) : gun;
      animal.weight_kg = kg;
      animal.dose_ml = std::max(0.1, std::round(10 * label * kg * share) / 10);
      animal.label_ml_per_kg = label;
    }
  }
  traits.push_back("doses");
}

/// Visits in the place of the sample after treatment, or beside it.
void visit(Trial& trial, Luck& luck, Words& traits) {
  const bool beside = luck.chance(0.5);
  std::vector<int> days{7, 14, 28, 42, 56};
  luck.shuffle(days);
  days.resize(2 + luck.below(3));
  std::ranges::sort(days);
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals) {
      const std::optional<Count> last = animal.after;
      animal.date_after.reset();
      if (!beside) {
        animal.after.reset();
        animal.repeats_after.clear();
      }
      for (const int day : days) {
        if (!last || luck.chance(0.1))
          continue;
        Count count = *last;
        count.eggs = EggsSeen(
            std::min(luck.below(2 * std::size_t{count.eggs.value()} + 2), EggsSeen::largest));
        animal.visits.push_back({day, count, {}});
      }
    }
  traits.push_back(beside ? "visits beside a sample after" : "visits");
}

/// A kind of egg counted apart at both times, where the other eggs were.
void tell_eggs_apart(Trial& trial, Luck& luck, Words& traits) {
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals) {
      const auto kind = [&](const std::optional<Count>& all) {
        std::optional<Count> count = all;
        if (count)
          count->eggs = EggsSeen(luck.below(20));
        return count;
      };
      if (animal.before && animal.after)
        animal.kinds["nematodirus"] = {kind(animal.before), kind(animal.after)};
    }
  traits.push_back("eggs told apart");
}

/// The day of the second sample, told by no date. Of one that is not a usual test's a head would
/// make a visit, but where eggs are told apart.
void tell_day(Trial& trial, Luck& luck, Words& traits) {
  const auto is_dated_or_has_visits = [](const Group& group) {
    return std::ranges::any_of(group.animals, [](const Animal& animal) {
      return animal.date_after || !animal.visits.empty();
    });
  };
  if (std::ranges::any_of(trial.groups, is_dated_or_has_visits))
    return;
  const bool apart = std::ranges::any_of(trial.groups, [](const Group& group) {
    return std::ranges::any_of(group.animals,
                               [](const Animal& animal) { return !animal.kinds.empty(); });
  });
  const int day = apart ? 1 + static_cast<int>(luck.below(60)) : 14;
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals)
      animal.days_after = day;
  traits.push_back(fmt::format("day {}", day));
}

/// One culture of a group on one day.
std::vector<WormLarvae> cultured(const Words& worms, std::size_t total, Luck& luck) {
  std::vector<WormLarvae> found;
  std::size_t left = total;
  for (std::size_t i = 0; i < worms.size(); ++i) {
    const std::size_t larvae = i + 1 == worms.size() ? left : luck.below(left + 1);
    found.push_back({worms[i], static_cast<double>(larvae)});
    left -= larvae;
  }
  return found;
}

void culture(FieldTrial& field, Luck& luck) {
  static const std::vector<Words> kinds{{"haemonchus", "trichostrongylus"},
                                        {"haemonchus", "cooperia", "oesophagostomum"},
                                        {"trichostrongylus"}};
  const Words& worms = luck.one_of(kinds);
  LarvaeSheet& sheet = field.larvae;
  sheet.in_percent = luck.chance(0.6);
  sheet.number_told = luck.chance(0.6);
  const double rounded_to = luck.one_of(std::vector<double>{1, 1, 0.5, 0.1, 5});
  sheet.table = "group,time,worm,larvae,percent,told_apart,rounded_to\n";
  for (std::size_t g = 0; g < field.trial.groups.size(); ++g)
    for (const bool before : {true, false}) {
      if (luck.chance(0.1))
        continue;
      const std::size_t total = luck.chance(0.3) ? 100 : luck.whole_on_log_scale(1, 400);
      CountedCulture made{g, before, cultured(worms, total, luck)};
      for (const WormLarvae& each : made.worms) {
        const double percent =
            rounded_to * std::round(100 * each.larvae / static_cast<double>(total) / rounded_to);
        sheet.table += fmt::format(
            "{},{},{},{},{},{},{}\n", field.trial.groups[g].name, before ? "before" : "after",
            each.worm, sheet.in_percent ? std::string() : fmt::format("{}", each.larvae),
            sheet.in_percent ? fmt::format("{:.6g}", percent) : std::string(),
            sheet.in_percent && sheet.number_told ? fmt::format("{}", total) : std::string(),
            sheet.in_percent ? fmt::format("{}", rounded_to) : std::string());
      }
      sheet.cultures.push_back(std::move(made));
    }
  if (sheet.cultures.empty())
    sheet = {};
  else
    field.traits.push_back(!sheet.in_percent   ? "larvae counted"
                           : sheet.number_told ? "larvae in percent, with their number"
                                               : "larvae in percent");
}

/// One with a flaw that may bar a judgement, or the same without it.
void take_flawed(FieldTrial& field, std::uint64_t seed, Luck& luck) {
  const Flaw& flaw = luck.one_of(all_flaws());
  const FlawedTrial wanted{luck.chance(0.5), luck.chance(0.7), seed,
                           static_cast<std::uint32_t>(field.number)};
  field.trial = flaw.trial(flaw, wanted);
  field.traits.push_back(
      fmt::format("{}: {}", wanted.flawed ? "flaw" : "without the flaw", flaw.name));
  // Cultures come by a table of their own, or not at all.
  for (Group& group : field.trial.groups)
    group.culture_before = group.culture_after = {};
}

void take_swept(FieldTrial& field, std::uint64_t seed, Luck& luck) {
  SweptTrial swept = swept_trial(seed, field.number);
  field.trial = std::move(swept.trial);
  field.traits = std::move(swept.oddities);
  part_treated(field.trial, luck, field.traits);
  name_animals(field.trial);
  say_hosts(field, luck);
  if (luck.chance(0.5))
    date(field.trial, luck, field.traits);
  if (luck.chance(0.3) && !any_pool(field.trial))
    dose(field.trial, luck, field.traits);
  if (luck.chance(0.15))
    visit(field.trial, luck, field.traits);
  else if (luck.chance(0.1))
    tell_eggs_apart(field.trial, luck, field.traits);
  if (luck.chance(0.3))
    tell_day(field.trial, luck, field.traits);
}

} // namespace

FieldTrial field_trial(std::uint64_t seed, std::uint64_t number) {
  Luck luck({seed, stream_group("sweep", "field"), static_cast<std::uint32_t>(number)});
  FieldTrial field;
  field.number = number;
  if (luck.chance(0.25))
    take_flawed(field, seed, luck);
  else
    take_swept(field, seed, luck);
  field.trial.name = "lambs";
  if (luck.chance(0.1))
    culture(field, luck);
  return field;
}
