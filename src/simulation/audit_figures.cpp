#include "simulation/audit_figures.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "formats/drawing/inks.hpp"
#include "simulation/coverage_scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t coverage_columns = 4;
constexpr std::size_t verdict_columns = 5;

constexpr double coverage_area_height = 150; ///< So that 90 and 95 lie well apart.
constexpr double dot_radius = 2.6;
constexpr double enough_stroke = 0.4;
constexpr double miss_stroke = 1.3;
constexpr double dots_share = 0.62; ///< Of a category's width, over which its dots are spread.
constexpr double mean_share = 0.84; ///< Of a category's width, for the tick at the mean.
constexpr double mean_stroke = 1.6;
constexpr double goal_stroke = 1.2;
constexpr double nominal_stroke = 0.8;

constexpr double bar_share = 0.72; ///< Of a category's width.
constexpr double segment_stroke = 0.6;
constexpr double strip_height = 5;
constexpr double strip_gap = 3; ///< Between the strip and the bars.
static_assert(strip_height + strip_gap <= panel_headroom);
constexpr double threshold_stroke = 1.3;
constexpr double threshold_overhang = 3;   ///< Below the panel.
constexpr double thresholds_apart = 2.6;   ///< Where two fall into one gap.
constexpr std::string_view dashes = "3 2"; ///< Of the lower threshold.

using Farms = std::vector<const AuditedFarm*>;

template <typename Wanted> Farms estimable_farms(const AuditResult& result, Wanted&& wanted) {
  Farms farms;
  for (const AuditedFarm& audited : result.farms)
    if (estimable(audited.tally) > 0 && wanted(audited))
      farms.push_back(&audited);
  return farms;
}

/// The true efficacies of some farms, sorted, those that differ by rounding alone taken as one.
class Efficacies {
public:
  explicit Efficacies(const Farms& farms) {
    std::set<long long> found;
    for (const AuditedFarm* audited : farms)
      found.insert(rounded(*audited));
    rounded_.assign(found.begin(), found.end());
  }

  std::size_t size() const { return rounded_.size(); }
  double value(std::size_t i) const { return static_cast<double>(rounded_[i]) / fineness; }
  std::size_t index_of(const AuditedFarm& audited) const {
    return static_cast<std::size_t>(std::ranges::lower_bound(rounded_, rounded(audited)) -
                                    rounded_.begin());
  }
  /// How many efficacies are below a threshold.
  std::size_t below(double threshold) const {
    std::size_t i = 0;
    while (i < size() && value(i) < threshold)
      ++i;
    return i;
  }
  /// In percent.
  std::vector<std::string> labels() const {
    std::vector<std::string> labels;
    for (std::size_t i = 0; i < size(); ++i)
      labels.push_back(fmt::format("{:g}", 100 * value(i)));
    return labels;
  }

private:
  static constexpr double fineness = 1e6;

  static long long rounded(const AuditedFarm& audited) {
    return std::llround(fineness * true_efficacy(audited.farm.model));
  }

  std::vector<long long> rounded_;
};

std::string design_heading(Design design) {
  switch (design) {
  case Design::paired:
    return "Paired design: treated animals before and after";
  case Design::two_group:
    return "Two-group design: treated and control animals after";
  case Design::controlled:
    return "Controlled design: treated and control animals before and after";
  case Design::baseline:
    return "Baseline design: treated animals after, control animals before";
  }
  throw CalculationError("a design without a heading");
}

/// The numbers of animals that some farms have, ascending. Dots of each number have a place of
/// their own within a category.
class Herds {
public:
  explicit Herds(const Farms& farms) {
    std::set<std::size_t> found;
    for (const AuditedFarm* audited : farms)
      found.insert(audited->farm.model.animals);
    animals_.assign(found.begin(), found.end());
  }

  const std::vector<std::size_t>& animals() const { return animals_; }

  /// How far the dots of herd i stand to the right of the middle of a category of width 1.
  double offset(std::size_t i) const {
    return animals_.size() == 1
               ? 0
               : dots_share *
                     (static_cast<double>(i) / static_cast<double>(animals_.size() - 1) - 0.5);
  }

private:
  std::vector<std::size_t> animals_;
};

