#include "judgement/field_practice.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/toml_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace eggfall {
namespace {

constexpr std::string_view practice_schema = "eggfall.field-practice/1";
constexpr double largest_threshold = 1e6;

/// Where a threshold's value goes. The unit stands here too, so that a file cannot change it alone.
struct KnownThreshold {
  std::string_view name;
  std::string_view unit;
  void (*set)(FieldPractice& practice, double value);
};

int whole_days(double value) {
  return static_cast<int>(value);
}

std::size_t whole_number(double value) {
  return static_cast<std::size_t>(value);
}

double one_in(double value) {
  return 1 / value;
}

constexpr auto known_thresholds = std::to_array<KnownThreshold>({
    {"first-day", "days after treatment",
     [](FieldPractice& practice, double value) { practice.first_day = whole_days(value); }},
    {"first-day-short-acting", "days after treatment",
     [](FieldPractice& practice, double value) {
       practice.first_day_short_acting = whole_days(value);
     }},
    {"first-day-macrocyclic-lactone", "days after treatment",
     [](FieldPractice& practice, double value) {
       practice.first_day_macrocyclic_lactone = whole_days(value);
     }},
    {"last-day", "days after treatment",
     [](FieldPractice& practice, double value) { practice.last_day = whole_days(value); }},
    {"day-of-several-classes", "days after treatment",
     [](FieldPractice& practice, double value) {
       practice.day_of_several_classes = whole_days(value);
     }},
    {"animals-on-wrong-days", "one in so many",
     [](FieldPractice& practice, double value) { practice.animals_on_wrong_days = one_in(value); }},
    {"control-days-apart", "days",
     [](FieldPractice& practice, double value) {
       practice.control_days_apart = whole_days(value);
     }},
    {"missing-animals", "one in so many",
     [](FieldPractice& practice, double value) { practice.missing_animals = one_in(value); }},
    {"missing-eggs", "one in so many",
     [](FieldPractice& practice, double value) { practice.missing_eggs = one_in(value); }},
    {"fewest-animals", "animals or pools",
     [](FieldPractice& practice, double value) { practice.fewest_animals = whole_number(value); }},
    {"underdose", "times the label's dose",
     [](FieldPractice& practice, double value) { practice.underdose = value; }},
    {"overdose", "times the label's dose",
     [](FieldPractice& practice, double value) { practice.overdose = value; }},
    {"goat-dose", "times the label's dose",
     [](FieldPractice& practice, double value) { practice.goat_dose = value; }},
    {"common-divisor", "one in so many",
     [](FieldPractice& practice, double value) { practice.common_divisor_chance = one_in(value); }},
    {"swapped-rise", "times",
     [](FieldPractice& practice, double value) { practice.swapped_rise = value; }},
    {"swapped-eggs", "eggs seen after treatment",
     [](FieldPractice& practice, double value) { practice.swapped_eggs = whole_number(value); }},
    {"truth-may-be-lower", "one in so many",
     [](FieldPractice& practice, double value) { practice.truth_may_be_lower = one_in(value); }},
    {"plenty-of-eggs", "eggs seen in a group",
     [](FieldPractice& practice, double value) { practice.plenty_of_eggs = whole_number(value); }},
    {"usual-larvae", "larvae of a culture",
     [](FieldPractice& practice, double value) { practice.usual_larvae = value; }},
    {"usual-group", "animals a group",
     [](FieldPractice& practice, double value) { practice.usual_group = whole_number(value); }},
    {"highest-dose-rate", "mL for each kg",
     [](FieldPractice& practice, double value) { practice.highest_dose_rate = value; }},
    {"weight-beside-the-middle", "times the middle weight",
     [](FieldPractice& practice, double value) { practice.weight_beside_the_middle = value; }},
    {"few-eggs-a-sample", "eggs expected in a sample",
     [](FieldPractice& practice, double value) { practice.few_eggs_a_sample = value; }},
    {"likely-rise", "times the mean count",
     [](FieldPractice& practice, double value) { practice.likely_rise = value; }},
    {"unclear-worth-telling", "one in so many",
     [](FieldPractice& practice, double value) { practice.unclear_worth_telling = one_in(value); }},
    {"dominant-animal", "one in so many",
     [](FieldPractice& practice,
        double value) { practice.caveats.dominant_share = one_in(value); }},
    {"dominant-eggs", "eggs seen after treatment",
     [](FieldPractice& practice,
        double value) { practice.caveats.dominant_eggs = whole_number(value); }},
    {"many-eggs-after", "eggs seen after treatment",
     [](FieldPractice& practice,
        double value) { practice.caveats.many_eggs_after = whole_number(value); }},
    {"control-change", "one in so many",
     [](FieldPractice& practice,
        double value) { practice.caveats.control_change = one_in(value); }},
    {"few-positive", "animals with eggs",
     [](FieldPractice& practice,
        double value) { practice.caveats.few_positive = whole_number(value); }},
    {"fine-for-pools", "EPG for each egg seen",
     [](FieldPractice& practice, double value) { practice.caveats.fine_for_pools = value; }},
    {"coarse-for-pools", "EPG for each egg seen",
     [](FieldPractice& practice, double value) { practice.caveats.coarse_for_pools = value; }},
    {"repeats-disagree", "one in so many",
     [](FieldPractice& practice,
        double value) { practice.caveats.repeats_disagree = one_in(value); }},
    {"longest-before", "days",
     [](FieldPractice& practice,
        double value) { practice.caveats.longest_before = whole_days(value); }},
    {"too-long-before", "days",
     [](FieldPractice& practice,
        double value) { practice.caveats.too_long_before = whole_days(value); }},
    {"rise", "one in so many",
     [](FieldPractice& practice, double value) { practice.caveats.rise = one_in(value); }},
    {"eggs-of-rise", "eggs seen after treatment",
     [](FieldPractice& practice,
        double value) { practice.caveats.eggs_of_rise = whole_number(value); }},
    {"highest-mean-epg", "EPG",
     [](FieldPractice& practice, double value) { practice.caveats.highest_mean_epg = value; }},
    {"highest-mean-epg-of-large-hosts", "EPG",
     [](FieldPractice& practice,
        double value) { practice.caveats.highest_mean_epg_of_large_hosts = value; }},
    {"days-apart", "days",
     [](FieldPractice& practice,
        double value) { practice.caveats.days_apart = whole_days(value); }},
});

bool is_counted(std::string_view unit) {
  return unit.starts_with("days") || unit.starts_with("animals") || unit.starts_with("eggs seen");
}

PracticeThreshold read_threshold(const Section& section) {
  section.allow_only({"name", "value", "unit", "what", "source", "provenance"});
  const auto value = section.number("value", 0, largest_threshold);
  if (!value || *value == 0)
    section.refuse("no value above 0", "value = 5, for example");
  const std::string word = section.needed_text("provenance");
  const auto provenance = parse_provenance(word);
  if (!provenance || *provenance == Provenance::user)
    section.refuse_key("provenance", in_quotes(word), "published, memory or practice");
  return {section.needed_text("name"),
          *value,
          section.needed_text("unit"),
          section.needed_text("what"),
          {section.needed_text("source"), *provenance}};
}

void take(FieldPractice& practice, const Section& section) {
  PracticeThreshold row = read_threshold(section);
  const auto* const known =
      std::ranges::find(known_thresholds, std::string_view(row.name), &KnownThreshold::name);
  if (known == known_thresholds.end())
    section.refuse_key("name", in_quotes(row.name), "a threshold that something goes by");
  if (row.unit != known->unit)
    section.refuse_key("unit", in_quotes(row.unit), in_quotes(known->unit));
  if (is_counted(row.unit) && row.value != std::floor(row.value))
    section.refuse_key("value", fmt::format("{}", row.value), "a whole number");
  if (std::ranges::find(practice.rows, row.name, &PracticeThreshold::name) != practice.rows.end())
    section.refuse_key("name", in_quotes(row.name) + " twice", "each threshold once");
  known->set(practice, row.value);
  practice.rows.push_back(std::move(row));
}

} // namespace

FieldPractice read_field_practice(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, practice_schema, [&](const Section& root) {
    root.allow_only({"schema", "threshold"});
    FieldPractice practice;
    root.each("threshold", [&](const Section& section) { take(practice, section); });
    for (const KnownThreshold& known : known_thresholds)
      if (std::ranges::find(practice.rows, std::string(known.name), &PracticeThreshold::name) ==
          practice.rows.end())
        root.refuse(fmt::format("no threshold {}", known.name), "all of them");
    return practice;
  });
}

const FieldPractice& field_practice() {
  static const FieldPractice practice =
      read_field_practice(field_practice_toml(), "field practice");
  return practice;
}

} // namespace eggfall
