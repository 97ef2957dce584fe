#include "judgement/find_bars.hpp"

#include "judgement/field_practice.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/field_caveats.hpp"
#include "judgement/known_drench.hpp"
#include "judgement/larvae_words.hpp"
#include "judgement/unit_check.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

bool is_good(VerdictClass verdict_class) {
  return verdict_class == VerdictClass::susceptible;
}

/// "the counts fell by 79.5%"
std::string fall_words(std::string_view what, double fall) {
  return fmt::format("{} {} by {}", what, fall < 0 ? "rose" : "fell", percent(std::abs(fall)));
}

class BarFinder {
public:
  explicit BarFinder(const BarQuestion& question)
      : of_(question),
        drench_(question.group.classes, question.group.drench + " " + question.group.name),
        judged_(question.own_fall ? question.own_fall->verdict : question.verdict),
        class_(judged_.verdict_class) {}

  std::vector<Bar> find() {
    not_covered();
    units_in_doubt();
    day();
    samples_apart();
    if (!leaves_verdict())
      control();
    if (leaves_verdict()) {
      missing();
      without_first_sample();
      dose();
      goat_dose();
      few_animals();
    }
    few_eggs();
    if (leaves_verdict()) {
      narrow_drench();
      control();
    }
    return std::move(bars_);
  }

private:
  /// Whether the class says that the drench works or that it does not, so that a bar has a class to
  /// take away.
  bool leaves_verdict() const { return is_good(class_) || finds_resistance(class_); }

  void add(Bar bar) { bars_.push_back(std::move(bar)); }

  /// Whether the verdict is by a rule of the user's own, which then covers these worms, whether or
  /// not a published rule does.
  bool by_own_rule() const {
    return class_ != VerdictClass::not_applicable &&
           of_.verdict.citation.provenance == Provenance::user;
  }

  static Provenance provenance_of(WordSource source) {
    return source == WordSource::memory ? Provenance::memory : Provenance::practice;
  }

  void not_covered() {
    if (by_own_rule())
      return;
    const auto host = known_host(of_.group.host);
    if (const auto other = not_a_roundworm(of_.group.worm))
      add({BarCode::not_covered,
           fmt::format("No rule here is for {}. {}", other->called, other->why),
           fmt::format("This was a count of {}, and no rule here is for that.", other->called),
           "Go over the numbers with your veterinarian: what tells of these is another test.",
           provenance_of(other->source)});
    else if (host && !host->has_cut_offs)
      add({BarCode::not_covered,
           fmt::format("No published rule here is for {}. The fall stands for what it is, and no "
                       "class is given.",
                       host->name),
           fmt::format("No rule here is for {}.", host->name),
           "Go over the numbers with your veterinarian; a rule of your own can be given by " +
               Mention{Setting::cut_offs} + ".",
           provenance_of(host->source)});
    else if (const auto drench = drench_.only_of(SubstanceKind::not_for_roundworms))
      add({BarCode::not_covered, std::string(drench->remark),
           fmt::format("{} is not for the worms of this test.",
                       capitalised(std::string(drench->name))),
           "Ask your veterinarian for the test that fits this drench.",
           provenance_of(drench->source)});
  }

  void narrow_drench() {
    const auto drench = drench_.only_of(SubstanceKind::narrow);
    if (!drench || of_.worms_told_apart || !of_.group.worm.empty())
      return;
    add({BarCode::narrow_drench, std::string(drench->remark),
         fmt::format("{} is for some worms only, and which worms these were is not known.",
                     capitalised(std::string(drench->name))),
         "Have larvae cultured from both samples, and judge each worm by itself (" +
             Mention{Setting::larvae} + ").",
         provenance_of(drench->source)});
  }

