#include "judgement/caveats.hpp"

#include "base/number_words.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/field_caveats.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/larvae_caveats.hpp"
#include "judgement/larvae_words.hpp"
#include "judgement/own_fall.hpp"
#include "judgement/sample_words.hpp"
#include "judgement/worm_analysis.hpp"
#include "statistics/egg_totals.hpp"
#include "trial/egg_kinds.hpp"
#include "trial/repeat_counts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

/// Looks at one group's result from each side in turn, and keeps what it finds.
class CaveatFinder {
public:
  CaveatFinder(const GroupEvidence& evidence, const Judgement& judgement,
               const CaveatContext& context)
      : evidence_(evidence), judgement_(judgement), context_(context),
        bounds_(field_practice().caveats) {}

  std::vector<Caveat> find(const FieldCheck& field) {
    if (!evidence_.reduction)
      cannot_estimate();
    else {
      few_animals();
      pools();
      repeats_disagree();
      few_eggs_counted();
      low_mean_before();
      mean_implausible();
      none_after();
      no_interval();
      optimistic_interval();
      animals_differ();
      prior_matters();
      one_animal();
      point_and_interval();
      detection_limit();
      zero_before();
      season_unseen(field);
      control_changed();
      counts_rose(field);
      factors_differ();
    }
    worms();
    larvae_without_eggs();
    larvae_left_out();
    for (Caveat& caveat : culture_caveats(
             evidence_.group, context_.control == nullptr ? nullptr : &context_.control->group,
             judgement_.worms))
      caveats_.push_back(std::move(caveat));
    for (Caveat& caveat : field_caveats(field, evidence_, judgement_, context_))
      caveats_.push_back(std::move(caveat));
    dropped();
    several_groups();
    return sorted();
  }

  /// The caveats that depend on the counts alone, which are looked for in each kind of egg told
  /// apart on the slide too. All others concern the animals and the days, and are told once for the
  /// whole group.
  std::vector<Caveat> find_of_counts() {
    if (!evidence_.reduction)
      cannot_estimate();
    else {
      few_eggs_counted();
      none_after();
      no_interval();
      animals_differ();
      one_animal();
      detection_limit();
    }
    return sorted();
  }

private:
  std::vector<Caveat> sorted() {
    std::ranges::stable_sort(caveats_, {}, &Caveat::severity);
    return std::move(caveats_);
  }

  void add(Severity severity, CaveatCode code, std::string text) {
    caveats_.push_back({code, std::move(text), severity});
  }

  const SampleSummary& compared_with() const { return eggfall::compared_with(evidence_); }
  std::string_view where_compared() const { return eggfall::where_compared(*evidence_.design); }

  void cannot_estimate() {
    std::string why = samples_missing();
    if (evidence_.design)
      why = fmt::format("no egg was counted {}", where_compared());
    else if (context_.wanted)
      why = fmt::format("the {} design that was asked for lacks {}", to_string(*context_.wanted),
                        *context_.wanted == Design::paired
                            ? "animals sampled both before and after"
                            : "a control group, or animals with the samples it needs");
    add(Severity::serious, CaveatCode::no_estimate,
        fmt::format("The fall cannot be worked out: {}.", why));
  }

  /// Why no design could be had.
  std::string samples_missing() const {
    const auto sampled = [&](std::optional<Count> AnimalResult::*when) {
      return std::ranges::any_of(evidence_.animal_results, [&](const AnimalResult& animal) {
        return (animal.*when).has_value();
      });
    };
    if (!sampled(&AnimalResult::after))
      return "no animal of the group was sampled after treatment";
    const std::string_view control = context_.control == nullptr
                                         ? "there is no control group"
                                         : "the control group has not the samples to stand in";
    return fmt::format("no animal of the group was sampled {}, and {}",
                       sampled(&AnimalResult::before) ? "both before and after treatment"
                                                      : "before treatment",
                       control);
  }

  void few_animals() {
    few_animals(evidence_.after, "");
    if (evidence_.control)
      few_animals(*evidence_.control, " in the control group");
  }

