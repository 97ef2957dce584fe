#include "teach/exercises/exercises_page.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"
#include "judgement/provenance_words.hpp"
#include "teach/students/animal_table.hpp"
#include "teach/students/formula.hpp"
#include "teach/students/student_words.hpp"
#include "trial/trial_lookup.hpp"

#include <fmt/format.h>

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view exercises_style = R"css(
@media print { .sheet:first-of-type { break-before: auto; }
  .fill td, .fill th { height: 5.4mm; padding-top: 0; padding-bottom: 0; } }
)css";

/// A sheet of paper for one exercise, with its number.
class Sheet {
public:
  Sheet(pugi::xml_node body, int number, std::string_view name, const std::string& text)
      : section_(add_element(body, "section", "", "sheet")) {
    add_element(section_, "h2", fmt::format("Exercise {}: {}", number, name));
    add_entries(section_, {"Name", "Date"});
    add_element(section_, "p", text);
  }

  void add_table(const HtmlTable& table) { add_wide_table(section_, table, "fill"); }

  /// What to work out.
  struct Step {
    std::string what;
    std::optional<Formula> equal_to; ///< What that is equal to.
    std::vector<std::string> blanks;
  };

  /// What to work out, and then what to talk over.
  void add_steps(const std::vector<Step>& steps, const std::vector<std::string>& questions) {
    pugi::xml_node list = add_element(section_, "ol", "", "steps");
    for (const Step& step : steps)
      if (step.equal_to)
        add_formula_step(list, step.what, *step.equal_to, step.blanks);
      else
        add_step(list, step.what, step.blanks);
    for (const std::string& question : questions)
      add_question(list, question);
  }

private:
  pugi::xml_node section_;
};

const Group& treated_of(const ExerciseTest& test) {
  return group_of(test.trial, Role::treated);
}

const Group& untreated_of(const ExerciseTest& test) {
  return group_of(test.trial, Role::control);
}

double factor_of(const ExerciseTest& test) {
  return treated_of(test).animals.front().after->factor.value();
}

void add_group_size(pugi::xml_node body, const StudentPack& pack,
                    const GroupSizeExercise& exercise) {
  const ExerciseTest& whole = exercise.choices.back().test;
  Sheet sheet(body, 1, "how many animals?",
              fmt::format("A vet counted the eggs of 20 treated and 20 untreated {} after "
                          "treatment. Had there been less time, it would have been the first 10 of "
                          "each, or the first 5.",
                          host_words(pack.scenario)));
  HtmlTable table =
      animal_table(fmt::format("Eggs seen; one stands for {:g} EPG", factor_of(whole)),
                   {{treated_of(whole), {tags("Treated"), eggs("Eggs, x", &Animal::after)}},
                    {untreated_of(whole), {tags("Untreated"), eggs("Eggs, x", &Animal::after)}}});
  for (std::size_t i = GroupSizeExercise::sizes.size(); i-- > 0;) {
    const std::size_t size = GroupSizeExercise::sizes[i];
    add_sum_row(table, size, fmt::format("Sum of {}", size), {0, 2});
  }
  sheet.add_table(table);
  sheet.add_steps(
      {{"Fall, percent",
        Formula("100 \u00d7 ( 1 \u2212") + Formula::fraction("sum treated", "sum untreated") + ")",
        {"From 5:", "from 10:", "from 20:"}},
       {"Had the untreated animal with most eggs of the first 5 not been caught: the fall, by "
        "means of 5 and 4.",
        {},
        {"Without it:"}},
       {"Guess 95% limits for each of the three falls.", {}, {"5:", "10:", "20:"}}},
      {"Cover the animals beyond the fifth. What would you have told the farmer, and how many "
       "animals would you ask for?"});
}

