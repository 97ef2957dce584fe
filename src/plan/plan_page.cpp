#include "plan/plan_page.hpp"

#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "formats/drawing/svg_drawing.hpp"
#include "plan/chance_figures.hpp"
#include "plan/hundred_tests.hpp"
#include "plan/plan_text.hpp"
#include "plan/plan_words.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// Two figures beside each other where there is room for both; a phone has room for one. Borders
/// and drawings are printed where shades of a background are not.
constexpr std::string_view plan_page_style = R"css(
.advice { border: 2px solid var(--ink); padding: 0.2rem 1rem; }
.side-by-side { display: grid; gap: 0.4rem 1.6rem; align-items: start;
  grid-template-columns: repeat(auto-fill, minmax(min(100%, 20rem), 1fr)); }
.side-by-side figure { margin: 0.4rem 0; } .answers { align-items: end; }
.power td { min-width: 5.5rem; overflow-wrap: normal; }
.power .inked { max-width: 6.5rem; margin-left: auto; }
.power .advised { border: 3px solid var(--ink); font-weight: bold; }
.advised span { display: block; white-space: nowrap; }
.numbers td, .numbers th { padding: 0.2rem 0.35rem; }
@media screen and (max-width: 37rem) {
  .power td { min-width: 4rem; } .blocks .inked { flex: none; width: 5rem; margin: 0; }
  .numbers { font-size: 0.85rem; } .numbers td, .numbers th { padding: 0.3rem 0.2rem; }
}
@media print {
  table, .advice { break-inside: avoid; } .lead { break-after: avoid; }
}
)css";

void add_facts(pugi::xml_node body, const Plan& plan) {
  const PlannedFlock& flock = plan.question.flock;
  HtmlTable facts{"What the plan starts from", {"What", "Taken to be"}, {}};
  facts.rows = {
      {"Animals", flock.host + (flock.worm.empty() ? "" : ", " + flock.worm)},
      {"To be tested", drug_classes_text(flock.classes)},
      {"Mean count before treatment", fmt::format("{:.4g} EPG", flock.mean_epg)},
      {"Aggregation parameter k", fmt::format("{:.2g}", flock.k)},
      {"Judged by", plan.question.aim.criteria.front().title},
      {"Right answers wanted", fmt::format("{:g} of 100", 100 * plan.question.aim.power)}};
  if (flock.animals)
    facts.rows.push_back({"Animals at hand", fmt::format("{}", *flock.animals)});
  if (flock.season_change != 1)
    facts.rows.push_back({"Untreated counts, times", fmt::format("{:g}", flock.season_change)});
  if (plan.pilot)
    facts.rows.push_back(
        {"From a pilot count of",
         fmt::format("{} animals; mean {:.3g} to {:.3g} EPG, k {:.2g} to {:.2g} "
                     "(90% limits)",
                     plan.pilot->animals, plan.pilot->lower_mean_epg, plan.pilot->upper_mean_epg,
                     plan.pilot->lower_k, plan.pilot->upper_k)});
  add_wide_table(body, facts, "words");
}

/// A bar from 0 to 100 with a line at what is wanted; filled if it reaches that. Drawn, and so
/// printed.
std::string power_bar(double share, double wanted) {
  constexpr double height = 16;
  constexpr double edge = 0.5;
  pugi::xml_document document;
  const pugi::xml_node svg = add_svg(document, fmt::format("{:.0f} of 100", 100 * share),
                                     "A bar as long as that, and a line at what is wanted.");
  set(svg, "viewBox", fmt::format("0 0 100 {:g}", height));
  set(add_box(svg, {edge, edge, 100 - 2 * edge, height - 2 * edge}, paper_colour), "stroke",
      line_colour);
  const pugi::xml_node bar =
      add_box(svg, {edge, edge, std::max(0.0, 100 * share - 2 * edge), height - 2 * edge},
              share >= wanted ? deep_colour : paper_colour);
  set(bar, "stroke", deep_colour);
  add_rule(svg, {100 * wanted, 0}, {100 * wanted, height}, ink, 1.6);
  return svg_text(document);
}