  /// Two numbers are checked, which differ where samples are pools: guidelines ask for so many
  /// animals, but how much one odd sample can do depends on the number of samples.
  void few_animals(const SampleSummary& sample, std::string_view where) {
    const std::uint64_t count = sample.animals_mixed;
    const auto animals = static_cast<double>(count);
    bool told = false;
    for (const Criteria& criteria : context_.cut_offs.criteria)
      for (const Minimum* minimum : minima_for(criteria, evidence_.group)) {
        if (minimum->animals && animals < *minimum->animals) {
          add(Severity::serious, CaveatCode::few_animals,
              fmt::format("Only {} animal{}{}; {} asks for at least {:g}{}.", count, plural(count),
                          where, criteria.title, *minimum->animals,
                          minimum->better_animals
                              ? fmt::format(", and better {:g}", *minimum->better_animals)
                              : ""));
          told = true;
        } else if (minimum->better_animals && animals < *minimum->better_animals) {
          add(Severity::note, CaveatCode::few_animals,
              fmt::format("{} animals{}; {} calls {:g} better.", count, where, criteria.title,
                          *minimum->better_animals));
        }
      }
    if (!told && sample.animals < field_practice().fewest_animals)
      add(Severity::serious, CaveatCode::few_animals,
          fmt::format("Only {0} {1}{2}{3}: one odd {1} can decide the result.", sample.animals,
                      sampled_unit(sample), plural(sample.animals), where));
  }

  void pools() {
    if (!is_pooled(evidence_.after) && !is_pooled(evidence_.before))
      return;
    const SampleSummary& sample = is_pooled(evidence_.after) ? evidence_.after : evidence_.before;
    double coarsest = 0;
    for (const AnimalResult& pool : evidence_.animal_results)
      for (const std::optional<Count>* count : {&pool.before, &pool.after})
        if (*count)
          coarsest = std::max(coarsest, (*count)->factor.value());
    const Severity severity = coarsest >= bounds_.coarse_for_pools ? Severity::serious
                              : coarsest > bounds_.fine_for_pools  ? Severity::warning
                                                                   : Severity::note;
    add(severity, CaveatCode::pooled,
        fmt::format(
            "The samples are of {}. One animal that was missed or "
            "underdosed cannot be seen in a pool, and how far animals differ is not known. In a "
            "study of five flocks pools agreed with single counts where one egg stood for 10 to "
            "15 EPG, and misled at 50; here it stands for {:g}{}.",
            sampled_in_words(sample), coarsest,
            severity == Severity::note ? "" : ": count more of each pool"));
  }

  /// Fisher's index of dispersion of repeat counts about the mean of their sample.
  void repeats_disagree() {
    double chi_squared = 0;
    double degrees_of_freedom = 0;
    for (const Animal& animal : evidence_.group.animals)
      for (const std::vector<Count>* repeats : {&animal.repeats_before, &animal.repeats_after}) {
        const RepeatDispersion of_sample = repeat_dispersion(*repeats);
        chi_squared += of_sample.chi_squared;
        degrees_of_freedom += of_sample.degrees_of_freedom;
      }
    if (degrees_of_freedom == 0)
      return;
    const double p = dispersion_p_value({chi_squared, degrees_of_freedom});
    if (p < bounds_.repeats_disagree)
      add(Severity::warning, CaveatCode::repeats_disagree,
          fmt::format("Counts of one sample differ more than the luck of counting allows (by "
                      "{:.1f} times as much as they should): mix the suspension well before each "
                      "filling, and count eggs alike in every chamber.",
                      chi_squared / degrees_of_freedom));
  }

  static bool of_unequal_pools(const SampleSummary& sample) {
    return sample.largest * sample.animals != sample.animals_mixed;
  }

  /// The lowest fall that is still possible where no egg is found after treatment, by the one-sided
  /// exact test of highest_ratio_if_none(); nothing if the eggs cannot be added up.
  std::optional<double> lowest_fall_if_none() const {
    const SampleSummary& with = compared_with();
    if (evidence_.design == Design::controlled || !with.factor || !evidence_.after.factor ||
        with.eggs == 0 || of_unequal_pools(with) || of_unequal_pools(evidence_.after))
      return std::nullopt;
    const double exposure_ratio =
        (static_cast<double>(with.animals) / with.factor->value()) /
        (static_cast<double>(evidence_.after.animals) / evidence_.after.factor->value());
    return 1 - highest_ratio_if_none(with.eggs, exposure_ratio, one_sided);
  }

