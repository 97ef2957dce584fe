#include "judgement/field_caveats.hpp"

#include "base/date.hpp"
#include "base/number_words.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/provenance_words.hpp"
#include "judgement/unit_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// "2031-05-12", or "2031-05-12 to 2031-05-14"
std::string dates_text(const DateRange& range) {
  return range.first == range.last
             ? iso_date(range.first)
             : fmt::format("{} to {}", iso_date(range.first), iso_date(range.last));
}

/// "8 to 10 days are usual for BZ (...)"
std::string usual_text(const UsualDays& usual) {
  const std::string classes = to_string(usual.classes);
  const std::string from = provenance_text(usual.citation);
  if (usual.no_day_in_common)
    return fmt::format("day {} is usual for {}, whose own days do not meet ({})", usual.first_day,
                       classes, from);
  return fmt::format("{} to {} days are usual{}{} ({})", usual.first_day, usual.last_day,
                     classes.empty() ? "" : " for ", classes, from);
}

class FieldCaveats {
public:
  FieldCaveats(const FieldCheck& field, const GroupEvidence& evidence, const Judgement& judgement,
               const CaveatContext& context)
      : field_(field), evidence_(evidence), judgement_(judgement), context_(context),
        doses_(field.doses), days_(field.days) {}

  std::vector<Caveat> find() {
    underdosed();
    days_missing();
    sampling_day();
    sampled_apart();
    long_before();
    overdosed();
    control_on_other_days();
    treated_apart();
    units_confirmed();
    doses_not_checked();
    missing();
    return std::move(caveats_);
  }

private:
  void add(Severity severity, CaveatCode code, std::string text) {
    caveats_.push_back({code, std::move(text), severity});
  }

  void days_missing() {
    if (days_.undated > 0)
      add(Severity::note, CaveatCode::days_missing,
          fmt::format("The days between treatment and second sample are not known{}; a sample too "
                      "early or too late can mislead.",
                      days_.first_day
                          ? fmt::format(" for {} animal{}", days_.undated, plural(days_.undated))
                          : ""));
  }

  void sampling_day() {
    if (days_.early > 0)
      add(Severity::warning, CaveatCode::sampled_early,
          fmt::format("{} taken as early as day {}, when a drench may only have stopped the worms "
                      "laying; {}.",
                      samples_of(days_.early), *days_.first_day, usual_text(days_.usual)));
    if (days_.late > 0)
      add(Severity::warning, CaveatCode::sampled_late,
          fmt::format("{} taken as late as day {}, {}; {}.", samples_of(days_.late),
                      *days_.last_day,
                      *days_.last_day > field_practice().last_day
                          ? "when newly picked-up worms may lay again"
                          : fmt::format("too soon for newly picked-up worms to lay (practice, up "
                                        "to day {}), so that the day explains no poor fall",
                                        field_practice().last_day),
                      usual_text(days_.usual)));
  }

  /// "The second sample was", with the animals if not all were sampled then.
  std::string samples_of(std::size_t animals) const {
    const auto dated = static_cast<std::size_t>(std::ranges::count_if(
        days_.animals, [](const AnimalDays& animal) { return animal.after.has_value(); }));
    return animals == dated
               ? "The second sample was"
               : fmt::format("The second samples of {} of {} animals were", animals, dated);
  }

  void sampled_apart() {
    const int by_day = days_.first_day ? *days_.last_day - *days_.first_day : 0;
    const int by_date = days_.second_samples ? length_days(*days_.second_samples) : 0;
    if (by_day > field_practice().caveats.days_apart)
      add(Severity::warning, CaveatCode::days_apart,
          fmt::format("The second samples of this group were taken {} to {} days after treatment: "
                      "animals sampled so far apart cannot be compared.",
                      *days_.first_day, *days_.last_day));
    else if (by_date > field_practice().caveats.days_apart)
      add(Severity::note, CaveatCode::days_apart,
          fmt::format("The second samples of this group were taken on days as far apart as {}: "
                      "weather and grazing may have differed.",
                      dates_text(*days_.second_samples)));
  }

  void long_before() {
    if (days_.longest_before && *days_.longest_before > field_practice().caveats.longest_before)
      add(*days_.longest_before > field_practice().caveats.too_long_before ? Severity::serious
                                                                           : Severity::warning,
          CaveatCode::sampled_long_before,
          fmt::format("The first sample was taken up to {} days before treatment, long enough for "
                      "counts to change by themselves.",
                      *days_.longest_before));
  }

  void control_on_other_days() {
    if (!field_.control)
      return;
    const DayCheck& control = context_.control->days;
    const bool controlled = evidence_.design == Design::controlled;
    other_days("first", field_.control->first_samples, days_.first_samples, control.first_samples,
               controlled);
    other_days("second", field_.control->second_samples, days_.second_samples,
               control.second_samples, controlled || evidence_.design == Design::two_group);
  }

