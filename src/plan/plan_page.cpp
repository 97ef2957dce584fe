#include "plan/plan_page.hpp"

#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "plan/plan_text.hpp"
#include "plan/plan_words.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view plan_page_style = R"css(
.advice { border: 2px solid var(--ink); padding: 0.2rem 1rem; }
.s0, .s1, .s2, .s3, .s4 { color: #1a1a1a; }
.s0 { background: #ffffff; } .s1 { background: #eef4f6; } .s2 { background: #d9e8ed; }
.s3 { background: #c0dae2; } .s4 { background: #a3cad6; }
.enough { font-weight: bold; outline: 3px solid #1a1a1a; outline-offset: -3px; }
@media print { table, .advice { break-inside: avoid; } }
)css";

/// The shade of a chance, from white to the darkest on which black is still read easily.
std::string shade(double share) {
  constexpr double shades = 5;
  return fmt::format("s{}", static_cast<int>(std::min(shades - 1, std::floor(shades * share))));
}

void add_facts(pugi::xml_node body, const Plan& plan) {
  const PlannedFlock& flock = plan.question.flock;
  HtmlTable facts{"What the plan starts from", {"What", "Taken to be"}, {}};
  facts.rows = {
      {"Animals", flock.host + (flock.worm.empty() ? "" : ", " + flock.worm)},
      {"To be tested", classes_text(flock.classes)},
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

/// Sizes down, ways of counting across; a frame where the wanted chance is reached.
void add_shaded_table(pugi::xml_node body, const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  const auto columns = alike_but_for_size(plan);
  HtmlTable table;
  table.caption =
      fmt::format("Right answers of 100 tests, the rarer of the two kinds; framed where "
                  "{:g} are reached. The darker, the more.",
                  100 * aim.power);
  table.heads = {"Animals a group"};
  for (const auto& column : columns)
    table.heads.push_back(fmt::format("{}, one egg for {:g} EPG",
                                      to_string(column.front()->option.design),
                                      column.front()->option.counting.factor.value()));
  const std::vector<std::size_t> sizes = group_sizes(plan);
  std::vector<std::vector<std::string>> shades;
  for (const std::size_t size : sizes) {
    std::vector<std::string> cells{fmt::format("{}", size)};
    std::vector<std::string> of_row;
    for (const auto& column : columns) {
      const auto found = std::ranges::find_if(
          column, [&](const PlannedOption* planned) { return planned->option.group_size == size; });
      if (found == column.end()) {
        cells.emplace_back("-");
        of_row.emplace_back("s0");
        continue;
      }
      const double share = power(**found, aim).value;
      cells.push_back(fmt::format("{:.0f}", 100 * share));
      of_row.push_back(shade(share) + (share >= aim.power ? " enough" : ""));
    }
    table.rows.push_back(std::move(cells));
    shades.push_back(std::move(of_row));
  }
  const pugi::xml_node node = add_wide_table(body, table);
  auto row = shades.begin();
  for (const pugi::xml_node tr : node.child("tbody").children("tr")) {
    auto cell = row->begin();
    for (pugi::xml_node td : tr.children("td"))
      td.append_attribute("class").set_value((cell++)->c_str());
    ++row;
  }
}

/// The chances of one design and way of counting, a group size a row.
void add_chances(pugi::xml_node body, const std::vector<const PlannedOption*>& alike,
                 const Plan& plan, std::size_t c) {
  const PlanAim& aim = plan.question.aim;
  const PlanOption& option = alike.front()->option;
  const std::vector<double> efficacies = shown_efficacies(plan, aim.criteria[c]);
  HtmlTable table;
  table.caption = fmt::format(
      "{}, one egg for {:g} EPG. Of 100 tests: called susceptible / called resistant, by what the "
      "drench truly removes",
      capitalised(std::string(to_string(option.design))), option.counting.factor.value());
  table.heads = {"Animals a group", "Eggs a group"};
  for (const double efficacy : efficacies)
    table.heads.push_back(efficacy_text(efficacy));
  table.heads.insert(table.heads.end(), {"Right", "Samples"});
  if (option.counting.cost)
    table.heads.emplace_back("Cost");
  if (option.counting.minutes)
    table.heads.emplace_back("Hours");
  for (const PlannedOption* planned : alike) {
    std::vector<std::string> row{fmt::format("{}", planned->option.group_size),
                                 fmt::format("{:.0f}", planned->needs.eggs_a_group)};
    for (const PlanOutcome& outcome : planned->outcomes)
      if (std::ranges::find(efficacies, outcome.efficacy) != efficacies.end())
        row.push_back(both_calls(outcome, aim.criteria[c], c));
    row.push_back(fmt::format("{:.0f}", 100 * power(*planned, aim, c).value));
    row.push_back(fmt::format("{}", planned->needs.samples));
    if (planned->needs.cost)
      row.push_back(fmt::format("{:.4g}", *planned->needs.cost));
    if (planned->needs.hours)
      row.push_back(fmt::format("{:.1f}", *planned->needs.hours));
    table.rows.push_back(std::move(row));
  }
  add_wide_table(body, table);
}

} // namespace

std::string plan_report(const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  HtmlPage page(fmt::format("Plan of a drench test: {}", plan.question.flock.host),
                plan_page_style);
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", fmt::format("Plan of a drench test: {}", plan.question.flock.host));
  pugi::xml_node advice = add_element(body, "div", "", "advice");
  for (const std::string& sentence : plan_advice(plan))
    add_element(advice, "p", sentence);
  add_facts(body, plan);
  add_element(body, "h2", "How many animals, counted how?");
  add_shaded_table(body, plan);
  for (std::size_t c = 0; c < aim.criteria.size(); ++c) {
    add_element(body, "h2",
                aim.criteria.size() > 1
                    ? fmt::format("What the test would say of {}", classes_text(aim.classes[c]))
                    : "What the test would say");
    add_svg(add_scrolling(add_element(body, "figure"), "div", "What the test would say, a figure"),
            plan_figure(plan, c));
    for (const auto& alike : alike_but_for_size(plan))
      add_chances(body, alike, plan, c);
  }
  add_element(body, "h2", "What stands behind it");
  for (const std::string& note : plan_notes(plan))
    add_element(body, "p", note, "note");
  add_element(body, "p", cautions(), "note");
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), plan.settings.seed),
              "note");
  return page.text();
}

} // namespace eggfall