/// Sizes down, ways of counting across; the advised one is framed and named.
void add_powers(pugi::xml_node body, const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  const PlannedOption* const advised = recommended(plan);
  const auto columns = alike_but_for_size(plan);
  HtmlTable table;
  table.caption = fmt::format("Right answers of 100 tests, the rarer of the two kinds. The line "
                              "across each bar is at the {:g} wanted; filled bars reach it.",
                              100 * aim.power);
  table.heads = {"Animals a group"};
  for (const auto& column : columns)
    table.heads.push_back(fmt::format("{}, one egg for {:g} EPG",
                                      to_string(column.front()->option.design),
                                      column.front()->option.counting.factor.value()));
  const std::vector<std::size_t> sizes = group_sizes(plan);
  std::vector<std::vector<const PlannedOption*>> in_cells;
  for (const std::size_t size : sizes) {
    std::vector<std::string> cells{fmt::format("{}", size)};
    std::vector<const PlannedOption*> of_row;
    for (const auto& column : columns) {
      const auto found = std::ranges::find_if(
          column, [&](const PlannedOption* planned) { return planned->option.group_size == size; });
      of_row.push_back(found == column.end() ? nullptr : *found);
      cells.push_back(
          found == column.end() ? "-" : fmt::format("{:.0f}", 100 * power(**found, aim).value));
    }
    table.rows.push_back(std::move(cells));
    in_cells.push_back(std::move(of_row));
  }
  const pugi::xml_node node = add_wide_table(body, table, "power");
  auto row = in_cells.begin();
  for (const pugi::xml_node tr : node.child("tbody").children("tr")) {
    auto planned = row->begin();
    for (pugi::xml_node td : tr.children("td")) {
      if (*planned != nullptr)
        add_inked_svg(td, power_bar(power(**planned, aim).value, aim.power));
      if (*planned != nullptr && *planned == advised) {
        td.append_attribute("class").set_value("advised");
        add_element(td, "span", "take this");
      }
      ++planned;
    }
    ++row;
  }
}

/// "12", or "12, advised" of the option that the plan recommends.
std::string size_cell(const PlannedOption& planned, const Plan& plan) {
  return fmt::format("{}{}", planned.option.group_size,
                     &planned == recommended(plan) ? ", advised" : "");
}

std::string way_caption(const PlanOption& option, std::string_view what) {
  return fmt::format("{}, one egg for {:g} EPG: {}",
                     capitalised(std::string(to_string(option.design))),
                     option.counting.factor.value(), what);
}

/// A table of numbers so short that a phone has room for all of their columns.
void add_numbers(pugi::xml_node body, const HtmlTable& table) {
  add_table(add_scrolling(body, "div", table.caption), table, "numbers");
}

/// The chances of one design and way of counting, a group size a row.
void add_chances(pugi::xml_node body, const std::vector<const PlannedOption*>& alike,
                 const Plan& plan, std::size_t c) {
  const AuditCriterion& criterion = plan.question.aim.criteria[c];
  const std::vector<double> efficacies = shown_efficacies(plan, criterion);
  HtmlTable table;
  table.caption = way_caption(alike.front()->option,
                              "of 100 tests, called susceptible / called resistant, by what the "
                              "drench truly removes");
  table.heads = {"Animals a group"};
  for (const double efficacy : efficacies)
    table.heads.push_back(efficacy_text(efficacy));
  for (const PlannedOption* planned : alike) {
    std::vector<std::string> row{size_cell(*planned, plan)};
    for (const PlanOutcome& outcome : planned->outcomes)
      if (std::ranges::find(efficacies, outcome.efficacy) != efficacies.end())
        row.push_back(both_calls(outcome, criterion, c));
    table.rows.push_back(std::move(row));
  }
  add_numbers(body, table);
}

