#include "survey/standings_figure.hpp"

#include "eggfall/survey/survey_summary.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"
#include "survey/standing_marks.hpp"
#include "survey/survey_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

namespace eggfall {
namespace {

constexpr double stratum_name_line = 16;
constexpr double stacked_height = 13;
constexpr double limits_lane = 12;
constexpr double strata_apart = 6;
constexpr double axis_below = 20;

/// The columns that any of the strata has, from left to right, ordered so that what may be
/// resistant follows what is.
std::vector<VerdictColumn> parts_of(Rule rule, const Breakdown& breakdown) {
  const std::vector<VerdictColumn> columns = verdict_columns(rule);
  std::vector<VerdictColumn> parts;
  for (const VerdictClass wanted : {VerdictClass::resistant, VerdictClass::low_resistant,
                                    VerdictClass::inconclusive, VerdictClass::susceptible})
    for (const VerdictColumn& column : columns)
      if (column.classes.front() == wanted &&
          std::ranges::any_of(breakdown.strata, [&](const auto& entry) {
            return groups_in(column, entry.second) > 0;
          }))
        parts.push_back(column);
  return parts;
}

/// The samples of all parts, in as many lines as they need; gives where the next would begin.
double draw_parts_key(pugi::xml_node parent, const std::vector<VerdictColumn>& parts, double top,
                      double right) {
  constexpr double sample = 18;
  constexpr double line = 18;
  double x = NarrowFigure::margin;
  double y = top;
  for (const VerdictColumn& part : parts) {
    const double needed = sample + 5 + text_units(part.name) + 8;
    if (x + needed > right && x > NarrowFigure::margin) {
      x = NarrowFigure::margin;
      y += line;
    }
    add_standing_box(parent, {x, y + 1, sample, 11}, part.classes.front());
    add_label(parent, {x + sample + 5, y + 11}, part.name, Anchor::start);
    x += needed;
  }
  return y + line + 4;
}

std::string tested_words(const StratumSummary& summary, std::uint64_t resistant) {
  const std::uint64_t none = summary.tested - summary.judged;
  if (summary.judged == 0)
    return fmt::format("{} tested, no class", summary.tested);
  return fmt::format("{} of {} resistant{}", resistant, summary.judged,
                     none == 0 ? "" : fmt::format("; {} no class", none));
}

/// The axis of shares from 0 to 1.
struct ShareScale {
  double left = 0;
  double width = 0;

  double x_of(double share) const { return left + width * share; }
};

double draw_stratum(pugi::xml_node parent, const NarrowFigure& figure, const ShareScale& scale,
                    double y, const std::string& name, const VerdictTally& tally,
                    const std::vector<VerdictColumn>& parts) {
  const StratumSummary summary = summarise(tally);
  std::uint64_t resistant = 0;
  for (const VerdictColumn& part : parts)
    if (finds_resistance(part.classes.front()))
      resistant += groups_in(part, tally);
  const std::string tested = tested_words(summary, resistant);
  const double name_room = figure.right() - NarrowFigure::margin - text_units(tested) - 8;
  pugi::xml_node label = add_label(parent, {NarrowFigure::margin, y + 12},
                                   cut_to(name, name_room, text_size), Anchor::start, text_size);
  set(label, "font-weight", "bold");
  add_label(parent, {figure.right(), y + 12}, tested, Anchor::end);
  y += stratum_name_line;
  if (summary.judged == 0) {
    add_standing_box(parent, {scale.left, y, scale.width, stacked_height},
                     VerdictClass::not_applicable);
    return y + stacked_height + limits_lane + strata_apart;
  }
  std::uint64_t before = 0;
  for (const VerdictColumn& part : parts) {
    const std::uint64_t groups = groups_in(part, tally);
    if (groups == 0)
      continue;
    const auto share = [&](std::uint64_t count) {
      return static_cast<double>(count) / static_cast<double>(summary.judged);
    };
    const double from = scale.x_of(share(before));
    before += groups;
    add_standing_box(parent, {from, y, scale.x_of(share(before)) - from, stacked_height},
                     part.classes.front());
  }
  y += stacked_height;
  const double middle = y + limits_lane / 2 + 1;
  add_bar(parent, bar_outline(middle, {scale.x_of(*summary.resistant.lower), false},
                              {scale.x_of(*summary.resistant.upper), false}));
  add_fall_dot(parent, {scale.x_of(*summary.resistant.value), middle});
  return y + limits_lane + strata_apart;
}

void draw_share_axis(pugi::xml_node parent, const ShareScale& scale, double y) {
  add_rule(parent, {scale.left, y}, {scale.x_of(1), y}, ink);
  for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    add_rule(parent, {scale.x_of(share), y}, {scale.x_of(share), y + 5}, ink);
    add_label(parent, {scale.x_of(share), y + 17}, fmt::format("{:g}", 100 * share),
              share == 0  ? Anchor::start
              : share < 1 ? Anchor::middle
                          : Anchor::end);
  }
}

CaptionedFigure standings_figure(const Breakdown& breakdown, const std::vector<Stratum>& strata,
                                 Rule rule) {
  NarrowFigure figure(breakdown.fields.empty() ? std::string("Classes of all groups")
                                               : fmt::format("Classes of the groups, {}",
                                                             breakdown_name(breakdown.fields)),
                      "For every stratum a bar of all its groups with a class, cut into the "
                      "classes, and below it the share resistant with its limits. The table "
                      "beside it holds the same numbers.");
  const std::vector<VerdictColumn> parts = parts_of(rule, breakdown);
  double y = draw_parts_key(figure.svg(), parts, 2, figure.right());
  const ShareScale scale{NarrowFigure::margin + 2, figure.right() - NarrowFigure::margin - 4};
  for (const Stratum& stratum : strata) {
    pugi::xml_node group = add_group(figure.svg(), "stratum");
    y = draw_stratum(group, figure, scale, y, stratum_name(stratum), breakdown.strata.at(stratum),
                     parts);
  }
  draw_share_axis(figure.svg(), scale, y);
  return {"", figure.finished(y + axis_below), ""};
}

std::string share_words(const Proportion& share) {
  return fmt::format("{:.0f} of 100, {:.0f} to {:.0f}", 100 * *share.value, 100 * *share.lower,
                     100 * *share.upper);
}

} // namespace

