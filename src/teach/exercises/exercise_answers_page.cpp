#include "teach/exercises/exercise_answers_page.hpp"

#include "eggfall/base/version.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "formats/drawing/html_page.hpp"
#include "teach/students/line_up_pair.hpp"
#include "teach/students/student_words.hpp"
#include "trial/trial_lookup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view exercise_answers_style = R"css(
tbody th { white-space: nowrap; }
@media print { .exercise { break-inside: avoid; } .exercise table { width: 100%; }
  .exercise td, .exercise th { padding: 0.3mm 1.5mm; } p { margin: 0.5rem 0; }
  .pair figcaption { font-size: 8pt; } .pair svg { max-height: 42mm; } }
)css";

std::string percent_or_none(const std::optional<double>& proportion) {
  return proportion ? percent_written(*proportion) : "none";
}

HtmlTable tests_table(std::string caption) {
  return {std::move(caption),
          {"Test", "Eggs, treated", "Without an egg", "Eggs, untreated", "Fall", "Limits by hand",
           "Posterior", "Class of 1992"},
          {}};
}

void add_test(HtmlTable& table, std::string name, const GroupAnalysis& analysis) {
  table.rows.push_back(
      {std::move(name), fmt::format("{}", analysis.evidence.after.eggs),
       fmt::format("{} of {}", analysis.evidence.after.animals_without_eggs,
                   analysis.evidence.after.animals),
       fmt::format("{}", analysis.evidence.control->eggs),
       percent_or_none(analysis.evidence.reduction),
       limits_written(interval_by(analysis.evidence.intervals, Method::log_ratio_1992)),
       limits_written(interval_by(analysis.evidence.intervals, Method::guarded_posterior)),
       verdict_written(analysis.judgement.first_verdict())});
}

std::string share_written(const Share& share) {
  return fmt::format("{:.0f}%", 100 * share.value);
}

std::string width_written(const MethodTally& method) {
  const std::optional<double> width = mean_width(method);
  return width ? fmt::format("{:.0f}", *width) : "none";
}

double posterior_width(const DesignChoice& choice) {
  return mean_width(*tally_of(choice.many.tally, Method::guarded_posterior)).value_or(0);
}

/// Of many tests of a choice, those that call the drench susceptible by the criteria of 1992.
std::string called_susceptible(const DesignChoice& choice) {
  const FarmTally& tally = choice.many.tally;
  const MethodTally& hand = *tally_of(tally, Method::log_ratio_1992);
  return share_written(verdict_share(tally, hand.verdicts.front(), VerdictClass::susceptible));
}

/// What many tests of each choice do.
HtmlTable many_table(const std::vector<DesignChoice>& choices) {
  HtmlTable table{fmt::format("{} tests of each: share that found no egg after treatment; whose "
                              "limits hold the truth; mean width in points; and who call the "
                              "drench susceptible by the formula and cut-offs of 1992",
                              DesignExercises::repeats),
                  {"Design", "No egg seen", "By hand: hold", "no limits", "width",
                   "Posterior: hold", "width", "Called susceptible"},
                  {}};
  for (const DesignChoice& choice : choices) {
    const FarmTally& tally = choice.many.tally;
    const MethodTally& hand = *tally_of(tally, Method::log_ratio_1992);
    const MethodTally& posterior = *tally_of(tally, Method::guarded_posterior);
    table.rows.push_back({choice.label, share_written(share(tally.none_after, tally.trials)),
                          share_written(coverage(tally, hand)),
                          share_written(share(hand.unusable, tally.trials)), width_written(hand),
                          share_written(coverage(tally, posterior)), width_written(posterior),
                          called_susceptible(choice)});
  }
  return table;
}