/// A dot is full if its farm's intervals held the truth often enough, and hollow if they did not.
void style_dot(pugi::xml_node dot, bool enough) {
  set(dot, "fill", enough ? deep_colour : paper_colour);
  set(dot, "stroke", enough ? ink : miss_colour);
  set(dot, "stroke-width", enough ? enough_stroke : miss_stroke);
}

void draw_target(pugi::xml_node panel, const SvgBox& box) {
  add_box(panel, box, zone_colour);
}

void draw_goal(pugi::xml_node panel, SvgPoint from, SvgPoint to) {
  const auto line = add_line(panel, from, to);
  set(line, "stroke", ink);
  set(line, "stroke-width", goal_stroke);
}

void draw_nominal(pugi::xml_node panel, SvgPoint from, SvgPoint to) {
  const auto line = add_line(panel, from, to);
  set(line, "stroke", ink);
  set(line, "stroke-width", nominal_stroke);
  set(line, "stroke-dasharray", "5 3");
}

void draw_mean(pugi::xml_node panel, double middle, double width, double y) {
  const auto line = add_line(panel, {middle - width / 2, y}, {middle + width / 2, y});
  set(line, "stroke", line_colour);
  set(line, "stroke-width", mean_stroke);
}

/// Where a coverage stands in a panel.
double coverage_height(const PanelArea& area, double coverage) {
  return area.height_of(stretched_coverage(coverage));
}

void draw_means(pugi::xml_node panel, const PanelArea& area, const Farms& farms, Method method,
                const Efficacies& efficacies) {
  std::vector<double> sums(efficacies.size());
  std::vector<std::size_t> numbers(efficacies.size());
  for (const AuditedFarm* audited : farms)
    if (const MethodTally* tally = tally_of(audited->tally, method)) {
      const std::size_t i = efficacies.index_of(*audited);
      sums[i] += coverage(audited->tally, *tally).value;
      ++numbers[i];
    }
  const auto group = add_group(panel, "means");
  for (std::size_t i = 0; i < efficacies.size(); ++i)
    if (numbers[i] > 0)
      draw_mean(group, area.middle_of(i), mean_share * area.step(),
                coverage_height(area, sums[i] / static_cast<double>(numbers[i])));
}

void draw_dots(pugi::xml_node panel, const PanelArea& area, const Farms& farms, Method method,
               const Efficacies& efficacies, const Herds& herds, double target) {
  for (std::size_t herd = 0; herd < herds.animals().size(); ++herd) {
    const auto group = add_group(panel, "dots");
    for (const AuditedFarm* audited : farms) {
      const MethodTally* tally = tally_of(audited->tally, method);
      if (tally == nullptr || audited->farm.model.animals != herds.animals()[herd])
        continue;
      const double covered = coverage(audited->tally, *tally).value;
      style_dot(
          add_dot(group,
                  {area.middle_of(efficacies.index_of(*audited)) + herds.offset(herd) * area.step(),
                   coverage_height(area, covered)},
                  dot_radius),
          covered >= target);
    }
  }
}

std::vector<std::string> failures(const MethodSummary& summary, double level) {
  std::vector<std::string> lines{fmt::format("{} of {} below {:g}%", summary.below_target,
                                             summary.farms, 100 * coverage_target(level))};
  constexpr double least_shown = 0.0005; // what would not be shown as 0.0%
  if (summary.unusable >= least_shown)
    lines.push_back(fmt::format("no interval in {}", percent(summary.unusable)));
  return lines;
}

Panel coverage_panel(const AuditResult& result, const MethodSummary& summary,
                     const Efficacies& efficacies, const Herds& herds) {
  const Farms farms = estimable_farms(
      result, [&](const AuditedFarm& audited) { return audited.farm.design == summary.design; });
  return {std::string(title(summary.method)), failures(summary, result.settings.level),
          [farms, efficacies, herds, method = summary.method,
           level = result.settings.level](pugi::xml_node panel, const PanelArea& area) {
            const double target = coverage_height(area, coverage_target(level));
            draw_target(panel, {area.box.x, area.box.y, area.box.width, target - area.box.y});
            draw_goal(panel, {area.box.x, target}, {area.box.right(), target});
            const double nominal = coverage_height(area, level);
            draw_nominal(panel, {area.box.x, nominal}, {area.box.right(), nominal});
            draw_means(panel, area, farms, method, efficacies);
            draw_dots(panel, area, farms, method, efficacies, herds, coverage_target(level));
          }};
}