  void units_in_doubt() {
    if (!of_.field.units || of_.units_confirmed)
      return;
    const UnitDoubt& doubt = *of_.field.units;
    if (doubt.kind == UnitDoubt::Kind::epg_as_eggs)
      add({BarCode::units_in_doubt,
           fmt::format("The {} different counts above zero are all multiples of {}, as eggs "
                       "counted one by one "
                       "hardly ever are (fewer than 1 time in 1,000) and EPG always. Taken for "
                       "eggs, they would prove far more than was seen.",
                       doubt.counts, divisor_text(doubt)),
           fmt::format("The counts look like eggs per gram, not like eggs seen: all are multiples "
                       "of {}.",
                       divisor_text(doubt)),
           fmt::format("Look at the bench sheet. If these are EPG, name the columns epg_before and "
                       "epg_after, with a factor of {} or what the method has{}; if they are eggs, "
                       "say so with ",
                       divisor_text(doubt), factor_if_epg(doubt)) +
               Mention{Setting::units_confirmed} + "."});
    else
      add({BarCode::units_in_doubt,
           fmt::format("After treatment there were {:.0f} times as many eggs as before. No season "
                       "does that in so few days: the columns before and after look swapped.",
                       *doubt.rise),
           fmt::format("There were {:.0f} times as many eggs after the drench as before: the two "
                       "samples look swapped.",
                       *doubt.rise),
           "Look at the bench sheet. If the columns are swapped, change their names; if they are "
           "right, say so with " +
               Mention{Setting::units_confirmed} + "."});
  }

  /// Where the columns are EPG already, the factor that they were divided by is too small.
  std::string factor_if_epg(const UnitDoubt& doubt) const {
    for (const Animal& animal : of_.group.animals)
      if (animal.before)
        return fmt::format(" (if they have these names already, one egg stands for {:g} EPG and "
                           "not for {:g})",
                           animal.before->factor.value() * doubt.divisor,
                           animal.before->factor.value());
    return {};
  }

  /// The days after treatment of those animals that were sampled before day `first` or after day
  /// `last`; empty if these are few enough to be overlooked.
  std::vector<int> wrong_days(int first, int last) const {
    std::vector<int> wrong;
    std::size_t dated = 0;
    for (const AnimalDays& animal : of_.field.days.animals)
      if (animal.after) {
        ++dated;
        if (*animal.after < first || *animal.after > last)
          wrong.push_back(*animal.after);
      }
    if (static_cast<double>(wrong.size()) <=
        practice_.animals_on_wrong_days * static_cast<double>(dated))
      wrong.clear();
    return wrong;
  }

  void day() {
    const int first = drench_.first_day();
    if (const std::vector<int> wrong = wrong_days(first, practice_.last_day); !wrong.empty()) {
      const auto [least, most] = std::ranges::minmax(wrong);
      const bool late = most > practice_.last_day;
      add_day(
          late ? most : least,
          fmt::format("Only from day {} to {} does a fall show what this drench did (practice): "
                      "{}. This was no reduction test.",
                      first, practice_.last_day,
                      late ? "later, newly picked-up worms lay, and a good drench looks poor"
                           : "earlier, a drench may only have stopped the worms laying, and a "
                             "dead one looks good"),
          late ? "too late" : "too early");
      return;
    }
    const bool unknown = drench_.is_unknown();
    if (!is_good(class_) || !drench_.may_be_macrocyclic_lactone())
      return;
    const std::vector<int> wrong =
        wrong_days(practice_.first_day_macrocyclic_lactone, practice_.last_day);
    if (!wrong.empty())
      add_day(std::ranges::min(wrong),
              fmt::format("Before day {} a macrocyclic lactone may only have stopped the worms "
                          "laying (practice), so that a fall proves nothing yet{}.",
                          practice_.first_day_macrocyclic_lactone,
                          unknown ? ", and that this drench is none was not said" : ""),
              unknown ? "too early for some drenches" : "too early");
    if (unknown && !wrong.empty())
      bars_.back().next_step =
          fmt::format("Say which drench it was (its class, such as BZ, LV or ML, or its "
                      "substance): of one that is no macrocyclic lactone the day is right. "
                      "Otherwise test again, with the second sample on day {}.",
                      common_day());
  }

