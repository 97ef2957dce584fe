#include "report/figures/analysis_figures.hpp"

#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/sample_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace eggfall {
namespace {

constexpr double chart_top = 24;
constexpr double chart_height = 150;
constexpr double none_gap = 20; ///< Below the least count: animals without an egg.
constexpr double before_x = 98;
constexpr double after_x = 178;
constexpr double line_overhang = 12; ///< Of the lines of the scale, beyond the dots.

/// EPG by their logarithm, with a place of its own for none.
class CountScale {
public:
  explicit CountScale(const CountRange& range)
      : low_(std::log(range.least)), high_(std::log(range.most)) {
    if (high_ - low_ < std::log(10.0))
      high_ = low_ + std::log(10.0);
  }

  double y_of(double epg) const {
    const double share = (std::log(epg) - low_) / (high_ - low_);
    return chart_top + chart_height - none_gap - share * (chart_height - none_gap);
  }
  static double at_none() { return chart_top + chart_height; }

  double most() const { return std::exp(high_); }
  double least() const { return std::exp(low_); }

private:
  double low_;
  double high_;
};

void draw_scale(pugi::xml_node parent, const CountScale& scale) {
  const double from = before_x - line_overhang;
  const double to = after_x + line_overhang;
  // A power of ten itself counts, whichever way its logarithm is rounded.
  const int first = static_cast<int>(std::ceil(std::log10(scale.least()) - 1e-9));
  const int last = static_cast<int>(std::floor(std::log10(scale.most()) + 1e-9));
  double lowest = CountScale::at_none();
  for (int each = first; each <= last; ++each) {
    const double tick = std::pow(10.0, each);
    const double y = scale.y_of(tick);
    add_rule(parent, {from, y}, {to, y}, rule_colour, 0.6);
    if (lowest - y < small_size + 2)
      continue;
    lowest = y;
    add_label(parent, {from - 5, y + 4}, fmt::format("{:.12g}", tick), Anchor::end);
  }
  add_rule(parent, {from, CountScale::at_none()}, {to, CountScale::at_none()}, rule_colour, 1,
           "2 3");
  add_label(parent, {from - 5, CountScale::at_none() + 4}, "no egg seen", Anchor::end);
  add_label(parent, {NarrowFigure::margin, 13}, "EPG", Anchor::start);
  add_label(parent, {before_x, 13}, "before", Anchor::middle);
  add_label(parent, {after_x, 13}, "after", Anchor::middle);
}

/// Full where eggs were seen; hollow where none was.
void draw_count(pugi::xml_node parent, double x, const Count& count, const CountScale& scale) {
  const bool none = count.eggs.value() == 0;
  pugi::xml_node dot =
      add_dot(parent, {x, none ? CountScale::at_none() : scale.y_of(count.epg())}, 3.6);
  set(dot, "fill", none ? paper_colour : deep_colour);
  set(dot, "stroke", deep_colour);
}

/// What one egg stands for on an occasion, as a mark: counts between it and none do not exist.
void draw_one_egg(pugi::xml_node parent, double x, const SampleSummary& sample,
                  const CountScale& scale) {
  if (!sample.factor)
    return;
  const double y = scale.y_of(sample.factor->value());
  add_rule(parent, {x - 11, y}, {x + 11, y}, ink, 1.2, "5 2");
}

/// What the marks stand for, in a line of their own each.
std::vector<std::string> one_egg_words(const SampleSummary& before, const SampleSummary& after) {
  const auto words = [](const SampleSummary& sample, const char* when) {
    return fmt::format("one egg{}: {:.4g} EPG", when, sample.factor->value());
  };
  if (before.factor && after.factor && before.factor->value() == after.factor->value())
    return {words(before, "")};
  std::vector<std::string> lines;
  if (before.factor)
    lines.push_back(words(before, " before"));
  if (after.factor)
    lines.push_back(words(after, " after"));
  return lines;
}

std::string slopes(const std::string& name, const std::vector<AnimalResult>& animals,
                   const SampleSummary& before, const SampleSummary& after,
                   const CountRange& range) {
  const CountScale scale(range);
  NarrowFigure figure(
      fmt::format("Each animal before and after, {}", name),
      "A line an animal from its first count to its second, on a logarithmic scale; a hollow dot "
      "on the lowest line is a sample without an egg. The table of animals holds the same numbers.",
      NarrowFigure::panel_width);
  draw_scale(figure.svg(), scale);
  pugi::xml_node lines = add_group(figure.svg(), "animals");
  const auto y_of = [&](const Count& count) {
    return count.eggs.value() == 0 ? CountScale::at_none() : scale.y_of(count.epg());
  };
  for (const AnimalResult& animal : animals)
    if (animal.before && animal.after)
      add_rule(lines, {before_x, y_of(*animal.before)}, {after_x, y_of(*animal.after)}, quiet_ink);
  for (const AnimalResult& animal : animals) {
    if (animal.before)
      draw_count(figure.svg(), before_x, *animal.before, scale);
    if (animal.after)
      draw_count(figure.svg(), after_x, *animal.after, scale);
  }
  draw_one_egg(figure.svg(), before_x, before, scale);
  draw_one_egg(figure.svg(), after_x, after, scale);
  double y = chart_top + chart_height + 22;
  for (const std::string& line : one_egg_words(before, after)) {
    add_rule(figure.svg(), {NarrowFigure::margin, y - 4}, {NarrowFigure::margin + 19, y - 4}, ink,
             1.2, "5 2");
    add_label(figure.svg(), {NarrowFigure::margin + 24, y}, line, Anchor::start);
    y += 16;
  }
  return figure.finished(std::max(y - 10, chart_top + chart_height + 10));
}

/// "white: eggs in 3 of 15 samples after"
std::string samples_with_eggs(const std::string& name, const SampleSummary& after) {
  if (after.animals == 0)
    return fmt::format("{}: none sampled after", name);
  const std::size_t with = after.animals - after.animals_without_eggs;
  return with == 0 ? fmt::format("{}: no egg in {} after", name, sampled_in_words(after))
                   : fmt::format("{}: eggs in {} of {} after", name, with, sampled_in_words(after));
}

constexpr const char* slopes_key =
    "A line an animal, before and after, on a scale on which equal falls are equally steep. "
    "Hollow: no egg seen. Dashed mark: the count that one egg makes.";

} // namespace