std::vector<PanelSection> coverage_sections(const AuditResult& result,
                                            const std::vector<MethodSummary>& summaries,
                                            const Efficacies& efficacies, const Herds& herds) {
  std::vector<PanelSection> sections;
  for (auto summary = summaries.begin(); summary != summaries.end(); ++summary) {
    if (summary == summaries.begin() || summary->design != std::prev(summary)->design)
      sections.push_back({design_heading(summary->design), "", {}});
    sections.back().panels.push_back(coverage_panel(result, *summary, efficacies, herds));
  }
  return sections;
}

double centre(const SvgBox& box) {
  return box.y + box.height / 2;
}

std::vector<std::vector<LegendKey>> coverage_legend(double level) {
  const double target = 100 * coverage_target(level);
  const auto dot = [](bool enough) {
    return [enough](pugi::xml_node key, const SvgBox& box) {
      style_dot(add_dot(key, {box.middle(), centre(box)}, dot_radius + 1), enough);
    };
  };
  return {
      {{fmt::format("a setting, {:g}% or more", target), dot(true)},
       {fmt::format("a setting below {:g}%", target), dot(false)},
       {"mean at a true efficacy",
        [](pugi::xml_node key, const SvgBox& box) {
          draw_mean(key, box.middle(), box.width, centre(box));
        }}},
      {{fmt::format("the goal: {:g}% and above", target),
        [](pugi::xml_node key, const SvgBox& box) {
          draw_target(key, {box.x, box.y, box.width, box.height});
          draw_goal(key, {box.x, box.bottom()}, {box.right(), box.bottom()});
        }},
       {fmt::format("{:g}%: as promised", 100 * level), [](pugi::xml_node key, const SvgBox& box) {
          draw_nominal(key, {box.x, centre(box)}, {box.right(), centre(box)});
        }}}};
}

/// Words that tell which dots, from left to right, are of farms with how many animals.
std::string herd_words(const AuditResult& result, const Herds& herds) {
  const bool pools = std::ranges::any_of(result.farms, [](const AuditedFarm& audited) {
    return audited.farm.model.animals_in_pool > 1;
  });
  const std::string_view what = pools ? "animals or pools" : "treated animals";
  std::vector<std::string> numbers;
  for (const std::size_t animals : herds.animals())
    numbers.push_back(fmt::format("{}", animals));
  return numbers.size() == 1
             ? fmt::format("All are of {} {}.", numbers.front(), what)
             : fmt::format("Above one efficacy they stand by the number of {}, from left to "
                           "right {}.",
                           what, in_words(numbers));
}

std::string coverage_words(const std::vector<MethodSummary>& summaries, double level) {
  std::string words;
  for (const MethodSummary& summary : summaries)
    words += fmt::format("{}{} design; {}: {} of {} settings below {:g}%, mean {}, worst {}.",
                         words.empty() ? "" : " ", to_string(summary.design), title(summary.method),
                         summary.below_target, summary.farms, 100 * coverage_target(level),
                         percent(summary.mean_coverage), percent(summary.worst.value));
  return words;
}

/// In how many of all settings, over all designs, one method held the truth often enough.
struct EnoughSettings {
  Method method = Method::guarded_posterior;
  std::size_t enough = 0;
  std::size_t farms = 0;

  double value() const { return static_cast<double>(enough) / static_cast<double>(farms); }
  std::string words() const {
    return fmt::format("in {} of {} ({})", enough, farms, title(method));
  }
};

std::string coverage_finding(const std::vector<MethodSummary>& summaries, double level) {
  std::vector<EnoughSettings> methods;
  for (const MethodSummary& summary : summaries) {
    auto found = std::ranges::find(methods, summary.method, &EnoughSettings::method);
    if (found == methods.end())
      found = methods.insert(methods.end(), {summary.method, 0, 0});
    found->enough += summary.farms - summary.below_target;
    found->farms += summary.farms;
  }
  std::string finding = fmt::format(
      "The {:g}% interval of the {} held the truth often enough, in {:g} of 100 trials or more, in "
      "{} of {} settings",
      100 * level, title(methods.front().method), 100 * coverage_target(level),
      methods.front().enough, methods.front().farms);
  methods.erase(methods.begin());
  if (methods.size() == 1)
    finding += fmt::format(", another {}", methods.front().words());
  if (methods.size() > 1) {
    const auto [least, most] = std::ranges::minmax_element(methods, {}, &EnoughSettings::value);
    finding +=
        fmt::format("; of the others the best {}, the worst {}", most->words(), least->words());
  }
  return finding + ".";
}