  void few_eggs_counted() {
    const SampleSummary& with = compared_with();
    for (const Minimum* minimum : minima_for(context_.criteria, evidence_.group)) {
      const double mean_eggs = static_cast<double>(with.eggs) / static_cast<double>(with.animals);
      if (minimum->eggs_counted_per_animal && mean_eggs < *minimum->eggs_counted_per_animal)
        add(Severity::serious, CaveatCode::few_eggs_counted,
            fmt::format("On average {} eggs an animal were counted {}; {:g} are asked for ({}).",
                        number(mean_eggs), where_compared(), *minimum->eggs_counted_per_animal,
                        minimum->citation.source));
    }
    const auto& best = judgement_.best_lower;
    const auto& lower = judgement_.first_verdict().lower;
    // A drench that failed has shown it by the eggs that were seen; what a good one could have
    // shown is then no more than a note.
    const bool failed = judgement_.first_verdict().verdict_class == VerdictClass::resistant;
    if (best && lower && *best < *lower)
      add(failed ? Severity::note : Severity::serious, CaveatCode::few_eggs_counted,
          fmt::format(
              "Only {} egg{} {} counted {}: {} no more than {}, short of the {:g}% needed to "
              "call a drench good.",
              with.eggs, plural(with.eggs), with.eggs == 1 ? "was" : "were", where_compared(),
              evidence_.after.eggs == 0
                  ? "even with none found after treatment the lower limit is"
                  : "had none been found after treatment, the lower limit would be",
              percent_beside(*best, *lower), 100 * *lower));
  }

  void low_mean_before() {
    const SampleSummary& with = compared_with();
    for (const Criteria& criteria : context_.cut_offs.criteria)
      for (const Minimum* minimum : minima_for(criteria, evidence_.group))
        if (minimum->mean_epg && with.mean_epg && *with.mean_epg < *minimum->mean_epg)
          add(Severity::warning, CaveatCode::low_mean_before,
              fmt::format("The mean count {} was {} EPG; {} asks for at least {:g}.",
                          where_compared(), number(*with.mean_epg), criteria.title,
                          *minimum->mean_epg));
  }

  /// EPG typed as eggs need not have a common divisor by which doubt_units() finds them, but they
  /// still make the mean higher than such a host ever has.
  void mean_implausible() {
    const std::string& host = evidence_.group.host;
    const double highest = host == "cattle" || host == "horses"
                               ? bounds_.highest_mean_epg_of_large_hosts
                               : bounds_.highest_mean_epg;
    const SampleSummary& with = compared_with();
    if (!with.mean_epg || *with.mean_epg <= highest)
      return;
    add(Severity::serious, CaveatCode::mean_implausible,
        fmt::format("The mean count {} was {:.0f} EPG; a group{} hardly ever goes beyond {:.0f} "
                    "(from memory). Check the factor, and that EPG were not typed as eggs: then "
                    "far fewer eggs were seen than is said here.",
                    where_compared(), *with.mean_epg, host.empty() ? "" : " of " + host, highest));
  }

  void none_after() {
    if (evidence_.after.eggs > 0)
      return;
    const auto best = lowest_fall_if_none();
    const Verdict& verdict = judgement_.first_verdict();
    // A class that counting luck alone could give a drench too weak for it must not pass lightly.
    const bool hides_failure = verdict.verdict_class == VerdictClass::susceptible && best &&
                               verdict.lower && *best < *verdict.lower;
    add(hides_failure ? Severity::serious : Severity::warning, CaveatCode::none_after,
        best ? fmt::format("No egg{} was found after treatment, which does not prove 100%: with "
                           "{} egg{} counted {}, {} would still show none one time in twenty, by "
                           "luck of counting alone.",
                           apart(), compared_with().eggs, plural(compared_with().eggs),
                           where_compared(),
                           *best > 0 ? "a true fall as low as " + percent(*best) : "no fall at all")
             : fmt::format("No egg{} was found after treatment, which does not prove 100%.",
                           apart()));
  }

  void no_interval() {
    // The reason is the method's own, and stands beside it in the tables of intervals.
    if (!evidence_.headline.usable())
      add(Severity::serious, CaveatCode::no_interval,
          "How far luck alone may have moved the fall cannot be worked out from these counts: "
          "there "
          "is no interval.");
  }