  /// Days from the first to the second sample. Treatment lies between the two, so that they bound
  /// the day of the second where nobody told the day of treatment.
  void samples_apart() {
    if (!leaves_verdict() || std::ranges::find(bars_, BarCode::day, &Bar::code) != bars_.end())
      return;
    const int most = practice_.caveats.too_long_before + practice_.last_day;
    const int least = is_good(class_) ? drench_.first_day_to_be_good() : drench_.first_day();
    std::vector<int> near;
    std::vector<int> far;
    std::size_t dated = 0;
    for (const Animal& animal : of_.group.animals) {
      if (!animal.before || !animal.after || !animal.date_before || !animal.date_after)
        continue;
      ++dated;
      const int apart = length_days({*animal.date_before, *animal.date_after});
      if (apart > most)
        far.push_back(apart);
      else if (apart < least && !animal.date_treated && !animal.days_after && !of_.group.day_after)
        near.push_back(apart);
    }
    const double few = practice_.animals_on_wrong_days * static_cast<double>(dated);
    if (static_cast<double>(near.size()) > few)
      add({BarCode::day,
           fmt::format("The two samples were taken {} days apart, and the drench was given in "
                       "between: the second was no later than that after treatment, when a drench "
                       "may only have stopped the worms laying (practice, from day {} on).",
                       std::ranges::min(near), least),
           fmt::format("The second sample was taken too early, {} days after the first.",
                       std::ranges::min(near)),
           fmt::format("Test again, with the second sample on {} after treatment.",
                       days_in_words(of_.field.days.usual))});
    else if (static_cast<double>(far.size()) > few)
      add({BarCode::day,
           fmt::format("The two samples were taken {} days apart, more than {} before treatment "
                       "and {} after it can be (practice): either the first says nothing of the "
                       "worms that were treated, or the second nothing of the drench.",
                       std::ranges::max(far), practice_.caveats.too_long_before,
                       practice_.last_day),
           fmt::format("The two samples were taken {} days apart, too long for a test.",
                       std::ranges::max(far)),
           fmt::format("Test again, with the first sample just before treatment and the second on "
                       "{} after it.",
                       days_in_words(of_.field.days.usual))});
  }

  void add_day(int day, const std::string& why, std::string_view when) {
    add({BarCode::day,
         fmt::format("The second sample was taken on day {} after treatment. {}", day, why),
         fmt::format("The second sample was taken {}, on day {}.", when, day),
         fmt::format("Test again, with the second sample on {}.",
                     days_in_words(of_.field.days.usual))});
  }

  void control() {
    const bool bounded = judged_.interval && judged_.interval->has_one_limit();
    if (!of_.own_fall || class_ == of_.verdict.verdict_class || (!judged_.reduction && !bounded))
      return;
    const auto& fall = of_.own_fall->control_fall;
    const std::string untreated = fall ? fall_words("the counts of untreated animals", *fall)
                                       : "untreated animals were counted";
    const std::string limits = judged_.interval && judged_.interval->usable()
                                   ? fmt::format(" ({} to {})", percent(*judged_.interval->lower),
                                                 percent_of_limit(*judged_.interval->upper))
                                   : std::string();
    Bar bar{BarCode::control,
            bounded
                ? fmt::format("Meanwhile {}, without a drench. Allowing for the season, as far as "
                              "the untreated tell of it, the drench's own fall is {}, which by the "
                              "same rule is {}.",
                              untreated, limit_in_words(*judged_.interval), to_string(class_))
                : fmt::format("Meanwhile {}, without a drench. {}, but allowing for the season, as "
                              "far as the untreated tell of it, the drench's own fall is {}{}, "
                              "which by the same rule is {}.",
                              untreated, fall_words("The treated ones", *of_.verdict.reduction),
                              percent(*judged_.reduction), limits, to_string(class_)),
            fmt::format("Meanwhile {} without any drench{}", untreated,
                        leaves_verdict() ? ", and that was taken into account."
                                         : ", so the drench's own part is not clear."),
            leaves_verdict()
                ? "Go by the drench's own fall, not by that of the counts."
                : "Test again at a time of year when the counts of untreated animals stay much the "
                  "same, with more untreated animals than this time (ten at least)."};
    bar.own_verdict = class_;
    add(std::move(bar));
  }