/// What the designs of one way of counting ask for, a group size a row.
void add_demands(pugi::xml_node body, const std::vector<const PlannedOption*>& alike,
                 const Plan& plan) {
  const PlanOption& option = alike.front()->option;
  HtmlTable table;
  table.caption = way_caption(option, "what it asks for");
  table.heads = {"Animals a group", "Animals in all", "Samples", "Eggs a group"};
  if (option.counting.cost)
    table.heads.emplace_back("Cost");
  if (option.counting.minutes)
    table.heads.emplace_back("Hours");
  for (const PlannedOption* planned : alike) {
    const PlanDemand& needs = planned->needs;
    std::vector<std::string> row{size_cell(*planned, plan), fmt::format("{}", needs.animals),
                                 fmt::format("{}", needs.samples),
                                 fmt::format("{:.0f}", needs.eggs_a_group)};
    if (needs.cost)
      row.push_back(fmt::format("{:.4g}", *needs.cost));
    if (needs.hours)
      row.push_back(fmt::format("{:.1f}", *needs.hours));
    table.rows.push_back(std::move(row));
  }
  add_numbers(body, table);
}

/// What the two questions that a test is for are answered, in whole tests.
void add_hundred_tests(pugi::xml_node body, const Plan& plan) {
  add_element(body, "h2", "Of 100 such tests");
  const PlannedOption& shown = shown_option(plan);
  add_element(body, "p",
              fmt::format("{}: {}.",
                          recommended(plan) != nullptr ? "The design advised"
                                                       : "Even the best of these designs",
                          in_words(shown.option)),
              "lead");
  const pugi::xml_node row = add_element(body, "div", "", "side-by-side answers");
  for (std::size_t c = 0; c < plan.question.aim.criteria.size(); ++c)
    for (const CaptionedFigure& figure : hundred_tests_figures(shown, plan.question.aim, c))
      add_figure(row, figure);
}

std::string figures_key(const PlanAim& aim, std::size_t c) {
  return fmt::format(
      "Upward: of 100 tests. Dashed, from the left: called resistant{}; solid, to the right: "
      "called susceptible. What both leave of 100 has no clear answer. The numbers at the lines "
      "are "
      "animals a group; the thick lines are the design shown above; the dotted line is at the {:g} "
      "wanted.",
      aim.criteria[c].rule == Rule::two_one_sided ? " or low resistant" : "", 100 * aim.power);
}

void add_what_it_says(pugi::xml_node body, const Plan& plan, std::size_t c) {
  const PlanAim& aim = plan.question.aim;
  add_element(body, "h2",
              aim.criteria.size() > 1
                  ? fmt::format("What the test would say of {}", drug_classes_text(aim.classes[c]))
                  : "What the test would say");
  add_element(body, "p", figures_key(aim, c), "note lead");
  const pugi::xml_node row = add_element(body, "div", "", "side-by-side");
  const std::vector<CaptionedFigure> figures = chance_figures(plan, c);
  const auto ways = alike_but_for_size(plan);
  for (std::size_t i = 0; i < ways.size(); ++i) {
    add_figure(row, figures[i]);
    add_chances(row, ways[i], plan, c);
  }
}

} // namespace

std::string plan_report(const Plan& plan) {
  const std::string title = fmt::format("Plan of a drench test: {}", plan.question.flock.host);
  const std::string made_by =
      fmt::format("Made by eggfall {}, seed {}.", version(), plan.settings.seed);
  HtmlPage page(title,
                std::string(plan_page_style) + paper_foot(fmt::format("{}. {}", title, made_by)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  pugi::xml_node advice = add_element(body, "div", "", "advice");
  for (const std::string& sentence : plan_advice(plan))
    add_element(advice, "p", sentence);
  add_hundred_tests(body, plan);
  add_facts(body, plan);
  add_element(body, "h2", "How many animals, counted how?");
  add_powers(body, plan);
  for (std::size_t c = 0; c < plan.question.aim.criteria.size(); ++c)
    add_what_it_says(body, plan, c);
  add_element(body, "h2", "What each design asks for");
  const pugi::xml_node demands = add_element(body, "div", "", "side-by-side");
  for (const auto& alike : alike_but_for_size(plan))
    add_demands(demands, alike, plan);
  add_element(body, "h2", "What stands behind it");
  for (const std::string& note : plan_notes(plan))
    add_element(body, "p", note, "note");
  add_element(body, "p", cautions(), "note");
  add_element(body, "p", made_by, "note");
  return page.text();
}

} // namespace eggfall