struct VerdictColour {
  VerdictClass verdict_class;
  std::string_view fill;
};

/// From the bottom of a bar to its top. Neighbours differ in lightness, for a print in grey; no
/// class is red or green; the pale one is the one that says least. Low resistant and suspected are
/// never classes of one criterion.
constexpr std::array<VerdictColour, verdict_classes> verdict_colours{{
    {VerdictClass::resistant, resistant_colour},
    {VerdictClass::suspected, suspected_colour},
    {VerdictClass::low_resistant, low_resistant_colour},
    {VerdictClass::inconclusive, inconclusive_colour},
    {VerdictClass::susceptible, susceptible_colour},
    {VerdictClass::not_applicable, paper_colour},
}};

std::string_view fill_of(VerdictClass verdict_class) {
  return std::ranges::find(verdict_colours, verdict_class, &VerdictColour::verdict_class)->fill;
}

void draw_verdict(pugi::xml_node parent, const SvgBox& box, VerdictClass verdict_class) {
  const auto node = add_box(parent, box, fill_of(verdict_class));
  set(node, "stroke", verdict_class == VerdictClass::not_applicable ? line_colour : ink);
  set(node, "stroke-width", segment_stroke);
}

void draw_bar(pugi::xml_node panel, const PanelArea& area, std::size_t category,
              const VerdictShares& shares) {
  const auto bar = add_group(panel, "bar");
  const double width = bar_share * area.step();
  double sum = 0;
  for (const VerdictColour& colour : verdict_colours) {
    const double share = shares[static_cast<std::size_t>(colour.verdict_class)];
    if (share == 0)
      continue;
    const double bottom = area.height_of(sum);
    sum += share;
    const double top = area.height_of(sum);
    draw_verdict(bar, {area.middle_of(category) - width / 2, top, width, bottom - top},
                 colour.verdict_class);
  }
}

void draw_deserved(pugi::xml_node panel, const PanelArea& area, const AuditCriterion& criterion,
                   const Efficacies& efficacies) {
  const auto strip = add_group(panel, "deserved");
  for (std::size_t i = 0; i < efficacies.size(); ++i)
    add_box(strip,
            {area.left_of(i), area.box.y - strip_gap - strip_height, area.step(), strip_height},
            fill_of(deserved_verdict(criterion, efficacies.value(i))));
}

void style_threshold(pugi::xml_node line, std::string_view dash_array) {
  set(line, "stroke", ink);
  set(line, "stroke-width", threshold_stroke);
  set(line, "stroke-dasharray", dash_array);
}

void draw_thresholds(pugi::xml_node panel, const PanelArea& area, const CutOff& cut_off,
                     const Efficacies& efficacies) {
  const auto group = add_group(panel, "thresholds");
  const auto draw = [&](double x, std::string_view dash_array) {
    style_threshold(
        add_line(group, {x, area.box.y - strip_gap}, {x, area.box.bottom() + threshold_overhang}),
        dash_array);
  };
  const std::size_t expected = efficacies.below(cut_off.expected);
  const bool one_gap = cut_off.lower && efficacies.below(*cut_off.lower) == expected;
  const double apart = one_gap ? thresholds_apart / 2 : 0;
  if (cut_off.lower)
    draw(area.left_of(efficacies.below(*cut_off.lower)) - apart, dashes);
  draw(area.left_of(expected) + apart, "none");
}

Panel verdict_panel(const AuditCriterion& criterion, std::size_t number, Method method,
                    const Farms& farms, const Efficacies& efficacies) {
  return {std::string(title(method)),
          criterion.method == method ? std::vector<std::string>{"its own method"}
                                     : std::vector<std::string>{},
          [=, &criterion](pugi::xml_node panel, const PanelArea& area) {
            for (std::size_t i = 0; i < efficacies.size(); ++i) {
              Farms here = farms;
              std::erase_if(here, [&](const AuditedFarm* audited) {
                return efficacies.index_of(*audited) != i ||
                       tally_of(audited->tally, method) == nullptr;
              });
              if (!here.empty())
                draw_bar(panel, area, i, mean_verdict_shares(here, method, number));
            }
            draw_deserved(panel, area, criterion, efficacies);
            draw_thresholds(panel, area, criterion.cut_off, efficacies);
          }};
}