  void missing() {
    const std::optional<MissingAfter>& gone = of_.field.missing_after;
    if (!gone || (gone->share_of_animals < practice_.missing_animals &&
                  gone->share_of_eggs < practice_.missing_eggs))
      return;
    const std::optional<double> threshold = lowest_threshold(of_.verdict);
    const bool good_hangs =
        is_good(class_) && gone->fall_if_unchanged && *gone->fall_if_unchanged < *threshold;
    const bool poor_hangs = finds_resistance(class_) && gone->fall_if_none &&
                            *gone->fall_if_none >= *of_.verdict.expected;
    if (!good_hangs && !poor_hangs)
      return;
    const std::string who =
        fmt::format("{} of the animals sampled before ({:.0f} of 100, with {:.0f} of 100 of the "
                    "eggs)",
                    gone->animals, 100 * gone->share_of_animals, 100 * gone->share_of_eggs);
    add({BarCode::missing,
         good_hangs
             ? fmt::format(
                   "{} were not sampled again. Had their counts not changed, the fall would "
                   "be {}.",
                   who, percent(*gone->fall_if_unchanged))
             : fmt::format("{} were not sampled again. Had they had no egg left, the fall would be "
                           "{}.",
                           who, percent(*gone->fall_if_none)),
         fmt::format("{} animal{} {} not found again, and what became of {} decides.",
                     gone->animals, plural(gone->animals), gone->animals == 1 ? "was" : "were",
                     gone->animals == 1 ? "it" : "them"),
         "Find out what became of the missing animals: if any died, call the veterinarian now. "
         "Sample them too, or test again."});
  }

  /// Eggs of animals that have no first sample are in no fall, and may be what the drench left.
  /// They count here as if these animals had had the others' mean before.
  void without_first_sample() {
    const std::optional<double> threshold = lowest_threshold(of_.verdict);
    if (!is_good(class_) || !threshold || !of_.verdict.design ||
        !pairs_animals(*of_.verdict.design))
      return;
    double before = 0;
    double after = 0;
    double compared = 0;
    std::uint64_t unpaired = 0;
    double unpaired_eggs = 0;
    for (const Animal& animal : of_.group.animals)
      if (animal.before && animal.after) {
        before += animal.before->epg_of_all();
        after += animal.after->epg_of_all();
        compared += animal.before->animals;
      } else if (animal.after) {
        unpaired += animal.after->animals;
        unpaired_eggs += animal.after->epg_of_all();
      }
    if (before <= 0 || unpaired_eggs <= 0)
      return;
    const double all = compared + static_cast<double>(unpaired);
    const bool many = static_cast<double>(unpaired) >= practice_.missing_animals * all ||
                      unpaired_eggs >= practice_.missing_eggs * (after + unpaired_eggs);
    const double fall = 1 - (after + unpaired_eggs) / (before * all / compared);
    if (!many || fall >= *threshold)
      return;
    add({BarCode::missing,
         fmt::format(
             "{} animal{} {} sampled after treatment alone, with eggs, and so {} in no fall. "
             "Had the mean count before been that of the others, the fall would be {}.",
             unpaired, plural(unpaired), unpaired == 1 ? "was" : "were",
             unpaired == 1 ? "is" : "are", percent(fall)),
         fmt::format("{} animal{} without a first sample had eggs after the drench, and that "
                     "decides.",
                     unpaired, plural(unpaired)),
         "Find out about these animals (dosed? the right tag? bought in since?), and test again "
         "with two samples of each."});
  }