void add_choices(pugi::xml_node body, const std::vector<DesignChoice>& choices, double truth) {
  HtmlTable one = tests_table("The test on the sheet");
  LineUp line_up{truth, {}};
  for (const DesignChoice& choice : choices) {
    add_test(one, choice.label, choice.test.analysis);
    line_up.rows.push_back(line_up_row(choice.label, choice.test.analysis));
  }
  add_wide_table(body, one);
  add_line_up_pair(body, line_up);
  add_wide_table(body, many_table(choices));
}

/// By arithmetic means after treatment.
std::optional<double> fall_without_the_highest_untreated(const ExerciseTest& test) {
  std::vector<Count> untreated =
      counts_when(group_of(test.trial, Role::control).animals, &Animal::after);
  untreated.erase(std::ranges::max_element(untreated, {}, &Count::eggs));
  const double above = mean_epg(untreated).value_or(0);
  const std::vector<Count> treated =
      counts_when(group_of(test.trial, Role::treated).animals, &Animal::after);
  return above > 0 ? std::optional(1 - mean_epg(treated).value_or(0) / above) : std::nullopt;
}

/// The last column, of a drench that falls short: each "susceptible" is an error, which grows
/// where limits narrow around a fall between the two thresholds, and is the lesson that the widths
/// alone would hide. Thresholds of the criteria of 1992, by which these tests are judged.
void add_wrong_calls(pugi::xml_node part, const std::vector<DesignChoice>& choices, double truth) {
  constexpr double expected = 0.95;
  constexpr double lower = 0.90;
  if (truth >= expected)
    return;
  std::string text = fmt::format(
      "This drench removes {}, less than 95%, so that every \"susceptible\" of the last column is "
      "wrong: {} with {}, {} with {}.",
      percent_written(truth), called_susceptible(choices.front()), choices.front().label,
      called_susceptible(choices.back()), choices.back().label);
  if (truth > lower)
    text += " Narrower limits lie above the 90% that the rule of 1992 asks of the lower one more "
            "easily, so that counting more does not make a lenient rule strict.";
  add_element(part, "p", text);
}

void add_group_size(pugi::xml_node body, const DesignExercises& exercises) {
  const std::vector<DesignChoice>& choices = exercises.group_size.choices;
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "1: how many animals?");
  add_choices(part, choices, exercises.truth);
  const ExerciseTest& five = choices.front().test;
  add_element(part, "p",
              fmt::format("Of the first {}, without the untreated animal with most eggs: a fall of "
                          "{}.",
                          choices.front().label,
                          percent_or_none(fall_without_the_highest_untreated(five))));
  add_element(
      part, "p",
      fmt::format("Few animals give limits that are wide, or by hand often none at all: from "
                  "{} to {} the posterior's mean width falls from {:.0f} to {:.0f} points. "
                  "A fall of 100% from five animals is no proof that the drench works: "
                  "ask how often this drench, which leaves {} of the eggs, would show it.",
                  choices.front().label, choices.back().label, posterior_width(choices.front()),
                  posterior_width(choices.back()), percent_written(1 - exercises.truth)));
  add_wrong_calls(part, choices, exercises.truth);
}

/// The most EPG, by the finest slide, of a treated animal without an egg on the coarsest.
std::optional<double> most_epg_overlooked(const DesignChoice& coarsest,
                                          const DesignChoice& finest) {
  const std::vector<Animal>& coarse = group_of(coarsest.test.trial, Role::treated).animals;
  const std::vector<Animal>& fine = group_of(finest.test.trial, Role::treated).animals;
  std::optional<double> most;
  for (std::size_t i = 0; i < coarse.size(); ++i)
    if (coarse[i].after->eggs.value() == 0)
      most = std::max(most.value_or(0), fine[i].after->epg());
  return most;
}