  void optimistic_interval() {
    if (!evidence_.headline.usable() || evidence_.headline.method == Method::guarded_posterior)
      return;
    const std::size_t positive = evidence_.after.animals - evidence_.after.animals_without_eggs;
    if (positive < bounds_.few_positive)
      add(Severity::serious, CaveatCode::interval_optimistic,
          fmt::format("Only {} animal{} had eggs after treatment; an interval from so few is "
                      "likely too narrow.",
                      positive, plural(positive)));
  }

  void prior_matters() {
    const bool twice_sampled = pairs_animals(*evidence_.design);
    std::string others;
    for (const PriorSensitivity& other : judgement_.sensitivity)
      if (other.verdict_class != judgement_.first_verdict().verdict_class)
        others += fmt::format(
            "{}at {} the usual allowance it would be {} ({} to {})", others.empty() ? "" : "; ",
            other.scale < 1 ? "half" : "twice", to_string(other.verdict_class),
            percent_or_missing(other.interval.lower), percent_or_missing(other.interval.upper));
    if (!others.empty())
      add(Severity::warning, CaveatCode::prior_matters,
          fmt::format("The verdict hangs on how far {} are thought to differ by themselves: {}.",
                      twice_sampled ? "two counts of one animal" : "animals of one group", others));
  }

  void animals_differ() {
    if (evidence_.disagreement.fall_outside_posterior)
      add(Severity::serious, CaveatCode::animals_differ,
          "Most animals fell alike and a few did not: more so than luck explains. The range and "
          "the chances allow for that. Look at those animals first: undosed, underdosed, or "
          "carrying other worms?");
  }

  void one_animal() {
    if (evidence_.after.eggs < bounds_.dominant_eggs)
      return;
    const AnimalResult* worst = nullptr;
    // This is about the group's mean, on which the eggs of a large pool weigh the more.
    std::vector<double> eggs;
    for (const AnimalResult& animal : evidence_.animal_results) {
      if (!animal.after || is_dropped(animal.animal))
        continue;
      eggs.push_back(animal.after->epg_of_all());
      if (worst == nullptr || eggs.back() > worst->after->epg_of_all())
        worst = &animal;
    }
    // The eggs are added in one order, so that the sum's last digit does not depend on the order of
    // the table's rows. `rounding` keeps exactly half from counting as more than half.
    std::ranges::sort(eggs);
    const double total = std::accumulate(eggs.begin(), eggs.end(), 0.0);
    constexpr double rounding = 1e-12;
    if (worst == nullptr ||
        worst->after->epg_of_all() <= (bounds_.dominant_share + rounding) * total)
      return;
    const bool pool = worst->after->animals > 1;
    add(Severity::warning, CaveatCode::one_animal,
        fmt::format("{} {} alone carried {:.0f}% of the eggs after treatment; check that {} "
                    "weighed and dosed properly before blaming the drench.",
                    pool ? "Pool" : "Animal", worst->animal,
                    100 * worst->after->epg_of_all() / total,
                    pool ? "its animals were" : "it was"));
  }

  bool is_dropped(const std::string& tag) const {
    return std::ranges::any_of(evidence_.dropped, [&](const DroppedAnimal& animal) {
      return animal.role == Role::treated && animal.animal == tag;
    });
  }

  void worms() {
    const VerdictClass of_all = judgement_.first_verdict().verdict_class;
    for (const WormAnalysis& worm : judgement_.worms)
      if (survives(worm) && of_all != VerdictClass::resistant)
        add(Severity::serious, CaveatCode::worm_survives, survivor_text(worm));
      else if (may_survive(worm) && of_all == VerdictClass::susceptible)
        add(Severity::serious, CaveatCode::worm_in_doubt, doubtful_text(worm));
    if (of_all == VerdictClass::susceptible && worms_untold(evidence_.group, judgement_.worms))
      add(Severity::note, CaveatCode::worms_not_told_apart,
          fmt::format(
              "{}: one that survives can hide among others that die. Of 42 mixed infections "
              "that such a test called susceptible, 15 held one (McKenna 1997). A larval "
              "culture before and after treatment shows it.",
              judgement_.worms.empty() ? "No worms were told apart"
                                       : "No worm was told apart both before and after treatment"));
  }

