#pragma once

#include "eggfall/trial/egg_count.hpp"

#include <array>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Chemical classes of anthelmintic, by the trade's abbreviations.
enum class DrugClass {
  bz,  ///< Benzimidazoles.
  lv,  ///< Levamisole: imidazothiazoles.
  ml,  ///< Macrocyclic lactones (avermectins, moxidectin).
  ad,  ///< Amino-acetonitrile derivatives.
  si,  ///< Spiroindoles.
  pyr, ///< Pyrantel and morantel: tetrahydropyrimidines.
};

inline constexpr std::array all_drug_classes{DrugClass::bz, DrugClass::lv, DrugClass::ml,
                                             DrugClass::ad, DrugClass::si, DrugClass::pyr};

std::string_view to_string(DrugClass drug_class);

/// Reads "BZ" or "bz", the name of a substance of one class ("ivermectin"), or that of a class in
/// words ("benzimidazoles"), whatever its case; nothing if it is no class known here.
std::optional<DrugClass> parse_drug_class(std::string_view text);

/// Reads "BZ", "lv + bz" or "abamectin + derquantel": each class once, in the order of DrugClass;
/// nothing if a part is none.
std::optional<std::vector<DrugClass>> parse_drug_classes(std::string_view text);

/// "BZ+LV"; empty when no class is given.
std::string to_string(const std::vector<DrugClass>& classes);

/// One spelling a host: "Goat", "goats" and "doe" give "goats". An unknown host is
/// kept in lower case, so that a user's own cut-offs may name it.
std::string canonical_host(std::string_view text);

/// One spelling a worm: "Strongyle" and "cyathostomins" give "strongyles", "H. contortus" and
/// "barber's pole worm" give "haemonchus"; an unknown worm is kept in lower case.
std::string canonical_worm(std::string_view text);

enum class Role { treated, control };

std::string_view to_string(Role role);

/// What one sample showed on each occasion.
struct Samples {
  std::optional<Count> before; ///< Empty: not sampled before treatment.
  std::optional<Count> after;  ///< Empty: not sampled after treatment.
};

/// The last day after treatment that a visit may be planned for.
inline constexpr int latest_visit_day = 400;

/// A sample of one animal, or pool, on a planned day after treatment.
struct Visit {
  int day = 0; ///< Days from treatment, as planned: 1 to latest_visit_day.
  Count count;
  std::vector<Count> repeats; ///< The single counts, as in Animal::repeats_after.
};

/// An animal, or a pool of animals whose samples were mixed. A pool has one row, and its counts say
/// how many animals were mixed.
struct Animal {
  std::string tag;
  std::optional<Count> before; ///< Empty: not sampled before treatment.
  std::optional<Count> after;  ///< Empty: not sampled after treatment.
  /// The single counts that `before` and `after` are the sums of, where a sample was counted more
  /// than once (chambers apart, or repeats); otherwise empty.
  std::vector<Count> repeats_before;
  std::vector<Count> repeats_after;
  /// Eggs told apart on the slide, and not in `before` and `after`: by canonical_worm().
  std::map<std::string, Samples, std::less<>> kinds;
  /// In the order of their days, each day once. One of them may be the reduction test's: then
  /// `after` is empty, and test_day() chooses it.
  std::vector<Visit> visits;
  std::optional<double> weight_kg;
  std::optional<double> dose_ml;
  std::optional<double> mg_per_ml;       ///< Strength of the drench.
  std::optional<double> label_ml_per_kg; ///< Dose rate on the product's label.
  std::optional<std::chrono::year_month_day> date_before;
  std::optional<std::chrono::year_month_day> date_treated;
  std::optional<std::chrono::year_month_day> date_after;
  /// Days from treatment to `after`, 1 to latest_visit_day, where no dates tell them.
  std::optional<int> days_after;
  std::size_t line = 0; ///< Line or row of the table it came from; 0 if none.
};

/// The fewest and the most larvae that a rounded percentage leaves open.
struct LarvaeRange {
  double least = 0;
  double most = 0;

  bool operator==(const LarvaeRange&) const = default;
};

/// Larvae of one kind in a culture.
struct WormLarvae {
  std::string worm; ///< canonical_worm().
  /// A whole number if they were counted; of a culture told in percentages the percentage of
  /// PercentCulture::total.
  double larvae = 0;
  /// What the rounded percentage leaves open, in a culture told in percentages; else empty.
  std::optional<LarvaeRange> open = std::nullopt;

  bool operator==(const WormLarvae&) const = default;
};

/// How a culture was told whose percentages do not settle the numbers of larvae.
struct PercentCulture {
  /// Larvae told apart; where the laboratory did not say, larvae_taken_for_granted. Fewer, and then
  /// perhaps no whole number, where the larvae of some worms are left out.
  double total = 0;
  bool number_told = false; ///< Whether the laboratory said how many larvae it told apart.
  double rounded_to = 1;    ///< In percent: 1 if the percentages are whole numbers.

  bool operator==(const PercentCulture&) const = default;
};

/// Larvae taken to have been told apart where a laboratory gives percentages and not their number.
/// Laboratories tell 100 apart, some 50 (practice): the smaller number leaves more open.
inline constexpr std::uint32_t larvae_taken_for_granted = 50;

/// The larvae told apart in one culture of mixed faeces, each worm once; no worm: no culture.
struct Culture {
  Culture() = default;
  Culture(std::initializer_list<WormLarvae> counted) : worms(counted) {}

  std::vector<WormLarvae> worms;
  /// Empty if larvae were counted, or percentages with the number told apart give back counts.
  std::optional<PercentCulture> percentages;
  /// The names of all groups whose faeces were mixed for it; empty if it is of its group alone.
  std::vector<std::string> mixed_groups;

  bool empty() const { return worms.empty(); }

  bool operator==(const Culture&) const = default;
};

/// The number of all larvae told apart; a whole number if they were counted.
double total_larvae(const Culture& culture);

/// The larvae of one worm; 0 if it was not found.
double larvae_of(const Culture& culture, std::string_view worm);

struct Group {
  std::string name;
  Role role = Role::treated;
  std::string drench; ///< As the user calls it; may be empty.
  std::vector<DrugClass> classes;
  std::string host; ///< canonical_host(); empty if not given.
  std::string worm; ///< canonical_worm(); empty if not given.
  std::string farm; ///< As the user calls it; may be empty. All groups of a trial are of one farm.
  std::string region;      ///< As the user calls it; may be empty.
  std::optional<int> year; ///< As given, or else the year of the first treatment date.
  std::vector<Animal> animals;
  Culture culture_before;
  Culture culture_after;
  /// Planned days from treatment to `after`, where those samples are of a visit and have no date.
  std::optional<int> day_after = {};
};

struct Trial {
  std::string name;
  std::vector<Group> groups; ///< At most one of them has the role control.
  /// What its tables were taken for, line by line; of counts tables in our own form only what a
  /// group's name or drench says in the place of an empty class.
  std::vector<std::string> reading = {};
};

/// The trial's control group, or nullptr. The pointer lives as long as `trial`.
const Group* control_of(const Trial& trial);
const Group* control_of(const Trial&& trial) = delete;

} // namespace eggfall