std::optional<CountRange> count_range_of(const TrialAnalysis& trial) {
  CountRange range{std::numeric_limits<double>::infinity(), 0};
  const auto include = [&](const std::vector<AnimalResult>& animals) {
    for (const AnimalResult& animal : animals)
      for (const auto& count : {animal.before, animal.after})
        if (count) {
          range.least = std::min(range.least, count->factor.value());
          range.most = std::max({range.most, count->epg(), count->factor.value()});
        }
  };
  for (const GroupAnalysis& group : trial.groups)
    include(group.evidence.animal_results);
  if (trial.control)
    include(trial.control->animal_results);
  if (!std::isfinite(range.least))
    return std::nullopt;
  return range;
}

CaptionedFigure animals_figure(const GroupAnalysis& analysis, const CountRange& range) {
  const GroupEvidence& evidence = analysis.evidence;
  return {
      samples_with_eggs(evidence.group.name, evidence.after),
      slopes(evidence.group.name, evidence.animal_results, evidence.before, evidence.after, range),
      slopes_key};
}

CaptionedFigure animals_figure(const ControlAnalysis& control, const CountRange& range) {
  return {fmt::format("{} (untreated): {}", control.group.name,
                      control.reduction
                          ? fmt::format("{} by {:.0f}%", *control.reduction < 0 ? "rose" : "fell",
                                        100 * std::abs(*control.reduction))
                          : std::string("to compare with")),
          slopes(control.group.name, control.animal_results, control.before, control.after, range),
          slopes_key};
}

} // namespace eggfall