  /// " (nematodirus apart)": of eggs counted apart, which the group's own counts do not hold.
  std::string apart() const {
    const auto kinds = kinds_told_apart(evidence_.group);
    return kinds.empty() ? "" : fmt::format(" ({} apart)", listed(kinds));
  }

  /// Tells that larvae hatched after treatment although no egg was counted, which shows that eggs
  /// were there.
  void larvae_without_eggs() {
    const Culture& after = evidence_.group.culture_after;
    double larvae = total_larvae(after);
    for (const std::string& kind : kinds_told_apart(evidence_.group))
      larvae -= larvae_of(after, kind);
    if (evidence_.after.animals == 0 || evidence_.after.eggs > 0 || !(larvae > 0))
      return;
    add(Severity::serious, CaveatCode::larvae_without_eggs,
        fmt::format("No egg was counted after treatment, yet {}larva{} hatched from those faeces: "
                    "eggs were there, too few for this count to see. The true fall is less than "
                    "100%.",
                    after.percentages ? "" : fmt::format("{} ", larvae), larvae == 1 ? "" : "e"));
  }

  void larvae_left_out() {
    std::vector<const Culture*> cultures{&evidence_.group.culture_before,
                                         &evidence_.group.culture_after};
    if (context_.control != nullptr) {
      cultures.push_back(&context_.control->group.culture_before);
      cultures.push_back(&context_.control->group.culture_after);
    }
    std::vector<std::string> worms;
    for (const std::string& kind : kinds_told_apart(evidence_.group))
      if (std::ranges::any_of(
              cultures, [&](const Culture* culture) { return larvae_of(*culture, kind) > 0; }))
        worms.push_back(kind);
    if (!worms.empty())
      add(Severity::warning, CaveatCode::larvae_left_out,
          fmt::format("Larvae of {} are left out of the cultures, since the eggs were counted "
                      "apart: those counts judge {}.",
                      listed(worms), worms.size() == 1 ? "it" : "them"));
  }

  /// That a worm may survive, in words. The last sentence says what would settle it; where a bar
  /// took the worm's class away, it tells the bar instead.
  std::string doubtful_text(const WormAnalysis& worm) const {
    const std::string fall =
        worm.evidence.headline.has_one_limit()
            ? fmt::format("all that is known of its own fall is that it is {}",
                          limit_in_words(worm.evidence.headline))
        : !worm.evidence.reduction ? "its own fall cannot be worked out"
        : worm.evidence.headline.usable()
            ? fmt::format("its own fall is {}, but anything from {} to {} may be true",
                          percent(*worm.evidence.reduction), percent(*worm.evidence.headline.lower),
                          percent_of_limit(*worm.evidence.headline.upper))
            : fmt::format("its own fall is {}, and there is no interval",
                          percent(*worm.evidence.reduction));
    return fmt::format(
        "{} may survive, though {} fall far enough: {}. {}", worm.worm,
        judged_together(evidence_.group, {worm.worm}), fall,
        is_barred(worm.judgement.standing)       ? worm.judgement.standing.bars.front().plain
        : worm.evidence.headline.has_one_limit() ? "Have faeces cultured on each occasion."
        : worm.source == WormSource::larval_culture
            ? "Have more larvae told apart in both cultures."
            : "Count more of each sample.");
  }

  static std::string larvae_found(const WormShare& before, std::string_view where,
                                  const WormShare& after) {
    return before.total > 0
               ? fmt::format("{} were of this worm {}, and {} after treatment",
                             larvae_in_words(before), where, larvae_in_short(after))
               : fmt::format("{} were of this worm after treatment, and none were told apart {}",
                             larvae_in_words(after), where);
  }