  /// `compared`: the design shown sets these two samples against each other.
  void other_days(std::string_view which, std::optional<int> apart,
                  const std::optional<DateRange>& treated, const std::optional<DateRange>& control,
                  bool compared) {
    if (!apart || *apart == 0)
      return;
    const bool far = *apart > field_practice().caveats.days_apart;
    add(far && compared ? Severity::warning : Severity::note, CaveatCode::control_days,
        fmt::format("The control's {} samples were not taken on the same days as this group's ({} "
                    "against {}){}.",
                    which, dates_text(*control), dates_text(*treated),
                    far ? fmt::format(": in up to {} days the season or the weather alone can "
                                      "change counts, so the control says little of this group",
                                      *apart)
                        : ""));
  }

  /// Somebody confirmed numbers that look wrong: EPG typed as eggs, or swapped samples. That is
  /// told, so that whoever reads the result can doubt it.
  void units_confirmed() {
    if (!field_.units || !context_.units_confirmed)
      return;
    const UnitDoubt& doubt = *field_.units;
    add(Severity::serious, CaveatCode::units_confirmed,
        doubt.kind == UnitDoubt::Kind::epg_as_eggs
            ? fmt::format(
                  "The counts look like eggs per gram (all {} different ones above zero are "
                  "multiples of {}), but were said to be eggs seen. If they are eggs per "
                  "gram after all, they prove far less than is said here.",
                  doubt.counts, divisor_text(doubt))
            : fmt::format("There were {:.0f} times as many eggs after treatment as before, but the "
                          "two samples were said not to be swapped. If they are swapped after all, "
                          "nothing said here holds.",
                          *doubt.rise));
  }

  void treated_apart() {
    const auto& first = context_.first_treated;
    if (!first || !days_.treatments || first->group == evidence_.group.name)
      return;
    const int later = length_days({first->date, days_.treatments->first});
    if (later > field_practice().caveats.days_apart)
      add(Severity::note, CaveatCode::treated_apart,
          fmt::format("This group was treated {} days after {} ({} against {}): compare the two "
                      "with care, as weather and new worms may have differed.",
                      later, first->group, iso_date(days_.treatments->first),
                      iso_date(first->date)));
  }

  std::string tag(std::size_t i) const { return doses_.animals[i].animal; }

  std::vector<std::string> tags(const std::vector<std::size_t>& indices) const {
    std::vector<std::string> all;
    for (const std::size_t i : indices)
      all.push_back(tag(i));
    return all;
  }

  /// "507 (78%)"
  std::vector<std::string> with_shares(const std::vector<std::size_t>& indices) const {
    std::vector<std::string> all;
    for (const std::size_t i : indices)
      all.push_back(fmt::format("{} ({:.0f}%)", tag(i), 100 * *doses_.animals[i].share));
    return all;
  }

  void underdosed() {
    if (doses_.under.empty())
      return;
    const std::size_t low = doses_.under.size();
    std::string one_setting;
    const AnimalDose* heaviest = doses_.heaviest ? &doses_.animals[*doses_.heaviest] : nullptr;
    // Practice: one setting for all must do for the heaviest.
    if (doses_.one_dose_ml && heaviest != nullptr && heaviest->needed_ml &&
        *doses_.one_dose_ml < *heaviest->needed_ml)
      one_setting = fmt::format(
          " All got {} mL, but the heaviest weighed, {} ({} kg), needs {} mL: a setting of the gun "
          "must be right for the heaviest it is used on, so draft animals by weight where they "
          "differ.",
          number(*doses_.one_dose_ml), heaviest->animal, number(*heaviest->weight_kg),
          number(*heaviest->needed_ml));
    add(explains_a_poor_fall() ? Severity::serious : Severity::warning, CaveatCode::underdosed,
        fmt::format("{} animal{} got less than the label's dose for the weight: {}.{} A poor fall "
                    "may be the dose's fault{}.",
                    low, plural(low), listed(with_shares(doses_.under)), one_setting,
                    without_underdosed()));
  }

  /// Whether an answer that is open, or a warning, would be another without those that got too
  /// little. (Of a class that finds resistance a bar says so.)
  bool explains_a_poor_fall() const {
    const Verdict& verdict = judgement_.first_verdict();
    const bool open = verdict.verdict_class == VerdictClass::inconclusive ||
                      verdict.verdict_class == VerdictClass::suspected;
    return open && evidence_.design == Design::paired && doses_.reduction_without_under &&
           verdict.expected && *doses_.reduction_without_under >= *verdict.expected;
  }

  /// "; without them the group shows a fall of 93.1%", where that compares with the fall shown.
  std::string without_underdosed() const {
    if (evidence_.design != Design::paired || !doses_.reduction_without_under)
      return {};
    return fmt::format("; without {} the group shows {}", doses_.under.size() == 1 ? "it" : "them",
                       change_text(*doses_.reduction_without_under));
  }