std::vector<Stratum> drawn_strata(const Breakdown& breakdown) {
  std::vector<Stratum> strata;
  for (const auto& [stratum, tally] : breakdown.strata)
    strata.push_back(stratum);
  if (strata.size() <= most_strata_drawn)
    return strata;
  const auto summary = [&](const Stratum& stratum) {
    return summarise(breakdown.strata.at(stratum));
  };
  std::stable_sort(strata.begin(), strata.end(), [&](const Stratum& a, const Stratum& b) {
    const StratumSummary of_a = summary(a);
    const StratumSummary of_b = summary(b);
    return of_a.tested != of_b.tested
               ? of_a.tested > of_b.tested
               : of_a.resistant.value.value_or(0) > of_b.resistant.value.value_or(0);
  });
  strata.resize(most_strata_drawn);
  std::sort(strata.begin(), strata.end());
  return strata;
}

std::optional<std::pair<Stratum, Stratum>> surely_apart(const Breakdown& breakdown) {
  const Stratum* high = nullptr;
  const Stratum* low = nullptr;
  double above = 0;
  double below = 1;
  const double level =
      1 - (1 - StratumSummary::level) /
              static_cast<double>(std::max<std::size_t>(breakdown.strata.size(), 1));
  for (const auto& [stratum, tally] : breakdown.strata) {
    const Proportion share =
        jeffreys_proportion(tally[static_cast<std::size_t>(VerdictClass::resistant)] +
                                tally[static_cast<std::size_t>(VerdictClass::low_resistant)],
                            summarise(tally).judged, level);
    if (!share.value)
      continue;
    if (high == nullptr || *share.lower > above) {
      high = &stratum;
      above = *share.lower;
    }
    if (low == nullptr || *share.upper < below) {
      low = &stratum;
      below = *share.upper;
    }
  }
  if (high == nullptr || above <= below)
    return std::nullopt;
  return std::pair(*high, *low);
}

std::string breakdown_finding(const Breakdown& breakdown) {
  const auto share_of = [&](const Stratum& stratum) {
    return summarise(breakdown.strata.at(stratum)).resistant;
  };
  if (const auto apart = surely_apart(breakdown))
    return fmt::format("Resistance was found more often in {} ({}) than in {} ({})",
                       stratum_name(apart->first), share_words(share_of(apart->first)),
                       stratum_name(apart->second), share_words(share_of(apart->second)));
  if (breakdown.strata.size() == 1)
    return fmt::format("All are {}", stratum_name(breakdown.strata.begin()->first));
  return "Chance alone may make these differences";
}

std::vector<CaptionedFigure> standings_figures(const Breakdown& breakdown, Rule rule) {
  const std::vector<Stratum> strata = drawn_strata(breakdown);
  std::vector<CaptionedFigure> figures;
  for (std::size_t from = 0; from < strata.size(); from += strata_of_a_figure) {
    const std::size_t to = std::min(from + strata_of_a_figure, strata.size());
    figures.push_back(standings_figure(breakdown,
                                       {strata.begin() + static_cast<std::ptrdiff_t>(from),
                                        strata.begin() + static_cast<std::ptrdiff_t>(to)},
                                       rule));
  }
  return figures;
}

std::string standings_key() {
  return fmt::format("Each bar is all groups with a class, from 0 to 100 of 100. Below it the dot "
                     "is the share resistant, the thin bar its {:g}% limits. The slanted part may "
                     "be either.",
                     100 * StratumSummary::level);
}

} // namespace eggfall