void add_factor(pugi::xml_node body, const DesignExercises& exercises) {
  const std::vector<DesignChoice>& choices = exercises.factor.choices;
  const std::vector<DesignChoice>& sizes = exercises.group_size.choices;
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "2: how coarse a slide?");
  add_choices(part, choices, exercises.truth);
  if (const std::optional<double> epg = most_epg_overlooked(choices.front(), choices.back()))
    add_element(part, "p",
                fmt::format("Of the treated animals without an egg at the coarsest slide, one had "
                            "{:g} EPG by the finest.",
                            *epg));
  add_element(
      part, "p",
      fmt::format(
          "A finer slide finds the eggs that a coarse one misses, and \"no egg seen\" grows "
          "rare. It cannot even out animals that differ: from {} to {} the posterior's mean "
          "width goes from {:.0f} to {:.0f} points, from {} to {} (exercise 1) from {:.0f} "
          "to {:.0f}. Which of the two is the cheaper on your bench?",
          choices.front().label, choices.back().label, posterior_width(choices.front()),
          posterior_width(choices.back()), sizes.front().label, sizes.back().label,
          posterior_width(sizes.front()), posterior_width(sizes.back())));
  add_wrong_calls(part, choices, exercises.truth);
}

void add_means(pugi::xml_node body, const DesignExercises& exercises) {
  const MeansExercise& exercise = exercises.means;
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "3: which mean?");
  const std::vector<Count> treated =
      counts_when(group_of(exercise.test.trial, Role::treated).animals, &Animal::after);
  const std::vector<Count> untreated =
      counts_when(group_of(exercise.test.trial, Role::control).animals, &Animal::after);
  HtmlTable table{"EPG after treatment",
                  {"Mean", "Treated", "Untreated", "Fall, this test",
                   fmt::format("Fall, {} tests laid together", DesignExercises::laid_together),
                   "Truth"},
                  {}};
  const auto add = [&](std::string name, double of_treated, double of_untreated,
                       const FallOnceAndOften& falls) {
    table.rows.push_back({std::move(name), written(of_treated), written(of_untreated),
                          percent_or_none(falls.once), percent_or_none(falls.often),
                          percent_written(exercises.truth)});
  };
  add("Arithmetic", mean_epg(treated).value_or(0), mean_epg(untreated).value_or(0),
      exercise.arithmetic);
  add("Geometric, of EPG + 1", geometric_mean_epg(treated), geometric_mean_epg(untreated),
      exercise.geometric);
  add_wide_table(part, table);
  if (const std::uint64_t eggs = exercise.test.analysis.evidence.after.eggs; eggs > 0)
    add_element(
        part, "p",
        fmt::format("The treated animal with most has {} of all eggs left.",
                    percent_written(std::ranges::max(treated, {}, &Count::eggs).eggs.value() /
                                    static_cast<double>(eggs))));
  add_element(
      part, "p",
      "The pasture gets the sum of all eggs, and so does the arithmetic mean. The geometric "
      "mean makes little of the few animals that carry most of the eggs left: it answers "
      "another question. The 1 that is added matters too: with eggs in place of EPG the "
      "same counts give another fall.");
}

void add_left_out(pugi::xml_node body, const DesignExercises& exercises) {
  const LeftOutExercise& exercise = exercises.left_out;
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "4: may we leave out the low ones?");
  HtmlTable table{"Fall from before to after",
                  {"Animals", "All, this test", "Kept, this test",
                   fmt::format("All, {} tests", DesignExercises::laid_together),
                   fmt::format("Kept, {} tests", DesignExercises::laid_together), "Truth"},
                  {}};
  const auto add = [&table](std::string name, const LeftOutFalls& falls, double truth) {
    table.rows.push_back({std::move(name), percent_or_none(falls.all.once),
                          percent_or_none(falls.kept.once), percent_or_none(falls.all.often),
                          percent_or_none(falls.kept.often), percent_written(truth)});
  };
  add("Treated", exercise.treated, exercises.truth);
  add("Untreated", exercise.untreated, 0);
  add_wide_table(part, table);
  add_element(
      part, "p",
      fmt::format(
          "Kept are animals with {:g} EPG or more before: {} treated and {} untreated ones "
          "on the sheet. Some of them were high only by the luck of that sample, and the "
          "luck does not come again: they fall although nothing is done to them (regression "
          "to the mean). The animals that were low by luck, and would rise, have been thrown "
          "away. Choose the animals before you count, and keep all that you counted; if low "
          "counts must be left out, choose by one sample and take another as \"before\".",
          LeftOutExercise::least_epg, exercise.treated.animals_kept,
          exercise.untreated.animals_kept));
}