  std::string survivor_text(const WormAnalysis& worm) const {
    const std::string_view where =
        worm.evidence.larvae ? reference_places(design_of(worm), *worm.evidence.larvae).front()
                             : eggfall::where_compared(design_of(worm));
    const WormFound before = found_before(worm);
    const WormFound after = found_after(worm);
    const std::string found =
        worm.source == WormSource::larval_culture
            ? larvae_found(*before.larvae, where, *after.larvae)
            : fmt::format("{} of its eggs were seen {}, and {} after treatment", *before.eggs,
                          where, *after.eggs);
    const std::string start =
        fmt::format("{} survives this drench, whatever the counts of {} say: {}; ", worm.worm,
                    judged_together(evidence_.group, {worm.worm}), found);
    if (worm.evidence.headline.has_one_limit())
      return fmt::format("{}were all eggs {} its, its own fall would still be {} ({:g}% interval).",
                         start, where, limit_in_words(worm.evidence.headline),
                         100 * worm.evidence.headline.level);
    return fmt::format("{}its own fall is {}{}.", start, percent(*worm.evidence.reduction),
                       worm.evidence.headline.usable()
                           ? fmt::format(" ({:g}% interval {} to {})",
                                         100 * worm.evidence.headline.level,
                                         percent(*worm.evidence.headline.lower),
                                         percent_of_limit(*worm.evidence.headline.upper))
                           : "");
  }

  void point_and_interval() {
    const Verdict& verdict = judgement_.first_verdict();
    if (verdict.verdict_class != VerdictClass::inconclusive || !verdict.lower)
      return;
    const double fall = *verdict.reduction;
    const double lower = *verdict.lower;
    if (fall >= lower)
      add(Severity::warning, CaveatCode::point_and_interval,
          fmt::format(
              "The fall itself, {}, is above the lower threshold of {:g}%, but the interval "
              "reaches down to {}: this trial cannot rule out a poor drench.",
              percent_beside(fall, lower), 100 * lower,
              percent_beside(*verdict.interval->lower, lower)));
    else
      add(Severity::warning, CaveatCode::point_and_interval,
          fmt::format(
              "The fall itself, {}, is below the lower threshold of {:g}%, but the interval "
              "reaches up to {}: this trial cannot rule out a good drench.",
              percent_beside(fall, lower), 100 * lower,
              percent_of_limit_beside(*verdict.interval->upper, *verdict.expected)));
  }

  void detection_limit() {
    if (!evidence_.after.factor || !compared_with().mean_epg ||
        evidence_.design == Design::controlled)
      return;
    const double factor = evidence_.after.factor->value();
    const SampleSummary& after = evidence_.after;
    const double one_egg = 1 - factor * after.largest / static_cast<double>(after.animals_mixed) /
                                   *compared_with().mean_epg;
    const std::string where = of_unequal_pools(after) ? "the largest pool" : "the whole group";
    const auto& expected = judgement_.first_verdict().expected;
    const bool coarse = expected && one_egg < *expected && !failed_beyond_one_egg();
    if (coarse)
      add(Severity::serious, CaveatCode::detection_limit,
          fmt::format("The count is too coarse: one egg seen after treatment stands for {:g} EPG, "
                      "and a single one in {} would make the fall {}, below the expected "
                      "{:g}%.",
                      factor, where, percent_beside(one_egg, *expected), 100 * *expected));
    else
      add(Severity::note, CaveatCode::detection_limit,
          fmt::format("One egg seen after treatment stands for {:g} EPG; a single one in {} makes "
                      "the fall {}, so a fall above that cannot be told from 100%.",
                      factor, where, percent(one_egg)));
  }

  /// Whether the drench fails by so many eggs that a single one more or less would change nothing.
  bool failed_beyond_one_egg() const {
    return judgement_.first_verdict().verdict_class == VerdictClass::resistant &&
           evidence_.after.eggs >= bounds_.many_eggs_after;
  }

  void zero_before() {
    if (!pairs_animals(*evidence_.design))
      return;
    std::vector<std::string> tags;
    for (const AnimalResult& animal : evidence_.animal_results)
      if (!is_dropped(animal.animal) && animal.before && animal.before->eggs.value() == 0)
        tags.push_back(animal.animal);
    if (!tags.empty())
      add(Severity::note, CaveatCode::zero_before,
          fmt::format("{} of {} {}{} had no egg before treatment and so cannot show a fall: {}.",
                      tags.size(), evidence_.animals, sampled_unit(evidence_.before),
                      plural(evidence_.animals), listed(tags)));
  }

  void season_unseen(const FieldCheck& field) {
    if (evidence_.design != Design::paired || shares_season(context_.control, field))
      return;
    const bool untreated = context_.control != nullptr;
    add(Severity::warning, CaveatCode::season_unseen,
        fmt::format("{}: had the season alone made the counts fall, or rise, it would be taken "
                    "for the drench's doing, and nothing here would show it. Next time leave ten "
                    "fit animals untreated, and sample them on the same days.",
                    untreated ? "The untreated animals were not sampled twice on these days, or "
                                "had no eggs"
                              : "No animal was left untreated"));
  }

