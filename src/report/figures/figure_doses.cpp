#include "report/figures/analysis_figures.hpp"

#include "base/number_words.hpp"
#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

constexpr SvgBox dose_box{36, 26, 152, 130};
constexpr double axis_lane = 36;

/// Round steps of an axis from 0: 1, 2 or 5 times a power of ten, at most five of them.
double step_for(double most) {
  const double power = std::pow(10.0, std::floor(std::log10(most / 5)));
  for (const double step : {1.0, 2.0, 5.0})
    if (most / (step * power) <= 5)
      return step * power;
  return 10 * power;
}

class DoseScale {
public:
  DoseScale(double most_kg, double most_ml)
      : step_kg_(step_for(most_kg)), step_ml_(step_for(most_ml)),
        end_kg_(step_kg_ * std::ceil(most_kg / step_kg_ + 0.02)),
        end_ml_(step_ml_ * std::ceil(most_ml / step_ml_ + 0.02)) {}

  double x(double kg) const { return dose_box.x + dose_box.width * kg / end_kg_; }
  double y(double ml) const { return dose_box.bottom() - dose_box.height * ml / end_ml_; }
  double end_kg() const { return end_kg_; }
  double end_ml() const { return end_ml_; }

  void draw(pugi::xml_node svg) const {
    add_rule(svg, {dose_box.x, dose_box.bottom()}, {dose_box.right(), dose_box.bottom()}, ink);
    add_rule(svg, {dose_box.x, dose_box.y}, {dose_box.x, dose_box.bottom()}, ink);
    for (int i = 0; i * step_kg_ <= end_kg_ * 1.001; ++i) {
      const double position = x(i * step_kg_);
      add_rule(svg, {position, dose_box.bottom()}, {position, dose_box.bottom() + 4}, ink);
      add_label(svg, {position, dose_box.bottom() + 17}, number(i * step_kg_), Anchor::middle);
    }
    for (int i = 0; i * step_ml_ <= end_ml_ * 1.001; ++i) {
      const double position = y(i * step_ml_);
      add_rule(svg, {dose_box.x - 4, position}, {dose_box.x, position}, ink);
      add_label(svg, {dose_box.x - 8, position + 4}, number(i * step_ml_), Anchor::end);
    }
    add_label(svg, {NarrowFigure::margin, 14}, "dose, mL", Anchor::start);
    add_label(svg, {dose_box.right(), dose_box.bottom() + 32}, "weight, kg", Anchor::end);
  }

private:
  double step_kg_;
  double step_ml_;
  double end_kg_;
  double end_ml_;
};

/// What the label asks, as a line from no weight on, and its words at the end of it.
void draw_label_line(pugi::xml_node svg, const DoseScale& scale, double ml_per_kg) {
  const double kg = std::min(scale.end_kg(), scale.end_ml() / ml_per_kg);
  const SvgPoint end{scale.x(kg), scale.y(kg * ml_per_kg)};
  add_rule(svg, {scale.x(0), scale.y(0)}, end, ink, 1.6);
  add_label(svg, {dose_box.right(), 14}, "line: label", Anchor::end);
}

std::string dose_finding(const std::string& name, const DoseCheck& doses) {
  if (doses.checked == 0)
    return fmt::format("{}: doses given; the label's dose is not in the table", name);
  if (doses.under.empty())
    return fmt::format("{}: every animal got its label dose or more", name);
  const AnimalDose& least = doses.animals[*doses.lowest];
  return fmt::format("{}: {} of {} animals got less than their label dose, {} the least ({:.0f}%)",
                     name, doses.under.size(), doses.checked, least.animal, 100 * *least.share);
}

} // namespace

std::optional<CaptionedFigure> doses_figure(const GroupAnalysis& analysis) {
  const DoseCheck& doses = analysis.field.doses;
  double most_kg = 0;
  double most_ml = 0;
  std::size_t drawn = 0;
  std::optional<double> ml_per_kg;
  for (const AnimalDose& animal : doses.animals)
    if (animal.weight_kg && animal.dose_ml) {
      ++drawn;
      most_kg = std::max(most_kg, *animal.weight_kg);
      most_ml = std::max({most_ml, *animal.dose_ml, animal.needed_ml.value_or(0)});
      if (animal.needed_ml)
        ml_per_kg = *animal.needed_ml / *animal.weight_kg;
    }
  if (drawn < 2 || !(most_ml > 0))
    return std::nullopt;
  const std::string& name = analysis.evidence.group.name;
  NarrowFigure figure(
      fmt::format("Doses against weights, {}", name),
      "A dot an animal: its weight to the right, the dose that it got upward, over the line of the "
      "label's dose; the fuller the dot, the more eggs were left after the drench. The table of "
      "animals holds the same numbers.",
      NarrowFigure::panel_width);
  const DoseScale scale(most_kg, most_ml);
  scale.draw(figure.svg());
  if (ml_per_kg)
    draw_label_line(figure.svg(), scale, *ml_per_kg);
  pugi::xml_node dots = add_group(figure.svg(), "doses");
  for (std::size_t i = 0; i < doses.animals.size(); ++i) {
    const AnimalDose& animal = doses.animals[i];
    if (!animal.weight_kg || !animal.dose_ml)
      continue;
    const SvgPoint place{scale.x(*animal.weight_kg), scale.y(*animal.dose_ml)};
    set(add_dot(dots, place, 4.5), "fill", paper_colour);
    pugi::xml_node dot = add_dot(dots, place, 4.5);
    const auto& fall = analysis.evidence.animal_results.at(i).reduction;
    set(dot, "fill", deep_colour);
    set(dot, "fill-opacity", fall ? std::clamp(1 - *fall, 0.0, 1.0) : 0.0);
    set(dot, "stroke", deep_colour);
    set(dot, "stroke-width", 1.4);
    if (!fall)
      set(dot, "stroke-dasharray", "2 2");
  }
  if (!doses.under.empty() && doses.animals[*doses.lowest].weight_kg) {
    const AnimalDose& least = doses.animals[*doses.lowest];
    const double x = scale.x(*least.weight_kg);
    const std::string tag = cut_to(least.animal, 60);
    const bool at_right = x + 9 + text_units(tag) < figure.right();
    add_label(figure.svg(), {at_right ? x + 9 : x - 9, scale.y(*least.dose_ml) + 4}, tag,
              at_right ? Anchor::start : Anchor::end);
  }
  return CaptionedFigure{dose_finding(name, doses), figure.finished(dose_box.bottom() + axis_lane),
                         "A dot an animal. Below the line: less than its label dose. The fuller "
                         "the dot, the more of its eggs were left; dashed: not known."};
}

} // namespace eggfall