  void dose() {
    const DoseCheck& doses = of_.field.gross_doses;
    if (is_good(class_) && !doses.over.empty())
      add({BarCode::dose,
           fmt::format("{} animal{} got {:g} times the label's dose for the weight or more, which "
                       "can hide early resistance.",
                       doses.over.size(), plural(doses.over.size()), doses.bounds.over),
           fmt::format("{} animal{} got far too much, which can hide worms that a right dose "
                       "leaves.",
                       doses.over.size(), plural(doses.over.size())),
           "Ask the veterinarian how long meat and milk of these animals must be withheld, and "
           "test again with the label's dose for each weight."});
    if (!finds_resistance(class_) || doses.under.empty())
      return;
    const std::optional<double> threshold = lowest_threshold(of_.verdict);
    const bool explained =
        doses.reduction_without_under && *doses.reduction_without_under >= *threshold;
    if (!explained && doses.dosed_enough >= practice_.fewest_animals)
      return;
    add({BarCode::dose,
         fmt::format(
             "{} animal{} got less than {:.0f}% of the label's dose for the weight; {}.",
             doses.under.size(), plural(doses.under.size()), 100 * doses.bounds.under,
             explained
                 ? fmt::format("those given enough fell by {}, which reaches {:g}%",
                               percent_beside(*doses.reduction_without_under, *threshold),
                               100 * *threshold)
                 : fmt::format("only {} got enough, too few to judge by", doses.dosed_enough)),
         fmt::format("{} animal{} got too little of the drench, which may be the whole reason.",
                     doses.under.size(), plural(doses.under.size())),
         doses.one_dose_ml
             ? "Weigh the animals and give each the label's dose for its own weight (or draft "
               "them by weight, and set the gun for the heaviest of each draft as far as the "
               "label allows), and test again."
             : "Give each animal the label's dose for its weight, and test again."});
  }

  void goat_dose() {
    const DoseCheck& doses = of_.field.doses;
    if (of_.group.host != "goats" || !finds_resistance(class_) || !doses.highest ||
        *doses.animals[*doses.highest].share >= practice_.goat_dose)
      return;
    Bar bar{BarCode::goat_dose,
            "These goats got no more than the label's dose. Most labels are made for sheep, and "
            "goats clear benzimidazoles, levamisole and macrocyclic lactones faster (from memory): "
            "such a dose may fail in goats though the worms are not resistant.",
            "Goats clear a drench faster than sheep: the label's dose may have been too small for "
            "them.",
            "Ask the veterinarian what dose is right for goats, and test again with it; too much "
            "levamisole poisons."};
    bar.provenance = Provenance::memory;
    add(std::move(bar));
  }

  void few_animals() {
    if (of_.animals >= practice_.fewest_animals)
      return;
    add({BarCode::few_animals,
         fmt::format("Only {} animal{} (or pools) could be compared: below {} one odd animal "
                     "decides.",
                     of_.animals, plural(of_.animals), practice_.fewest_animals),
         fmt::format("Only {} animal{} could be compared.", of_.animals, plural(of_.animals)),
         "Test again with ten animals or more, better fifteen."});
  }

  void few_eggs() {
    if (class_ != VerdictClass::inconclusive || !of_.limited_by_luck)
      return;
    add({BarCode::few_eggs,
         "So few eggs were counted that the luck of counting alone could give such a result.",
         "Too few eggs were counted to tell.",
         "Test again with a finer count (a lower factor, or more chambers), or when the animals "
         "carry more."});
  }

  const BarQuestion& of_;
  const KnownDrench drench_;
  const FieldPractice& practice_ = field_practice();
  const Verdict& judged_; ///< The verdict on the drench's own fall where there is one, or else that
                          ///< on the counts.
  VerdictClass class_;
  std::vector<Bar> bars_;
};

} // namespace

std::vector<Bar> find_bars(const BarQuestion& question) {
  return BarFinder(question).find();
}

std::vector<Bar> bars_of_group(const Group& group, const Judgement& judgement,
                               const FieldCheck& field, const std::vector<Evidence>& by_design,
                               const JudgementContext& judging) {
  const Verdict& verdict = judgement.first_verdict();
  return find_bars(
      {.group = group,
       .verdict = verdict,
       .field = field,
       .animals = by_design.empty() ? 0 : by_design.front().comparison().arms.front().above.size(),
       .limited_by_luck =
           limited_by_luck(verdict, evidence_judged_by(judging.criteria(), by_design)),
       .worms_told_apart = !judgement.worms.empty(),
       .units_confirmed = judging.settings.units_confirmed,
       .own_fall = judgement.own_fall});
}

} // namespace eggfall
