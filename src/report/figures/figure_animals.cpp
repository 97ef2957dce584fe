#include "report/figures/analysis_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

constexpr double chart_top = 26;
constexpr double height = 190;
constexpr double none_gap = 22; ///< Below the least count: animals without an egg.
constexpr double before_x = 110;
constexpr double after_x = 280;

/// EPG by their logarithm, with a place of its own for none.
class CountScale {
public:
  CountScale(double least, double most) : low_(std::log(least)), high_(std::log(most)) {
    if (high_ - low_ < std::log(10.0))
      high_ = low_ + std::log(10.0);
  }

  double at(double epg) const {
    const double share = (std::log(epg) - low_) / (high_ - low_);
    return chart_top + height - none_gap - share * (height - none_gap);
  }
  static double at_none() { return chart_top + height; }

  double most() const { return std::exp(high_); }
  double least() const { return std::exp(low_); }

private:
  double low_;
  double high_;
};

void draw_scale(pugi::xml_node parent, const CountScale& scale) {
  // A power of ten itself counts, whichever way its logarithm is rounded.
  const int first = static_cast<int>(std::ceil(std::log10(scale.least()) - 1e-9));
  const int last = static_cast<int>(std::floor(std::log10(scale.most()) + 1e-9));
  for (int each = first; each <= last; ++each) {
    const double tick = std::pow(10.0, each);
    add_rule(parent, {before_x - 14, scale.at(tick)}, {after_x + 14, scale.at(tick)}, "#dddddd");
    add_label(parent, {before_x - 20, scale.at(tick) + 4}, fmt::format("{:g}", tick), Anchor::end);
  }
  add_rule(parent, {before_x - 14, CountScale::at_none()}, {after_x + 14, CountScale::at_none()},
           rule_colour, 1, "2 3");
  add_label(parent, {before_x - 20, CountScale::at_none() + 4}, "no egg seen", Anchor::end);
  add_label(parent, {before_x, 14}, "before, EPG", Anchor::middle);
  add_label(parent, {after_x, 14}, "after, EPG", Anchor::middle);
}

/// Full where eggs were seen; hollow where none was.
void draw_count(pugi::xml_node parent, double x, const Count& count, const CountScale& scale) {
  const bool none = count.eggs.value() == 0;
  pugi::xml_node dot =
      add_dot(parent, {x, none ? CountScale::at_none() : scale.at(count.epg())}, 3.6);
  set(dot, "fill", none ? paper_colour : deep_colour);
  set(dot, "stroke", deep_colour);
}

/// What one egg stands for on an occasion, as a mark: counts between it and none do not exist.
void draw_one_egg(pugi::xml_node parent, double x, const SampleSummary& sample,
                  const CountScale& scale) {
  if (!sample.factor)
    return;
  const double y = scale.at(sample.factor->value());
  add_rule(parent, {x - 12, y}, {x + 12, y}, ink, 1.2, "7 3");
  add_label(parent, {x, chart_top + height + 18},
            fmt::format("one egg: {:.3g} EPG", sample.factor->value()), Anchor::middle);
}

} // namespace

std::optional<std::string> animals_figure(const GroupAnalysis& analysis) {
  double least = std::numeric_limits<double>::infinity();
  double most = 0;
  for (const AnimalResult& animal : analysis.evidence.animal_results)
    for (const auto& count : {animal.before, animal.after})
      if (count) {
        least = std::min(least, count->factor.value());
        most = std::max(most, count->epg());
      }
  if (!std::isfinite(least))
    return std::nullopt;
  const CountScale scale(least, std::max(most, least));
  NarrowFigure figure(
      fmt::format("Each animal before and after treatment, {}", analysis.evidence.group.name),
      "A line an animal from its count before treatment to that after, on a logarithmic scale; a "
      "hollow dot on the lowest line is a sample without an egg. The table of animals holds the "
      "same numbers.");
  draw_scale(figure.svg(), scale);
  pugi::xml_node lines = add_group(figure.svg(), "animals");
  const auto y_of = [&](const Count& count) {
    return count.eggs.value() == 0 ? CountScale::at_none() : scale.at(count.epg());
  };
  for (const AnimalResult& animal : analysis.evidence.animal_results)
    if (animal.before && animal.after)
      add_rule(lines, {before_x, y_of(*animal.before)}, {after_x, y_of(*animal.after)}, quiet_ink);
  for (const AnimalResult& animal : analysis.evidence.animal_results) {
    if (animal.before)
      draw_count(figure.svg(), before_x, *animal.before, scale);
    if (animal.after)
      draw_count(figure.svg(), after_x, *animal.after, scale);
  }
  draw_one_egg(figure.svg(), before_x, analysis.evidence.before, scale);
  draw_one_egg(figure.svg(), after_x, analysis.evidence.after, scale);
  return figure.finished(chart_top + height + 26);
}

} // namespace eggfall
