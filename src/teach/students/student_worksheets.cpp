#include "teach/students/student_worksheets.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"
#include "teach/students/animal_table.hpp"
#include "teach/students/formula.hpp"
#include "teach/students/student_words.hpp"
#include "trial/trial_lookup.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

constexpr std::string_view worksheets_style = R"css(
.counts td, .counts th { height: 1.7rem; } .counts td:nth-child(4) { text-align: left;
  font-weight: bold; } .wall svg { min-width: 48rem; }
@page wall { size: A4 landscape; margin: 12mm 15mm; }
@media print { .counts td, .counts th { height: 5.2mm; padding-top: 0; padding-bottom: 0; }
  .wall { page: wall; } .wall svg { min-width: 0; max-height: 148mm; }
  .sheet:first-of-type { break-before: auto; } .steps li { margin: 0.25rem 0; } }
)css";

void add_counts(pugi::xml_node parent, const Group& treated, const Group& control) {
  const auto columns = [](const Group& group, const std::string& name) -> GroupColumns {
    return {group, {tags(name), eggs("Eggs, x", &Animal::after), blank("x times x")}};
  };
  HtmlTable table = animal_table("Eggs seen after treatment",
                                 {columns(treated, "Treated"), columns(control, "Untreated")});
  add_sum_row(table, table.rows.size(), "Sum", {0, 3});
  add_wide_table(parent, table, "fill counts");
}

void add_steps(pugi::xml_node parent, const Worksheet& sheet) {
  const HandCalculation& hand = sheet.hand;
  const Verdict& verdict = sheet.analysis.judgement.first_verdict();
  pugi::xml_node steps = add_element(parent, "ol", "", "steps");
  add_step(steps, "Multiply each number of eggs by itself, and add up all four columns.", {});
  add_formula_step(steps, "Mean", Formula::fraction("sum of x", "animals"),
                   {"Treated:", "untreated:"});
  add_step(steps, fmt::format("In eggs per gram: mean times {:g}.", hand.factor),
           {"Treated:", "untreated:"});
  add_formula_step(steps, "Ratio", Formula::fraction("mean treated", "mean untreated"), {""});
  add_formula_step(steps, "Fall, percent", "100 \u00d7 ( 1 \u2212 ratio )", {""});
  add_formula_step(
      steps, "Variance",
      Formula::fraction(Formula("sum of squares \u2212") +
                            Formula::fraction(Formula::square("( sum of x )"), "animals"),
                        "animals \u2212 1"),
      {"Treated:", "untreated:"});
  add_formula_step(
      steps, "Share",
      Formula::fraction("variance", Formula("animals \u00d7") + Formula::square("mean")),
      {"Treated:", "untreated:"});
  add_step(steps, "Y = both shares together.", {""});
  add_formula_step(steps,
                   fmt::format("With t = {:.3f} ({} degrees of freedom, {:g}% interval), reach",
                               hand.t, hand.degrees_of_freedom, 100 * StudentPack::level),
                   Formula("exp ( t \u00d7") + Formula::root("Y") + Formula(")"), {""});
  add_formula_step(steps, "Lower limit, percent", "100 \u00d7 ( 1 \u2212 ratio \u00d7 reach )",
                   {""});
  add_formula_step(steps, "Upper limit, percent",
                   Formula("100 \u00d7 ( 1 \u2212") + Formula::fraction("ratio", "reach") + ")",
                   {""});
  add_step(steps,
           fmt::format("Class of 1992. Fall below {:g}% and lower limit below {:g}%: resistant. "
                       "One of the two: suspected. Neither: susceptible.",
                       100 * *verdict.expected, 100 * *verdict.lower),
           {""});
  add_element(parent, "p",
              "Should a mean be zero, the formula has nothing to divide by: write \"no limits\", "
              "and talk over what you would tell the farmer.",
              "note");
}

void add_sheet(pugi::xml_node body, const StudentPack& pack, std::size_t i) {
  const Worksheet& sheet = pack.worksheets[i];
  const Trial& trial = sheet.simulated.trial;
  const Group& treated = group_of(trial, Role::treated);
  const Group& control = group_of(trial, Role::control);
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(section, "h2", fmt::format("Worksheet {}: does the drench work?", i + 1));
  add_entries(section, {"Name", "Date"});
  add_element(
      section, "p",
      fmt::format("{} {} got the {}, {} stayed untreated. {} days later their faeces were counted; "
                  "one egg seen stands for {:g} eggs per gram (EPG).{}",
                  treated.animals.size(), host_words(pack.scenario),
                  drench_words(treated_group(pack.scenario)), control.animals.size(),
                  pack.scenario.days_after, sheet.hand.factor,
                  pack.scenario.farm.empty()
                      ? ""
                      : fmt::format(" The farm, {}, is invented.", pack.scenario.farm)));
  add_counts(section, treated, control);
  add_steps(section, sheet);
}

/// What everyone draws their interval on, a sheet laid across for each so many students.
void add_wall(pugi::xml_node body, const StudentPack& pack) {
  pugi::xml_node last;
  for (const LineUp& sheet : line_ups_on_paper(students_line_up(pack))) {
    last = add_element(body, "section", "", "sheet wall");
    add_element(last, "h2", "The line-up of the class");
    add_element(last, "p",
                "On the line with your worksheet's number: a dot at your fall, and a bar from "
                "limit to limit; an arrow where it goes on beyond the axis. Where do you think the "
                "truth stands? Draw it upright through all lines before the answer is shown.");
    add_inked_svg(add_scrolling(last, "figure", "An empty line-up"), blank_line_up_figure(sheet));
  }
  add_element(last, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
}

} // namespace

std::string worksheets_page(const StudentPack& pack) {
  const std::string title = "Worksheets: a drench test by hand";
  HtmlPage page(title, std::string(form_style) + std::string(worksheets_style) +
                           paper_foot(fmt::format("Worksheets, class of seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p",
              "The calculation is that of Coles et al. 1992, Veterinary Parasitology 44:35-44; its "
              "limits are still much used. A calculator with squares, roots and exp is needed, and "
              "some twenty minutes.");
  for (std::size_t i = 0; i < pack.worksheets.size(); ++i)
    add_sheet(body, pack, i);
  add_wall(body, pack);
  return page.text();
}

} // namespace eggfall
