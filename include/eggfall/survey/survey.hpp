#pragma once

#include "eggfall/base/shard.hpp"
#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/survey/farm_course.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial.hpp"

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// What the groups of a survey can be told apart by.
enum class SurveyField { drench, drug_class, host, worm, farm, region, year };

inline constexpr std::array all_survey_fields{
    SurveyField::drench, SurveyField::drug_class, SurveyField::host, SurveyField::worm,
    SurveyField::farm,   SurveyField::region,     SurveyField::year};

/// The fields by which a survey is broken down if nobody asks for others. Farm and drench are not
/// among them, since there are nearly as many of these as there are groups.
inline constexpr std::array usual_survey_fields{SurveyField::drug_class, SurveyField::host,
                                                SurveyField::worm, SurveyField::region,
                                                SurveyField::year};

/// The name of its column, such as "class".
std::string_view to_string(SurveyField field);
std::optional<SurveyField> parse_survey_field(std::string_view name);

/// The fields of a list such as "region,year".
/// @throws InputError for what is no field.
std::vector<SurveyField> parse_breakdown(std::string_view text);

/// A group's value of a field as text; empty if not given.
std::string value_of(SurveyField field, const Group& group);

/// A group's value of each field of a breakdown.
using Stratum = std::vector<std::string>;

/// How often groups stood in each class (Standing) in each stratum. Strata without a group are not
/// there.
struct Breakdown {
  std::vector<SurveyField> fields; ///< Empty: one stratum of all groups.
  std::map<Stratum, VerdictTally> strata;
};

/// Trials, their treated groups, and the animals of all their groups.
struct SurveySize {
  std::uint64_t trials = 0;
  std::uint64_t groups = 0;
  std::uint64_t animals = 0;
  std::uint64_t groups_with_kinds = 0; ///< Treated groups with kinds_told_apart().

  bool operator==(const SurveySize&) const = default;
};

void add(SurveySize& size, const Trial& trial);

/// A table that a survey read.
struct SurveyTable {
  std::string name;   ///< The name of its file, without the directory.
  std::string digest; ///< Of its bytes, so that parts of a survey are not added up if one of them
                      ///< was given another table.

  bool operator==(const SurveyTable&) const = default;
};

/// How often each of a fixed set of likelihoods was heard, which three whole numbers tell apart
/// (see "A region's farms" in docs/methods.md).
using HeardLikelihoods = std::map<std::array<std::int32_t, 3>, std::uint64_t>;

/// Many trials, tallied. Tallies are whole numbers, so that those of parts add up to those of one
/// run, in any order; a farm's trials are all in one part, which works out its courses.
struct Survey {
  std::string version; ///< The version of the program that made it.
  SurveySettings settings;
  ReadOptions reading; ///< As given, but for trial_name: each table has its own.
  Shard shard;         ///< {1, 1} for a survey that is whole.
  std::vector<SurveyTable> tables;
  SurveySize in_tables;            ///< All that the tables hold ...
  SurveySize surveyed;             ///< ... and what this part of them holds.
  std::vector<FarmCourse> courses; ///< In the order of their keys.
  /// By class, host and year, of the groups whose fall is the drench's own (is_drenchs_own_fall()):
  /// what a region's farms together are told by.
  std::map<Stratum, HeardLikelihoods> heard;
  Breakdown all;
  std::vector<Breakdown> breakdowns;
  /// Groups whose counts alone gave a class, by the first bar that took it away; by BarCode.
  std::array<std::uint64_t, all_bar_codes.size()> barred{};
};

/// A survey to which no trial was added yet. Without a breakdown it is broken down by each of
/// usual_survey_fields alone. It keeps no minima of the criteria, since a survey judges trials and
/// does not weigh their size.
/// @throws InputError for a breakdown or a field in it that comes twice.
Survey empty_survey(SurveySettings settings, Shard shard,
                    std::vector<std::vector<SurveyField>> breakdowns);

/// Which trials a shard takes: every `count`-th, but all of a farm together, with its first. Trials
/// are shown to it in the order of the tables.
class ShardOfTrials {
public:
  explicit ShardOfTrials(Shard shard) : shard_(shard) {}

  /// `trial_number` counts from 1, each one more than the last.
  bool takes(const Trial& trial, std::uint64_t trial_number);

private:
  Shard shard_;
  std::map<std::string, std::uint64_t> first_of_farm_;
};

/// Tallies a group.
void add(Survey& survey, const SurveyRow& row);

/// The sum of all shards of a survey, in any order: just what one run gives.
/// @throws InputError unless the parts are of one survey (version, settings, tables and
///   what is in them, breakdowns),
///   each shard is there once, and all trials of the tables are in them.
Survey merged(const std::vector<Survey>& parts);

} // namespace eggfall
