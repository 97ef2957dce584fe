#include "plan/field_sheet_words.hpp"

#include "base/date.hpp"
#include "base/number_words.hpp"
#include "base/text.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/known_drench.hpp"
#include "judgement/provenance_words.hpp"
#include "judgement/sample_words.hpp"
#include "trial/drug_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

std::chrono::year_month_day day_after(const std::chrono::year_month_day& day0, int days) {
  return {std::chrono::sys_days(day0) + std::chrono::days(days)};
}

/// "day 14" or "days 8 to 10"
std::string days_text(int first, int last) {
  return first == last ? fmt::format("day {}", first) : fmt::format("days {} to {}", first, last);
}

/// "Tue 20 May"
std::string date_without_year(const std::chrono::year_month_day& date) {
  const std::string text = date_in_words(date);
  return text.substr(0, text.rfind(' '));
}

/// Of days some of which are usual and not judged.
std::string judged_days_note(const PlannedGroup& group, const UsualDays& usual,
                             const std::string& days, const std::string& source) {
  if (KnownDrench(group.classes, drench_words_of(group)).is_unknown())
    return fmt::format("Group {}: {}, for a drench of which neither class nor substance is known "
                       "({}): before day {} 'eggfall analyse' calls no drench good that may be a "
                       "macrocyclic lactone. Say the class or the substance, and its own days are "
                       "told.",
                       group.name, days, source, usual.first_day);
  return fmt::format("Group {}: {}, as near to the days usual for {} ({}) as 'eggfall analyse' may "
                     "call this drench good (practice).",
                     group.name, days,
                     usual.classes.empty() ? "any drench" : to_string(usual.classes), source);
}

/// What may make a test worthless, or a dead drench look good, by the substances that are named.
std::vector<std::string> drench_cautions(const FieldSheetQuestion& question) {
  std::vector<std::string> cautions;
  for (const PlannedGroup& group : question.groups) {
    if (!group.treated())
      continue;
    const auto substance = substance_telling_class(drench_words_of(group));
    if (substance && !group.classes.empty() &&
        std::ranges::find(group.classes, *substance->drug_class) == group.classes.end())
      cautions.push_back(fmt::format(
          "Group {}: class {} is given for {}, which is {} (from memory): check which is right "
          "before the day, for days and cut-offs hang on the class.",
          group.name, to_string(group.classes), in_quotes(substance->name),
          to_string(*substance->drug_class)));
    const KnownDrench drench(group.classes, drench_words_of(group));
    if (const auto narrow = drench.only_of(SubstanceKind::narrow))
      cautions.push_back(fmt::format(
          "Group {}: {} is for some worms only. {} Arrange the cultures with the laboratory before "
          "the day: without them 'eggfall analyse' gives this group no class.",
          group.name, narrow->name, narrow->remark));
    if (const auto other = drench.only_of(SubstanceKind::not_for_roundworms))
      cautions.push_back(fmt::format("Group {}: {} is not for the worms of this test. {} 'eggfall "
                                     "analyse' gives this group no class.",
                                     group.name, other->name, other->remark));
  }
  return cautions;
}

} // namespace

std::string days_with_dates(const std::optional<std::chrono::year_month_day>& day0, int first,
                            int last) {
  std::string text = days_text(first, last);
  if (!day0)
    return text;
  const std::chrono::year_month_day from = day_after(*day0, first);
  const std::chrono::year_month_day to = day_after(*day0, last);
  const std::string end = date_without_year(to);
  if (first == last)
    return text + ": " + end;
  std::string begin = date_without_year(from);
  if (from.month() == to.month() && from.year() == to.year())
    begin.resize(begin.rfind(' '));
  return fmt::format("{}: {} to {}", text, begin, end);
}

std::string ordinal(std::size_t number) {
  const std::size_t tens = number % 100;
  const std::size_t ones = number % 10;
  const bool teen = tens >= 11 && tens <= 13;
  const std::string_view ending = teen || ones == 0 || ones > 3 ? "th"
                                  : ones == 1                   ? "st"
                                  : ones == 2                   ? "nd"
                                                                : "rd";
  return fmt::format("{}{}", number, ending);
}

std::string treatment_text(const PlannedGroup& group) {
  if (!group.treated())
    return "untreated control";
  const std::string classes = to_string(group.classes);
  if (classes.empty() || group.drench.empty())
    return classes.empty() ? group.drench : classes;
  return classes + ", " + group.drench;
}

std::string label_text(const PlannedGroup& group) {
  if (!group.label)
    return {};
  const LabelDose& label = *group.label;
  const std::string by_volume = fmt::format("{:.4g} mL per kg", label.ml_per_kg());
  return label.mg_per_kg() ? fmt::format("{} ({:g} mg per kg, of {:g} mg per mL)", by_volume,
                                         *label.mg_per_kg(), *label.mg_per_ml())
                           : by_volume;
}

std::string allocation_text(const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const std::size_t groups = question.groups.size();
  constexpr std::string_view numbers =
      "In the counts table the animals have the numbers of these lines.";
  if (question.mob.empty() && groups == 1)
    return fmt::format("{} lines in one group, to be filled in the yard: take the animals as they "
                       "come through the race, not picked by eye. {}",
                       sheets.animals.size(), numbers);
  if (question.mob.empty())
    return fmt::format("{} lines in {} groups, in an order drawn at random (seed {}): of every {} "
                       "animals that come through the race one after the other, one goes to each "
                       "group. Chance and not the eye decides which: the line of each says it. {}",
                       sheets.animals.size(), groups, question.seed, groups, numbers);
  if (groups == 1)
    return fmt::format("{} animals, one group.", sheets.animals.size());
  std::string blocks = "at random";
  if (sheets.blocked != BlockedBy::nothing)
    blocks = fmt::format("at random within blocks of {} animals much alike in {}", groups,
                         sheets.blocked == BlockedBy::count ? "an earlier count" : "weight");
  return fmt::format("{} animals in {} groups, {} (seed {}).", sheets.animals.size(), groups,
                     blocks, question.seed);
}

