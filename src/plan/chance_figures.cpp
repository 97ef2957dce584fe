#include "plan/chance_figures.hpp"

#include "base/text.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "plan/plan_text.hpp"
#include "plan/plan_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr double above_plot = 24; ///< For the words of the two kinds of line.
constexpr double plot_height = 170;
constexpr double y_ticks_width = 26;
constexpr double ticks_apart = 8;    ///< From the numbers at lines' ends.
constexpr double to_label = 9;       ///< From the end of a line to the number at it.
constexpr double label_pitch = 15;   ///< Of two numbers at lines' ends, at least.
constexpr double above_x_labels = 5; ///< Of the lowest number at a line, to stay clear of them.
constexpr double sample_width = 20;  ///< Of a line, beside its words.
constexpr double digit_half = 4.3;
constexpr std::string_view resistant_dashes = "5 3";
constexpr double thick_line = 2.6;
constexpr double thin_line = 1;

/// Where one figure draws.
struct Plot {
  double left = 0;
  double right = 0;
  std::vector<double> efficacies; ///< Rising.

  double x(std::size_t i) const {
    return efficacies.size() < 2 ? left
                                 : left + (right - left) * static_cast<double>(i) /
                                              static_cast<double>(efficacies.size() - 1);
  }
  static double y(double share) { return above_plot + (1 - share) * plot_height; }
  static double bottom() { return above_plot + plot_height; }
};

/// The lines of one group size.
struct SizeLines {
  std::size_t size = 0;
  bool chosen = false;
  std::vector<double> susceptible; ///< By rising efficacy.
  std::vector<double> resistant;
};

SizeLines lines_of(const PlannedOption& planned, const Plan& plan, std::size_t c,
                   const std::vector<double>& efficacies) {
  const AuditCriterion& criterion = plan.question.aim.criteria[c];
  SizeLines lines{planned.option.group_size, &planned == &shown_option(plan), {}, {}};
  for (const double efficacy : efficacies) {
    const PlanOutcome& outcome =
        *std::ranges::find(planned.outcomes, efficacy, &PlanOutcome::efficacy);
    lines.susceptible.push_back(chance(outcome, criterion, c, VerdictClass::susceptible).value);
    lines.resistant.push_back(called_resistant(outcome, criterion, c).value);
  }
  return lines;
}

/// Heights of labels beside these, each as near as can be with room between them.
std::vector<double> with_room(const std::vector<double>& wanted) {
  std::vector<std::size_t> order(wanted.size());
  for (std::size_t i = 0; i < order.size(); ++i)
    order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return wanted[i]; });
  std::vector<double> heights = wanted;
  double least = 0;
  for (const std::size_t i : order) {
    heights[i] = std::max(heights[i], least);
    least = heights[i] + label_pitch;
  }
  double most = Plot::bottom() - above_x_labels;
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    heights[*i] = std::min(heights[*i], most);
    most = heights[*i] - label_pitch;
  }
  return heights;
}

void draw_axes(pugi::xml_node svg, const Plot& plot, double power) {
  const pugi::xml_node grid = add_group(svg, "grid");
  const auto tick = [&](double share) {
    return add_label(grid, {y_ticks_width - 2, Plot::y(share) + digit_half},
                     fmt::format("{:g}", 100 * share), Anchor::end);
  };
  constexpr double too_near = 0.08;
  for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    add_rule(grid, {plot.left, Plot::y(share)}, {plot.right, Plot::y(share)}, rule_colour, 0.5);
    if (std::abs(share - power) > too_near)
      tick(share);
  }
  set(tick(power), "font-weight", "bold");
  add_rule(grid, {plot.left, Plot::y(power)}, {plot.right, Plot::y(power)}, ink, thin_line, "1 2");
  double free_from = 0;
  const std::size_t last = plot.efficacies.size() - 1;
  const auto label = [&](std::size_t i) { return fmt::format("{:g}", 100 * plot.efficacies[i]); };
  const double last_left = plot.x(last) - text_units(label(last)) / 2;
  for (std::size_t i = 0; i <= last; ++i) {
    const double half = text_units(label(i)) / 2;
    const bool has_room =
        plot.x(i) - half >= free_from && (i == last || plot.x(i) + half < last_left);
    add_rule(grid, {plot.x(i), Plot::bottom()}, {plot.x(i), Plot::bottom() + 3}, line_colour);
    if (!has_room)
      continue;
    add_label(grid, {plot.x(i), Plot::bottom() + 16}, label(i), Anchor::middle);
    free_from = plot.x(i) + half;
  }
  add_label(grid, {(plot.left + plot.right) / 2, Plot::bottom() + 31}, "drench truly removes, %",
            Anchor::middle);
}