void add_wrong_day(pugi::xml_node body, const DesignExercises& exercises) {
  const WrongDayExercise& exercise = exercises.wrong_day;
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "5: which day?");
  HtmlTable table = tests_table("The same animals on three days");
  table.heads.emplace_back("Endless counting");
  for (const WrongDayExercise::Day& day : exercise.days) {
    add_test(table, fmt::format("Day {}", day.day), day.test.analysis);
    table.rows.back().push_back(percent_written(day.truth));
  }
  add_wide_table(part, table);
  add_element(
      part, "p",
      fmt::format(
          "The drench removes {}. Soon after treatment worms that live on may lay little "
          "(here {:g}% of their eggs are held back: invented), and a failing drench looks "
          "well; weeks later new worms lay (here {:g}% of the eggs before: invented), and a "
          "drench that works looks as if it failed. No interval warns of either: limits "
          "count luck, not mistakes. The usual days differ by drug class; look them up in "
          "the guideline and ask your veterinarian.",
          percent_written(exercises.truth), 100 * WrongDayExercise::held_back,
          100 * WrongDayExercise::new_worms));
}

void add_missed(pugi::xml_node body, const DesignExercises& exercises) {
  const MissedAnimalExercise& exercise = exercises.missed;
  const Group& group = group_of(exercise.test.trial, Role::treated);
  std::uint64_t eggs = 0;
  std::uint64_t its_eggs = 0;
  for (const Animal& animal : group.animals) {
    eggs += animal.after->eggs.value();
    its_eggs += animal.tag == exercise.tag ? animal.after->eggs.value() : 0;
  }
  pugi::xml_node part = add_element(body, "section", "", "exercise");
  add_element(part, "h2", "6: one slipped past the gun");
  HtmlTable table = tests_table("");
  add_test(table, "With it", exercise.test.analysis);
  add_test(table, "Without it", exercise.without.analysis);
  add_wide_table(part, table);
  add_element(
      part, "p",
      fmt::format(
          "It was animal {}: {} of the {} eggs seen in all treated animals came from it. "
          "Nobody may leave it out for its count alone: one animal with resistant worms "
          "would look just so. What decides is a record made on the day (a mark on each "
          "animal dosed, the dose written down, a count of heads). Without a record, report "
          "the fall with it, say what you suspect, and test again.",
          exercise.tag, its_eggs, eggs));
}

} // namespace

std::string exercise_answers_page(const StudentPack& pack, const DesignExercises& exercises) {
  const std::string title = "Answers to the exercises";
  HtmlPage page(
      title, std::string(line_up_pair_style) + std::string(exercise_answers_style) +
                 paper_foot(fmt::format("Answers to the exercises, class of seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(
      body, "p",
      fmt::format("Whoever teaches keeps this page. The {} removes {} on this farm. What one test "
                  "says can be seen by: eggfall analyse tables/size-05.csv --design two-group "
                  "--criteria waavp-1992 --level {:g} --seed {} --verbose, with the other tables "
                  "likewise.",
                  drench_words(treated_group(pack.scenario)), percent_written(exercises.truth),
                  100 * StudentPack::level, pack.seed));
  add_group_size(body, exercises);
  add_factor(body, exercises);
  add_means(body, exercises);
  add_left_out(body, exercises);
  add_wrong_day(body, exercises);
  add_missed(body, exercises);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
