#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// How a criterion turns numbers into a class.
enum class Rule {
  /// Reduction below `expected` AND lower limit below `lower`: resistant; one of
  /// the two: suspected; neither: susceptible (Coles et al. 1992).
  reduction_and_lower_limit,
  /// Reduction below `expected`: resistant; otherwise susceptible.
  reduction_alone,
  /// Two one-sided tests. Lower limit at or above `lower`: evidence of good
  /// efficacy. Upper limit below `expected`: evidence of resistance. The first
  /// alone: susceptible; the second alone: resistant; both: low resistant;
  /// neither: inconclusive (Denwood et al. 2019; Kaplan et al. 2023).
  two_one_sided,
};

std::string_view to_string(Rule rule);
std::optional<Rule> parse_rule(std::string_view name);

/// Where the numbers of a row come from: a publication, one noted from memory, common practice, or
/// the user's own file.
enum class Provenance { published, memory, practice, user };

std::string_view to_string(Provenance provenance);
std::optional<Provenance> parse_provenance(std::string_view name);

struct Citation {
  std::string source;
  Provenance provenance = Provenance::user;

  bool operator==(const Citation&) const = default;
};

/// Which groups a row is for. An empty list or text means any.
struct Scope {
  std::vector<std::string> hosts; ///< canonical_host().
  std::vector<DrugClass> classes;
  std::string worm; ///< canonical_worm().

  bool operator==(const Scope&) const = default;
};

/// Thresholds, as proportions.
struct CutOff {
  Scope scope;
  double expected = 0;         ///< Expected (target) efficacy.
  std::optional<double> lower; ///< Lower threshold; none for Rule::reduction_alone.
  Citation citation;

  bool operator==(const CutOff&) const = default;
};

/// The least that a criterion asks of a trial.
struct Minimum {
  Scope scope;
  std::optional<double> animals;                 ///< Per group.
  std::optional<double> better_animals;          ///< Per group.
  std::optional<double> mean_epg;                ///< Before treatment, or in the control.
  std::optional<double> eggs_counted_per_animal; ///< Eggs seen before treatment.
  Citation citation;

  bool operator==(const Minimum&) const = default;
};

struct Criteria {
  static constexpr ValueRange levels_percent{50, 99.9}; ///< Of its interval.

  std::string name;  ///< For options and JSON, such as "waavp-1992".
  std::string title; ///< For people.
  Rule rule = Rule::two_one_sided;
  double level = 0.90; ///< Confidence level of the interval; unused by Rule::reduction_alone.
  /// The interval that is demanded; empty if the headline interval will do.
  std::optional<Method> method;
  std::vector<CutOff> cut_offs; ///< The first that fits a group is used.
  std::vector<Minimum> minima;
  Citation citation;

  bool operator==(const Criteria&) const = default;
};

/// Days from treatment to the second sample, for one drug class.
struct SamplingWindow {
  std::vector<std::string> hosts; ///< canonical_host(); empty: any.
  DrugClass drug_class = DrugClass::bz;
  std::string drench_contains; ///< Lower case; empty: any drench of the class.
  int first_day = 0;
  int last_day = 0;
  Citation citation;

  bool operator==(const SamplingWindow&) const = default;
};

struct CutOffs {
  std::vector<Criteria> criteria;
  std::vector<SamplingWindow> windows;
};

/// The published cut-offs that are compiled in (src/data/cut_offs.toml).
std::string_view published_cut_offs_toml() noexcept;
CutOffs published_cut_offs();

/// Reads a user's own file (docs/cut-offs.md). All its rows have the provenance
/// "user".
/// @throws InputError, with the line and column, for what is no TOML, an unknown or missing key,
///   a wrong type, a threshold outside 50..100% (or of 100% where a limit is held against it), a
///   lower one above the expected one, an unknown rule, class, interval or host list, a name used
///   twice, the name or title of a published criterion, a row that earlier rows leave no group, or
///   a file without criteria.
CutOffs read_cut_offs(std::string_view toml, const std::string& source);

/// A user's own cut-offs before the published ones: the first criterion is the one judged by, and
/// the first window that fits is used.
CutOffs before_published(CutOffs own);

/// The row of `criteria` for a group, or the reason why none fits.
struct CutOffChoice {
  const CutOff* cut_off = nullptr; ///< Lives as long as the criteria.
  std::string why_not;
  /// The column of a counts table whose empty cell leaves the choice open; empty if no column
  /// would settle it.
  std::string missing_column = {};
};
CutOffChoice choose_cut_off(const Criteria& criteria, const Group& group);
CutOffChoice choose_cut_off(const Criteria&& criteria, const Group& group) = delete;

/// The minima of `criteria` that concern a group.
std::vector<const Minimum*> minima_for(const Criteria& criteria, const Group& group);
std::vector<const Minimum*> minima_for(const Criteria&& criteria, const Group& group) = delete;

/// The first window that fits a group treated with a single class, if one does.
const SamplingWindow* window_for(const CutOffs& cut_offs, const Group& group);
const SamplingWindow* window_for(const CutOffs&& cut_offs, const Group& group) = delete;

} // namespace eggfall