void draw_line(pugi::xml_node group, const Plot& plot, const std::vector<double>& shares,
               bool chosen, std::string_view dashes) {
  const std::string_view colour = chosen ? deep_colour : line_colour;
  for (std::size_t i = 1; i < shares.size(); ++i)
    add_rule(group, {plot.x(i - 1), Plot::y(shares[i - 1])}, {plot.x(i), Plot::y(shares[i])},
             colour, chosen ? thick_line : thin_line, dashes);
  if (chosen)
    for (std::size_t i = 0; i < shares.size(); ++i)
      set(add_dot(group, {plot.x(i), Plot::y(shares[i])}, thick_line + 0.6), "fill", deep_colour);
}

std::string size_label(std::size_t size, bool with_what) {
  return with_what ? fmt::format("{} animals", size) : fmt::format("{}", size);
}

/// Of more sizes than there is room for, the smallest, the largest and the chosen.
bool is_labelled(const SizeLines& lines, const std::vector<SizeLines>& all) {
  constexpr auto most = static_cast<std::size_t>(plot_height / label_pitch);
  if (all.size() <= most)
    return true;
  const auto [fewest, largest] = std::ranges::minmax(all, {}, &SizeLines::size);
  return lines.chosen || lines.size == fewest.size || lines.size == largest.size;
}

void draw_end_labels(pugi::xml_node svg, const Plot& plot, const std::vector<SizeLines>& all) {
  std::vector<const SizeLines*> labelled;
  for (const SizeLines& lines : all)
    if (is_labelled(lines, all))
      labelled.push_back(&lines);
  for (const bool right : {false, true}) {
    std::vector<double> ends;
    for (const SizeLines* lines : labelled)
      ends.push_back(Plot::y(right ? lines->susceptible.back() : lines->resistant.front()));
    const std::vector<double> heights = with_room(ends);
    const double from = right ? plot.right : plot.left;
    const double side = right ? 1 : -1;
    for (std::size_t i = 0; i < labelled.size(); ++i) {
      const bool chosen = labelled[i]->chosen;
      add_rule(svg, {from + side * (chosen ? 4 : 2), ends[i]},
               {from + side * (to_label - 2), heights[i]}, chosen ? deep_colour : line_colour, 0.7);
      pugi::xml_node label = add_label(svg, {from + side * to_label, heights[i] + digit_half},
                                       size_label(labelled[i]->size, right && chosen),
                                       right ? Anchor::start : Anchor::end);
      set(label, "fill", chosen ? deep_colour : quiet_ink);
      if (chosen)
        set(label, "font-weight", "bold");
    }
  }
}

/// What the two kinds of line are, each beside a piece of it.
void draw_line_words(pugi::xml_node svg, double right) {
  const double y = 12;
  const double middle = y - digit_half;
  const double left = NarrowFigure::margin;
  constexpr double gap = 4;
  constexpr double sample_stroke = 1.6;
  add_rule(svg, {left, middle}, {left + sample_width, middle}, ink, sample_stroke,
           resistant_dashes);
  add_label(svg, {left + sample_width + gap, y}, "called resistant", Anchor::start);
  add_label(svg, {right - sample_width - gap, y}, "called susceptible", Anchor::end);
  add_rule(svg, {right - sample_width, middle}, {right, middle}, ink, sample_stroke);
}