void add_factor(pugi::xml_node body, const StudentPack& pack, const FactorExercise& exercise) {
  Sheet sheet(
      body, 2, "how coarse a slide?",
      fmt::format("The same samples of {} treated and {} untreated {}, after treatment. More "
                  "and more of each was looked at: at a factor of 50 one egg seen stands "
                  "for 50 EPG, at 1 for one. Each slide holds the eggs of the coarser ones "
                  "and more.",
                  treated_of(exercise.choices.front().test).animals.size(),
                  untreated_of(exercise.choices.front().test).animals.size(),
                  host_words(pack.scenario)));
  std::vector<GroupColumns> groups;
  for (const Role role : {Role::treated, Role::control})
    for (std::size_t i = 0; i < exercise.choices.size(); ++i) {
      GroupColumns& columns =
          groups.emplace_back(GroupColumns{group_of(exercise.choices[i].test.trial, role), {}});
      if (i == 0)
        columns.columns.push_back(tags(role == Role::treated ? "Treated" : "Untreated"));
      columns.columns.push_back(
          eggs(fmt::format("{:g}", FactorExercise::factors[i]), &Animal::after));
    }
  HtmlTable table = animal_table("Eggs seen at each factor", groups);
  add_sum_row(table, table.rows.size(), "Sum");
  sheet.add_table(table);
  sheet.add_steps(
      {{"Fall at each factor, percent.", {}, {"50:", "25:", "10:", "1:"}},
       {"How many treated animals have no egg seen?", {}, {"50:", "25:", "10:", "1:"}},
       {"Of those without an egg at 50: the most EPG that one had, by the slide at 1.",
        {},
        {"EPG:"}}},
      {"From 50 to 1 is fifty times the looking. Would you rather look at 50 times as much of each "
       "sample, or sample more animals? Compare exercise 1."});
}

void add_means(pugi::xml_node body, const MeansExercise& exercise) {
  Sheet sheet(body, 3, "which mean?",
              "Some reports work with the geometric mean, because it tames the animals with very "
              "many eggs: take the natural logarithm of EPG + 1, average, raise e to the average, "
              "and take 1 away again.");
  HtmlTable table =
      animal_table("EPG after treatment",
                   {{treated_of(exercise.test),
                     {tags("Treated"), epg("EPG", &Animal::after), blank("ln(EPG + 1)")}},
                    {untreated_of(exercise.test),
                     {tags("Untreated"), epg("EPG", &Animal::after), blank("ln(EPG + 1)")}}});
  add_sum_row(table, table.rows.size(), "Sum");
  sheet.add_table(table);
  sheet.add_steps(
      {{"Arithmetic mean", Formula::fraction("sum of EPG", "animals"), {"Treated:", "untreated:"}},
       {"Fall by arithmetic means, percent.", {}, {"Fall:"}},
       {"Geometric mean",
        Formula("exp (") + Formula::fraction("sum of ln(EPG + 1)", "animals") + ") \u2212 1",
        {"Treated:", "untreated:"}},
       {"Fall by geometric means, percent.", {}, {"Fall:"}},
       {"Share of all eggs left that the treated animal with most has.", {}, {"Percent:"}}},
      {"Which of the two means does the pasture feel?"});
}

void add_left_out(pugi::xml_node body, const LeftOutExercise& exercise) {
  Sheet sheet(body, 4, "may we leave out the low ones?",
              fmt::format("\"Animals below {:g} EPG tell us nothing: leave them out.\" Work it out "
                          "with and without them, in the treated and in the untreated too.",
                          LeftOutExercise::least_epg));
  HtmlTable table = animal_table(
      "EPG before and after the day of treatment",
      {{treated_of(exercise.test),
        {tags("Treated"), epg("Before", &Animal::before), epg("After", &Animal::after)}},
       {untreated_of(exercise.test),
        {tags("Untreated"), epg("Before", &Animal::before), epg("After", &Animal::after)}}});
  add_sum_row(table, table.rows.size(), "Sum, all");
  add_sum_row(table, table.rows.size(), "Sum, kept");
  sheet.add_table(table);
  sheet.add_steps(
      {{fmt::format("Strike out every animal with less than {:g} EPG before, treated or not, and "
                    "add up the others.",
                    LeftOutExercise::least_epg),
        {},
        {}},
       {"Fall from before to after, treated animals, percent.", {}, {"All:", "kept:"}},
       {"Fall from before to after, untreated animals, percent.", {}, {"All:", "kept:"}}},
      {"Nothing was done to the untreated. Which way would leaving out move them if you did this "
       "a thousand times, and why?",
       "What would it do to your judgement of a drench?"});
}