  void control_changed() {
    // Where no egg was seen after treatment the fall is 100% whatever the control did; and where
    // the season is taken out, the control's change is told beside the fall.
    if (context_.control == nullptr || !context_.control->reduction ||
        evidence_.design != Design::paired || evidence_.after.eggs == 0 || judgement_.own_fall)
      return;
    const double change = *context_.control->reduction;
    if (std::abs(change) < bounds_.control_change)
      return;
    add(Severity::warning, CaveatCode::control_changed,
        fmt::format("Untreated, the control group's counts {} by {}, though not on these days.",
                    change > 0 ? "fell" : "rose", percent(std::abs(change))));
  }

  /// A rise that is too small for a bar (UnitDoubt) may be swapped columns all the same.
  void counts_rose(const FieldCheck& field) {
    const auto& before = evidence_.before.mean_epg;
    const auto& after = evidence_.after.mean_epg;
    if (!pairs_animals(*evidence_.design) || field.units || !before || !after || *before <= 0 ||
        evidence_.after.eggs < bounds_.eggs_of_rise)
      return;
    const double rise = *after / *before - 1;
    const bool untreated_rose = context_.control != nullptr && context_.control->reduction &&
                                -*context_.control->reduction >= rise / 2;
    if (rise <= bounds_.rise || untreated_rose)
      return;
    add(Severity::serious, CaveatCode::counts_rose,
        fmt::format("Counts rose by {:.0f}% after treatment{}: check first that before and after "
                    "are not swapped, in the table or at the bench.",
                    100 * rise,
                    context_.control != nullptr && context_.control->reduction
                        ? ", and those of untreated animals did not"
                        : ""));
  }

  void factors_differ() {
    const auto& before = compared_with().factor;
    const auto& after = evidence_.after.factor;
    if (before && after && *before != *after)
      add(Severity::note, CaveatCode::factors_differ,
          fmt::format("One egg stands for {:g} EPG {} and {:g} after; the results allow for it.",
                      before->value(), where_compared(), after->value()));
    else if (!before || !after)
      add(Severity::note, CaveatCode::factors_differ,
          "Not all animals were counted with the same factor; the results allow for it.");
  }

  void dropped() {
    if (evidence_.dropped.empty())
      return;
    std::vector<std::string> tags;
    for (const DroppedAnimal& animal : evidence_.dropped)
      tags.push_back(animal.animal + " (" + animal.reason + ")");
    const bool many = 3 * evidence_.dropped.size() > evidence_.group.animals.size();
    add(many ? Severity::warning : Severity::note, CaveatCode::dropped,
        fmt::format("Left out of this comparison: {}.", listed(tags)));
  }

  void several_groups() {
    if (context_.treated_groups < 2 || context_.criteria.rule == Rule::reduction_alone)
      return;
    const double all_right =
        std::pow(context_.criteria.level, static_cast<double>(context_.treated_groups));
    add(Severity::note, CaveatCode::several_groups,
        fmt::format("{} groups are judged at once; with {:g}% intervals the chance that at least "
                    "one misses its truth is about {:.0f}%, if each is right that often.",
                    context_.treated_groups, 100 * context_.criteria.level, 100 * (1 - all_right)));
  }

  static constexpr double one_sided = 0.95;

  const GroupEvidence& evidence_;
  const Judgement& judgement_;
  const CaveatContext& context_;
  const CaveatBounds& bounds_;
  std::vector<Caveat> caveats_;
};

} // namespace

std::vector<Caveat> find_caveats(const GroupEvidence& evidence, const FieldCheck& field,
                                 const Judgement& judgement, const CaveatContext& context) {
  return CaveatFinder(evidence, judgement, context).find(field);
}

std::vector<Caveat> find_caveats(const WormAnalysis& worm, const GroupEvidence& of_group,
                                 const CaveatContext& context) {
  if (worm.source == WormSource::larval_culture)
    return larvae_caveats(worm, of_group);
  return CaveatFinder(worm.evidence, worm.judgement, context).find_of_counts();
}

} // namespace eggfall