std::string way_text(const PlanOption& option) {
  return fmt::format("{}, one egg for {:g} EPG", capitalised(std::string(to_string(option.design))),
                     option.counting.factor.value());
}

/// Which group sizes will do, counted so.
std::string finding_of(const std::vector<const PlannedOption*>& alike, const PlanAim& aim,
                       std::size_t c) {
  const PlannedOption* smallest = nullptr;
  for (const PlannedOption* planned : alike)
    if (power(*planned, aim, c).value >= aim.power &&
        (smallest == nullptr || planned->option.group_size < smallest->option.group_size))
      smallest = planned;
  const std::string way = way_text(alike.front()->option);
  if (smallest == nullptr)
    return fmt::format("{}: none of these group sizes reaches {:g} right answers of 100 both ways.",
                       way, 100 * aim.power);
  return fmt::format("{}: {:g} right answers of 100 both ways are reached from {} animals a group.",
                     way, 100 * aim.power, smallest->option.group_size);
}

/// Room for the numbers at the lines' ends, the same in all figures, so that their axes are.
struct Margins {
  double left = 0;
  double right = 0;
};

Margins margins_of(const Plan& plan) {
  constexpr double bold = 1.06;
  Margins margins{0, bold * text_units(size_label(shown_option(plan).option.group_size, true))};
  for (const std::size_t size : group_sizes(plan)) {
    margins.left = std::max(margins.left, bold * text_units(size_label(size, false)));
    margins.right = std::max(margins.right, text_units(size_label(size, false)));
  }
  return margins;
}

CaptionedFigure figure_of_way(const std::vector<const PlannedOption*>& alike, const Plan& plan,
                              std::size_t c) {
  std::vector<double> efficacies = shown_efficacies(plan, plan.question.aim.criteria[c]);
  std::ranges::reverse(efficacies);
  std::vector<SizeLines> all;
  for (const PlannedOption* planned : alike)
    all.push_back(lines_of(*planned, plan, c, efficacies));
  // The chosen last, so that it lies above the others.
  std::stable_partition(all.begin(), all.end(),
                        [](const SizeLines& lines) { return !lines.chosen; });
  const std::string finding = finding_of(alike, plan.question.aim, c);
  NarrowFigure figure(finding,
                      "Lines of chance against true efficacy, two a group size: called resistant, "
                      "and called susceptible. A table holds the same numbers.");
  const Margins margins = margins_of(plan);
  const Plot plot{y_ticks_width + ticks_apart + margins.left + to_label,
                  figure.right() - margins.right - to_label, efficacies};
  draw_axes(figure.svg(), plot, plan.question.aim.power);
  for (const SizeLines& lines : all) {
    const pugi::xml_node group = add_group(figure.svg(), lines.chosen ? "chosen" : "other");
    draw_line(group, plot, lines.resistant, lines.chosen, resistant_dashes);
    draw_line(group, plot, lines.susceptible, lines.chosen, "");
  }
  draw_end_labels(figure.svg(), plot, all);
  draw_line_words(figure.svg(), figure.right());
  return {finding, figure.finished(Plot::bottom() + 36),
          fmt::format("About {:.2g} eggs a sample before treatment.",
                      alike.front()->needs.eggs_a_sample)};
}

} // namespace

std::vector<CaptionedFigure> chance_figures(const Plan& plan, std::size_t criterion) {
  std::vector<CaptionedFigure> figures;
  for (const std::vector<const PlannedOption*>& alike : alike_but_for_size(plan))
    figures.push_back(figure_of_way(alike, plan, criterion));
  return figures;
}

} // namespace eggfall
