#include "survey/pictures_figure.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"
#include "survey/standing_marks.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

constexpr double words_lane = 122;
constexpr double picture_lane = 18;

/// From 0 to 1, with a name in the lane at its left.
struct SharesLane {
  const NarrowFigure& figure;
  double y;

  double x_of(double share) const {
    const double left = NarrowFigure::margin + words_lane;
    return left + share * (figure.right() - 6 - left);
  }
};

void draw_shares(pugi::xml_node parent, const SharesLane& lane, std::string_view words,
                 double lower, double upper) {
  add_label(parent, {NarrowFigure::margin, lane.y + 4}, words, Anchor::start);
  add_bar(parent, bar_outline(lane.y, {lane.x_of(lower), false}, {lane.x_of(upper), false}));
}

double draw_picture(pugi::xml_node parent, const NarrowFigure& figure, double y,
                    const RegionPicture& picture, const std::optional<VerdictTally>& tally) {
  const std::string tested = fmt::format("{} groups", picture.groups);
  pugi::xml_node name =
      add_label(parent, {NarrowFigure::margin, y + 12},
                cut_to(picture_name(picture), figure.right() - text_units(tested) - 12, text_size),
                Anchor::start, text_size);
  set(name, "font-weight", "bold");
  add_label(parent, {figure.right(), y + 12}, tested, Anchor::end);
  y += picture_lane + picture_lane / 2;
  const auto groups = static_cast<double>(picture.groups);
  for (const BelowThreshold& below : picture.below) {
    const SharesLane lane{figure, y};
    draw_shares(parent, lane, fmt::format("truly below {:g}%", 100 * below.efficacy),
                static_cast<double>(below.groups.lower) / groups,
                static_cast<double>(below.groups.upper) / groups);
    add_fall_dot(parent, {lane.x_of(below.groups.mean / groups), y});
    y += picture_lane;
  }
  if (tally)
    if (const Proportion resistant = summarise(*tally).resistant; resistant.value) {
      const SharesLane lane{figure, y};
      draw_shares(parent, lane, "stand resistant", *resistant.lower, *resistant.upper);
      add_standing_mark(parent, {lane.x_of(*resistant.value), y}, VerdictClass::resistant, 4);
      y += picture_lane;
    }
  return y;
}

/// The picture of which the largest share of groups lies below the first threshold.
const RegionPicture& worst_of(const std::vector<RegionPicture>& pictures) {
  const auto share = [](const RegionPicture& picture) {
    return picture.below.front().groups.mean / static_cast<double>(picture.groups);
  };
  return *std::max_element(
      pictures.begin(), pictures.end(),
      [&](const RegionPicture& a, const RegionPicture& b) { return share(a) < share(b); });
}

} // namespace

std::optional<VerdictTally> tally_of(const Survey& survey, const RegionPicture& picture) {
  const auto broken_down = [&](const std::vector<SurveyField>& fields) {
    return std::ranges::find(survey.breakdowns, fields, &Breakdown::fields);
  };
  const auto none = survey.breakdowns.end();
  const auto tally_in = [&](auto breakdown, const Stratum& stratum) -> std::optional<VerdictTally> {
    if (breakdown == none)
      return std::nullopt;
    const auto found = breakdown->strata.find(stratum);
    return found == breakdown->strata.end() ? std::nullopt : std::optional(found->second);
  };
  constexpr SurveyField drug_class = SurveyField::drug_class;
  constexpr SurveyField host = SurveyField::host;
  if (const auto tally =
          tally_in(broken_down({drug_class, host}), {picture.drug_class, picture.host}))
    return tally;
  if (const auto tally =
          tally_in(broken_down({host, drug_class}), {picture.host, picture.drug_class}))
    return tally;
  const auto hosts = broken_down({host});
  if (hosts == none || hosts->strata.size() != 1)
    return std::nullopt;
  return tally_in(broken_down({drug_class}), {picture.drug_class});
}

CaptionedFigure pictures_figure(const Survey& survey, const std::vector<RegionPicture>& pictures) {
  if (pictures.empty())
    throw CalculationError("a figure of no region");
  NarrowFigure figure("All farms together",
                      "For each class and host the share of groups that truly lie below each "
                      "threshold, as a dot with its limits, and the share that stand resistant one "
                      "by one. The table below it holds the same numbers.");
  double y = 2;
  const std::size_t drawn = std::min(pictures.size(), most_pictures_drawn);
  for (std::size_t p = 0; p < drawn; ++p)
    y = draw_picture(add_group(figure.svg(), "picture"), figure, y, pictures[p],
                     tally_of(survey, pictures[p])) +
        2;
  const SharesLane scale{figure, y};
  add_rule(figure.svg(), {scale.x_of(0), y}, {scale.x_of(1), y}, ink);
  for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    add_rule(figure.svg(), {scale.x_of(share), y}, {scale.x_of(share), y + 5}, ink);
    add_label(figure.svg(), {share < 1 ? scale.x_of(share) : figure.right(), y + 17},
              fmt::format("{:g}", 100 * share), share < 1 ? Anchor::middle : Anchor::end);
  }
  const RegionPicture& worst = worst_of(pictures);
  const BelowThreshold& below = worst.below.front();
  return {fmt::format("{}: of {} groups {:.0f} truly lie below {:g}% ({} to {})",
                      picture_name(worst), worst.groups, below.groups.mean, 100 * below.efficacy,
                      below.groups.lower, below.groups.upper),
          figure.finished(y + 20), ""};
}

std::string pictures_key() {
  return fmt::format("From 0 to 100 of 100 groups. Dot: how many truly lie below, as all farms "
                     "together tell; square: how many stand resistant, one by one, of those with a "
                     "class; bars: {:g}% limits. The two ask different things: a small trial that "
                     "stays open may be of a drench that fails.",
                     100 * RegionPicture::level);
}

} // namespace eggfall