std::string second_sample_days(const FieldSheets& sheets) {
  const SecondSample& sample = sheets.second_samples.front();
  std::string text = capitalised(days_text(sample.first_day, sample.last_day));
  const auto& day0 = sheets.question.day0;
  if (!day0)
    return text + " after treatment";
  text += ": " + date_in_words(day_after(*day0, sample.first_day));
  if (sample.last_day > sample.first_day)
    text += " to " + date_in_words(day_after(*day0, sample.last_day));
  return text;
}

std::vector<ExtraVisit> extra_visits(const FieldSheets& sheets) {
  std::vector<ExtraVisit> visits;
  for (const SecondSample& sample : sheets.second_samples)
    if (sample.off_its_days() && !sample.usual.no_day_in_common)
      visits.push_back(
          {sample.group,
           sheets.question.groups[sample.group].name +
               (sheets.question.has_control() ? " and the control" : ""),
           days_with_dates(sheets.question.day0, sample.usual.first_day, sample.usual.last_day)});
  return visits;
}

std::vector<std::string> second_sample_notes(const FieldSheets& sheets) {
  std::vector<std::string> notes;
  const SecondSample& first = sheets.second_samples.front();
  if (first.usual.drug_classes_compared && first.first_day == common_day() &&
      first.last_day == common_day())
    notes.push_back(fmt::format("Day {} serves where drenches of several classes are compared "
                                "({}).",
                                common_day(), note_from_memory));
  for (const SecondSample& sample : sheets.second_samples) {
    const PlannedGroup& group = sheets.question.groups[sample.group];
    const UsualDays& usual = sample.usual;
    if (usual.no_day_in_common)
      continue;
    const std::string days = days_text(usual.first_day, usual.last_day);
    const std::string source = provenance_text(usual.citation);
    std::string note =
        usual.classes.empty() && !group.classes.empty()
            ? fmt::format("Group {}: no days are on record for {}; {} are taken, as for any drench "
                          "({}): ask your veterinarian.",
                          group.name, to_string(group.classes), days, source)
            : fmt::format("Group {}: {} are usual for {} ({}).", group.name, days,
                          usual.classes.empty() ? "a drench of no known class"
                                                : to_string(usual.classes),
                          source);
    if (sample.some_usual_left_out)
      note = judged_days_note(group, usual, days, source);
    if (sample.off_its_days())
      note += fmt::format(" Sample this group then as well, if you can{}, in a table of its own.",
                          sheets.question.has_control() ? ", and the control with it" : "");
    notes.push_back(std::move(note));
  }
  return notes;
}

std::vector<std::string> field_sheet_cautions(const FieldSheets& sheets) {
  const std::size_t usual_least = field_practice().usual_group;
  const FieldSheetQuestion& question = sheets.question;
  std::vector<std::string> cautions = drench_cautions(question);
  std::vector<std::string> small;
  std::vector<std::string> undosed;
  const bool all_weighed =
      !question.mob.empty() && std::ranges::all_of(question.mob, [](const auto& animal) {
        return animal.weight_kg.has_value();
      });
  for (std::size_t i = 0; i < question.groups.size(); ++i) {
    const GroupBalance& balance = sheets.balance[i];
    if (balance.animals < usual_least)
      small.push_back(fmt::format("{} ({})", question.groups[i].name, balance.animals));
    if (balance.without_dose > 0)
      undosed.push_back(question.groups[i].name);
  }
  const bool of_1992 = question.host == "sheep" || question.host == "goats";
  if (!small.empty())
    cautions.push_back(fmt::format(
        "Fewer than {} animals in {}: {}'eggfall plan' says what so few can tell.", usual_least,
        listed(small),
        of_1992 ? fmt::format("WAAVP 1992 asks for at least {} a group, better 15 (Coles et al. "
                              "1992). ",
                              usual_least)
                : std::string()));
  if (!undosed.empty())
    cautions.push_back(fmt::format(
        "Doses are left open in {}: {}", listed(undosed),
        all_weighed ? "the animals are weighed, and the label's rate is not given. Give it, in mL "
                      "for each kg, or in mg for each kg with the mg in each mL."
                    : "without an animal's weight and the label's rate they cannot be worked "
                      "out. Weigh, and follow the label; if animals cannot be weighed one by "
                      "one, draft them by size, weigh the largest of each draft, and dose that "
                      "draft for its heaviest as far as the label allows (practice)."));
  if (!question.has_control())
    cautions.emplace_back("No untreated control: a fall that the season brings would be taken for "
                          "the drench's. Leave some animals untreated if the veterinarian agrees.");
  if (question.host == "goats" && std::ranges::any_of(question.groups, &PlannedGroup::treated))
    cautions.emplace_back(
        "Goats clear a drench faster than sheep do, and a label's dose made for sheep may be too "
        "small "
        "for them (from memory): ask the veterinarian what is right for goats before dosing.");
  if (!question.mob.empty() && std::ranges::any_of(question.mob, [](const ListedAnimal& each) {
        return each.epg.has_value();
      }))
    cautions.emplace_back(
        "The earlier counts serve to make groups alike, and are not the first sample: animals "
        "picked for a high count come out lower the next time even untreated.");
  if (question.has_control())
    cautions.emplace_back(
        "Look after the control: treat at once any animal of it that falls ill, write that down, "
        "and treat the whole control after the last second sample, not before, as the "
        "veterinarian advises.");
  return cautions;
}

} // namespace eggfall