std::string thresholds_text(const AuditCriterion& criterion) {
  const std::string expected =
      fmt::format("expected efficacy {:g}%", 100 * criterion.cut_off.expected);
  const std::string both =
      criterion.cut_off.lower
          ? fmt::format("{}, lower threshold {:g}%", expected, 100 * *criterion.cut_off.lower)
          : expected;
  switch (criterion.rule) {
  case Rule::two_one_sided:
    return fmt::format("Two one-sided tests by a {:g}% interval; {}.", 100 * criterion.level, both);
  case Rule::reduction_and_lower_limit:
    return fmt::format("The reduction and the lower limit of a {:g}% interval; {}.",
                       100 * criterion.level, both);
  case Rule::reduction_alone:
    return fmt::format("The reduction alone, with no interval; {}.", both);
  }
  throw CalculationError("a rule without a description");
}

PanelSection verdict_section(const AuditCriterion& criterion, std::size_t number,
                             const std::vector<Method>& methods, const Farms& farms,
                             const Efficacies& efficacies) {
  PanelSection section{criterion.title, thresholds_text(criterion), {}};
  for (const Method method : methods)
    section.panels.push_back(verdict_panel(criterion, number, method, farms, efficacies));
  if (criterion.rule == Rule::reduction_alone) {
    section.panels.resize(1); // without an interval all methods are the same
    section.panels.front().title = "any method";
    section.panels.front().notes.clear();
  }
  return section;
}

/// Whether a method has a panel. The percentile bootstrap and the intervals by egg totals, which
/// take all animals for alike, would only crowd out the others, unless a criterion demands one of
/// them.
bool is_shown(Method method, const std::vector<AuditCriterion>& criteria) {
  return std::ranges::any_of(criteria,
                             [&](const AuditCriterion& each) { return each.method == method; }) ||
         (method != Method::bootstrap_percentile && method != Method::egg_totals_jeffreys &&
          method != Method::egg_totals_exact);
}

std::vector<Method> shown_methods(const AuditSettings& settings, Design design) {
  std::vector<Method> methods = audited_methods(settings, design);
  if (std::ranges::any_of(methods,
                          [&](Method method) { return is_shown(method, settings.criteria); }))
    std::erase_if(methods, [&](Method method) { return !is_shown(method, settings.criteria); });
  return methods;
}

std::vector<std::vector<LegendKey>> verdict_legend() {
  std::vector<std::vector<LegendKey>> legend(2);
  for (const VerdictColour& colour : verdict_colours)
    legend[0].push_back({std::string(to_string(colour.verdict_class)),
                         [&colour](pugi::xml_node key, const SvgBox& box) {
                           draw_verdict(key, box, colour.verdict_class);
                         }});
  const auto threshold = [](std::string_view dash_array) {
    return [dash_array](pugi::xml_node key, const SvgBox& box) {
      style_threshold(add_line(key, {box.middle(), box.y}, {box.middle(), box.bottom()}),
                      dash_array);
    };
  };
  legend[1].push_back({"lower threshold", threshold(dashes)});
  legend[1].push_back({"expected efficacy", threshold("none")});
  return legend;
}

/// How often trials got the class that the truth itself has, where that is worst and best.
std::string verdict_finding(const AuditResult& result, Design design) {
  std::vector<EfficacySummary> summaries = efficacy_summaries(result, 0);
  std::erase_if(summaries, [&](const EfficacySummary& each) { return each.design != design; });
  if (summaries.empty())
    return fmt::format("Which class each criterion gave under the {} design.", to_string(design));
  const AuditCriterion& criterion = result.settings.criteria.front();
  const auto share_and_verdict = [&](const EfficacySummary& each) {
    const VerdictClass deserved = deserved_verdict(criterion, each.efficacy);
    return std::pair(fmt::format("{:.0f} of 100 trials",
                                 100 * each.verdicts[static_cast<std::size_t>(deserved)]),
                     fmt::format("{:g}% ({})", 100 * each.efficacy, to_string(deserved)));
  };
  const auto [lowest, its_class] = share_and_verdict(summaries.front());
  std::string finding = fmt::format(
      "By {}, {} design: {} give a drench the class that it deserves where it removes {}",
      criterion.title, to_string(design), lowest, its_class);
  if (summaries.size() > 1) {
    const auto [highest, other_class] = share_and_verdict(summaries.back());
    finding += fmt::format(", and {} where it removes {}", highest, other_class);
  }
  return finding + ".";
}

} // namespace