void add_wrong_day(pugi::xml_node body, const WrongDayExercise& exercise) {
  Sheet sheet(
      body, 5, "which day?",
      fmt::format("The same animals, had they been sampled on day {}, {} or {} after "
                  "treatment. Worms that survive may stop laying for some days, and new worms "
                  "lay later ({}); how much they do so here is invented.",
                  exercise.days[0].day, exercise.days[1].day, exercise.days[2].day,
                  note_from_memory));
  std::vector<GroupColumns> groups;
  for (const Role role : {Role::treated, Role::control})
    for (std::size_t i = 0; i < exercise.days.size(); ++i) {
      GroupColumns& columns =
          groups.emplace_back(GroupColumns{group_of(exercise.days[i].test.trial, role), {}});
      if (i == 0)
        columns.columns.push_back(tags(role == Role::treated ? "Treated" : "Untreated"));
      columns.columns.push_back(eggs(fmt::format("Day {}", exercise.days[i].day), &Animal::after));
    }
  HtmlTable table = animal_table("Eggs seen", groups);
  add_sum_row(table, table.rows.size(), "Sum");
  sheet.add_table(table);
  const auto day = [&](std::size_t i) { return fmt::format("Day {}:", exercise.days[i].day); };
  sheet.add_steps({{"Fall on each day, percent.", {}, {day(0), day(1), day(2)}},
                   {"What would you have told the farmer?", {}, {day(0), day(1), day(2)}}},
                  {"Which mistake costs more: the early day's, or the late day's?",
                   "Where would you look up the right day for this drench?"});
}

void add_missed(pugi::xml_node body, const MissedAnimalExercise& exercise) {
  Sheet sheet(body, 6, "one slipped past the gun",
              "One animal written down as treated was not. Nobody saw it.");
  HtmlTable table = animal_table(
      "Eggs seen before and after treatment",
      {{treated_of(exercise.test),
        {tags("Treated"), eggs("Before", &Animal::before), eggs("After", &Animal::after)}},
       {untreated_of(exercise.test), {tags("Untreated"), eggs("After", &Animal::after)}}});
  add_sum_row(table, table.rows.size(), "Sum");
  sheet.add_table(table);
  sheet.add_steps({{"Which one do you suspect?", {}, {"Tag:"}},
                   {"Fall against the untreated after treatment, by means, percent.",
                    {},
                    {"With it:", "without it:"}}},
                  {"May you leave it out of the report? What record would you want to see first?",
                   "How would you have made sure on the day that every animal was dosed once?"});
}

} // namespace

std::string exercises_page(const StudentPack& pack, const DesignExercises& exercises) {
  const std::string title = "Exercises: designing a drench test";
  HtmlPage page(title, std::string(form_style) + std::string(exercises_style) +
                           paper_foot(fmt::format("Exercises, class of seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p",
              "Six sheets, each of a quarter of an hour. The counts are invented; the mistakes are "
              "made every season. Each table is in the folder tables too, for those who work with "
              "the program.");
  add_group_size(body, pack, exercises.group_size);
  add_factor(body, pack, exercises.factor);
  add_means(body, exercises.means);
  add_left_out(body, exercises.left_out);
  add_wrong_day(body, exercises.wrong_day);
  add_missed(body, exercises.missed);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

} // namespace eggfall
