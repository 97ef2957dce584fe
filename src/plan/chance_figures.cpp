#include "plan/plan_page.hpp"

#include "base/text.hpp"
#include "formats/drawing/panel_figure.hpp"
#include "formats/drawing/svg_drawing.hpp"
#include "plan/plan_text.hpp"
#include "plan/plan_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

/// A group size's line: told apart by dashes and marks, and only then by shade.
struct CurveStyle {
  std::string_view dashes;
  std::string_view colour;
  double dot = 0; ///< Radius; negative: a hollow one.
};

constexpr std::array<CurveStyle, 6> curve_styles{{{"1 3", "#7a4b12", 2},
                                                  {"5 3", "#7a4b12", -2.6},
                                                  {"9 3 2 3", "#1b5e78", 2.4},
                                                  {"12 4", "#1b5e78", -3},
                                                  {"none", "#14323f", 2.4},
                                                  {"none", "#14323f", -3.2}}};

const CurveStyle& style_of(std::size_t size_index) {
  return curve_styles[std::min(size_index, curve_styles.size() - 1)];
}

void draw_mark(pugi::xml_node parent, SvgPoint at, const CurveStyle& style) {
  pugi::xml_node dot = add_dot(parent, at, std::abs(style.dot));
  set(dot, "fill", style.dot < 0 ? std::string_view("#ffffff") : style.colour);
  set(dot, "stroke", style.colour);
}

void draw_line(pugi::xml_node parent, SvgPoint from, SvgPoint to, const CurveStyle& style) {
  pugi::xml_node line = add_line(parent, from, to);
  set(line, "stroke", style.colour);
  set(line, "stroke-width", 1.5);
  set(line, "stroke-dasharray", style.dashes);
}

using ChanceOf = double (*)(const PlanOutcome&, const AuditCriterion&, std::size_t);

double susceptible(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t c) {
  return chance(outcome, criterion, c, VerdictClass::susceptible).value;
}

double resistant(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t c) {
  return called_resistant(outcome, criterion, c).value;
}

/// The outcomes shown, from the lowest true efficacy to the highest.
std::vector<const PlanOutcome*> rising(const PlannedOption& planned,
                                       const std::vector<double>& efficacies) {
  std::vector<const PlanOutcome*> shown;
  for (const PlanOutcome& outcome : planned.outcomes)
    if (std::ranges::find(efficacies, outcome.efficacy) != efficacies.end())
      shown.insert(shown.begin(), &outcome);
  return shown;
}

Panel panel_of(std::string title, ChanceOf of, std::vector<const PlannedOption*> options,
               const Plan& plan, std::size_t c) {
  return {std::move(title),
          {},
          [of, options = std::move(options), &plan, c](pugi::xml_node node, const PanelArea& area) {
            const AuditCriterion& criterion = plan.question.aim.criteria[c];
            const std::vector<double> efficacies = shown_efficacies(plan, criterion);
            for (std::size_t size = 0; size < options.size(); ++size) {
              const auto outcomes = rising(*options[size], efficacies);
              const auto at = [&](std::size_t i) {
                return SvgPoint{area.middle_of(i), area.height_of(of(*outcomes[i], criterion, c))};
              };
              for (std::size_t i = 1; i < outcomes.size(); ++i)
                draw_line(node, at(i - 1), at(i), style_of(size));
              for (std::size_t i = 0; i < outcomes.size(); ++i)
                draw_mark(node, at(i), style_of(size));
            }
          }};
}

std::vector<LegendKey> legend(const Plan& plan) {
  std::vector<LegendKey> keys;
  const std::vector<std::size_t> sizes = group_sizes(plan);
  for (std::size_t i = 0; i < sizes.size(); ++i)
    keys.push_back(
        {fmt::format("{} animals", sizes[i]), [i](pugi::xml_node key, const SvgBox& box) {
           const double y = box.y + box.height / 2;
           draw_line(key, {box.x, y}, {box.right(), y}, style_of(i));
           draw_mark(key, {box.middle(), y}, style_of(i));
         }});
  return keys;
}

} // namespace

std::string plan_figure(const Plan& plan, std::size_t criterion) {
  const PlanAim& aim = plan.question.aim;
  const std::string classes = classes_text(aim.classes.at(criterion));
  PanelFigure figure;
  figure.title =
      aim.criteria.size() > 1
          ? fmt::format("What a test of {} would say, by what the drench truly removes", classes)
          : "What the test would say, by what the drench truly removes";
  figure.how_to_read =
      "Each mark is a share of simulated tests, one line a group size. A good design "
      "is high on the right of the first panel, high on the left of the second, "
      "and low in the third.";
  figure.description = "Lines of chance against true efficacy, one a group size, in three panels a "
                       "design: called susceptible, called resistant, no clear answer. The table "
                       "holds the same numbers.";
  figure.legend = {legend(plan)};
  std::vector<double> efficacies = shown_efficacies(plan, aim.criteria[criterion]);
  std::ranges::reverse(efficacies);
  for (const double efficacy : efficacies)
    figure.categories.push_back(fmt::format("{:g}", 100 * efficacy));
  figure.x_title = "truly removes, %";
  figure.y_title = "of 100 tests";
  figure.columns = 3;
  for (const std::vector<const PlannedOption*>& alike : alike_but_for_size(plan)) {
    const PlanOption& option = alike.front()->option;
    PanelSection section{fmt::format("{}, one egg for {:g} EPG",
                                     capitalised(std::string(to_string(option.design))),
                                     option.counting.factor.value()),
                         fmt::format("About {:.2g} eggs a sample before treatment.",
                                     alike.front()->needs.eggs_a_sample),
                         {}};
    section.panels.push_back(panel_of("called susceptible", susceptible, alike, plan, criterion));
    section.panels.push_back(panel_of("called resistant", resistant, alike, plan, criterion));
    section.panels.push_back(panel_of("no clear answer", unclear, alike, plan, criterion));
    figure.sections.push_back(std::move(section));
  }
  return drawn(figure);
}

} // namespace eggfall