  void overdosed() {
    if (doses_.over.empty())
      return;
    const std::size_t high = doses_.over.size();
    add(Severity::warning, CaveatCode::overdosed,
        fmt::format(
            "{} animal{} got {:g} times the label's dose for the weight or more: {}. That "
            "can harm the animal, the label's withholding period does not allow for it, "
            "and a higher dose can hide early resistance. Ask the veterinarian how long their "
            "meat and milk must be withheld.{}",
            high, plural(high), doses_.bounds.over, listed(with_shares(doses_.over)),
            doses_.one_dose_ml ? " Where weights differ so much, dose the light and the "
                                 "heavy animals as two lots."
                               : ""));
  }

  void doses_not_checked() {
    const bool all_unweighed = !doses_.heaviest;
    const auto& unweighed = doses_.not_weighed;
    if (!unweighed.empty())
      add(Severity::note, CaveatCode::weights_missing,
          all_unweighed
              ? "Doses were read, but no weights (column weight_kg), so doses were not checked."
              : fmt::format("{} animal{} {} dosed but not weighed ({}): the dose check covers only "
                            "those weighed, and a heavier one may be among the others.",
                            unweighed.size(), plural(unweighed.size()),
                            unweighed.size() == 1 ? "was" : "were", listed(tags(unweighed))));
    const auto& undosed = doses_.not_dosed;
    if (!undosed.empty())
      add(Severity::note, CaveatCode::doses_missing,
          !doses_.dosed
              ? "Weights were read, but no doses (column dose_ml), so doses were not checked."
              : fmt::format("No dose was read for {} weighed animal{} ({}): make sure that none of "
                            "the group was left undosed.",
                            undosed.size(), plural(undosed.size()), listed(tags(undosed))));
    const auto& unlabelled = doses_.no_label_rate;
    if (!unlabelled.empty())
      add(Severity::note, CaveatCode::label_rate_missing,
          fmt::format("Weights and doses were read, but not the label's dose rate (column "
                      "label_ml_per_kg, or label_mg_per_kg and mg_per_ml), so {}.",
                      doses_.checked == 0
                          ? "doses were not checked"
                          : fmt::format("the dose of {} animal{} was not checked",
                                        unlabelled.size(), plural(unlabelled.size()))));
  }

  /// How many of the verdict's thresholds `fall` reaches.
  int thresholds_reached(double fall) const {
    const Verdict& verdict = judgement_.first_verdict();
    return (verdict.lower && fall >= *verdict.lower ? 1 : 0) +
           (verdict.expected && fall >= *verdict.expected ? 1 : 0);
  }

  void missing() {
    const auto& missing = field_.missing_after;
    if (!missing)
      return;
    std::string bounds;
    bool matters = false;
    if (missing->fall_if_unchanged) {
      const double worst = *missing->fall_if_unchanged;
      const double best = *missing->fall_if_none;
      matters = thresholds_reached(worst) != thresholds_reached(best);
      bounds =
          fmt::format(" Had their counts not fallen at all, the group would show {}; had they "
                      "had no egg, {}.{}",
                      change_text(worst), change_text(best),
                      matters ? " That could change the class: find out what became of them." : "");
    }
    add(matters ? Severity::warning : Severity::note, CaveatCode::missing_after,
        fmt::format("{} animal{} sampled before treatment {} not sampled after ({}). Dead or sold "
                    "animals may be those with the most worms.{}",
                    missing->animals, plural(missing->animals),
                    missing->animals == 1 ? "was" : "were", listed(missing->tags), bounds));
  }

  /// "a fall of 88.1%"; a fall just short of a threshold does not look like it.
  std::string change_text(double fall) const {
    if (fall < 0)
      return fmt::format("a rise of {}", percent_beside(-fall, 0));
    const Verdict& verdict = judgement_.first_verdict();
    for (const auto& threshold : {verdict.lower, verdict.expected})
      if (threshold && percent(fall) == percent(*threshold))
        return fmt::format("a fall of {}", percent_beside(fall, *threshold));
    return fmt::format("a fall of {}", percent(fall));
  }

  const FieldCheck& field_;
  const GroupEvidence& evidence_;
  const Judgement& judgement_;
  const CaveatContext& context_;
  const DoseCheck& doses_;
  const DayCheck& days_;
  std::vector<Caveat> caveats_;
};

} // namespace

std::vector<Caveat> field_caveats(const FieldCheck& field, const GroupEvidence& evidence,
                                  const Judgement& judgement, const CaveatContext& context) {
  return FieldCaveats(field, evidence, judgement, context).find();
}

std::string days_in_words(const UsualDays& usual) {
  std::string text = usual.first_day == usual.last_day
                         ? fmt::format("day {}", usual.first_day)
                         : fmt::format("day {} to {}", usual.first_day, usual.last_day);
  if (usual.drug_classes_compared &&
      (common_day() < usual.first_day || common_day() > usual.last_day))
    text += fmt::format(", or day {} where classes are compared", common_day());
  return text;
}

} // namespace eggfall