std::vector<Design> designs_to_draw(const AuditResult& result) {
  std::vector<Design> designs = audited_designs(result);
  std::erase_if(designs, [&](Design design) {
    return audited_methods(result.settings, design).empty() ||
           std::ranges::none_of(result.farms, [&](const AuditedFarm& audited) {
             return audited.farm.design == design && estimable(audited.tally) > 0;
           });
  });
  return designs;
}

PanelFigure coverage_panels(const AuditResult& result) {
  const Farms farms = estimable_farms(result, [](const AuditedFarm&) { return true; });
  const std::vector<MethodSummary> summaries = method_summaries(result);
  if (summaries.empty())
    throw InputError("a figure of an audit: found no method, or no trial with a reduction; "
                     "expected at least one of each");
  const Efficacies efficacies(farms);
  const Herds herds(farms);
  PanelFigure figure;
  figure.title = coverage_finding(summaries, result.settings.level);
  figure.how_to_read = fmt::format(
      "Each dot is one simulated setting: the share of its trials whose interval held the truth. "
      "No interval counts as a miss. A method fails where its dots lie below the shaded band; "
      "under its name stands how many of its settings do. {} The axis upward is stretched by the "
      "logarithm of the misses: each step of one height halves them. Fewer than 1 miss in {:g} "
      "trials stand at 100.",
      herd_words(result, herds), 1 / rarest_miss);
  figure.description = coverage_words(summaries, result.settings.level);
  figure.legend = coverage_legend(result.settings.level);
  figure.categories = efficacies.labels();
  figure.x_title = "true efficacy, %";
  figure.y_title = "coverage, %, stretched";
  figure.area_height = coverage_area_height;
  figure.y_ticks.clear();
  for (const double mark : coverage_marks)
    figure.y_ticks.push_back({stretched_coverage(mark), fmt::format("{:g}", 100 * mark)});
  figure.columns = coverage_columns;
  figure.sections = coverage_sections(result, summaries, efficacies, herds);
  return figure;
}

PanelFigure verdict_panels(const AuditResult& result, Design design) {
  const Farms farms = estimable_farms(
      result, [&](const AuditedFarm& audited) { return audited.farm.design == design; });
  const std::vector<AuditCriterion>& criteria = result.settings.criteria;
  const std::vector<Method> methods = shown_methods(result.settings, design);
  if (farms.empty() || criteria.empty() || methods.empty())
    throw InputError(
        fmt::format("a figure of verdicts under the design {}: found {}; expected at least one",
                    to_string(design),
                    farms.empty()      ? "no trial with a reduction"
                    : criteria.empty() ? "no criterion"
                                       : "no method of this design"));
  const Efficacies efficacies(farms);
  PanelFigure figure;
  figure.title = verdict_finding(result, design);
  figure.how_to_read =
      "A bar shows how the trials at one true efficacy were classed, as a mean over the simulated "
      "settings. The thin strip above it has the colour of the class that the true efficacy itself "
      "would be given. Not applicable: no interval, or no egg to compare with.";
  figure.description =
      "Stacked bars by true efficacy, one panel a criterion and method: the share of simulated "
      "trials given each class.";
  figure.legend = verdict_legend();
  figure.categories = efficacies.labels();
  figure.x_title = "true efficacy, %";
  figure.y_title = "share of trials, %";
  figure.columns = std::min(methods.size(), verdict_columns);
  for (std::size_t c = 0; c < criteria.size(); ++c)
    figure.sections.push_back(verdict_section(criteria[c], c, methods, farms, efficacies));
  return figure;
}

std::string coverage_figure(const AuditResult& result) {
  return drawn(coverage_panels(result));
}

std::string verdict_figure(const AuditResult& result, Design design) {
  return drawn(verdict_panels(result, design));
}

} // namespace eggfall
