#include "report/figures/analysis_figures.hpp"

#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"
#include "report/farmer_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace eggfall {
namespace {

constexpr int all_eggs = 100;
constexpr int rows = 5; ///< Eggs fill column after column, so that a column is five of them.
constexpr double column_width =
    (NarrowFigure::full_width - 2 * NarrowFigure::margin) * rows / all_eggs;
constexpr double row_height = 13.5;
constexpr SvgPoint egg_radius{6.4, 5.4};
constexpr double mark_lane = 16; ///< Above the eggs, for the words at a limit.
constexpr double luck_lane = 18; ///< Below them, for the bar.
constexpr double words_lane = 18;

/// Where the eggs stand, below as many lanes of words as there are limits.
class EggTray {
public:
  explicit EggTray(double top) : top_(top) {}

  double top() const { return top_; }
  double bottom() const { return top_ + rows * row_height; }

  SvgPoint centre_of(int egg) const {
    const int column = egg / rows;
    const int row = egg % rows;
    return {NarrowFigure::margin + (column + 0.5) * column_width, top_ + (row + 0.5) * row_height};
  }

  /// Between the last of so many eggs and the next, along the edges of the columns: SVG's "d".
  std::string edge_after(double eggs, double from) const {
    const double whole = std::floor(eggs / rows + 1e-9);
    const double rest = eggs - rows * whole;
    const double left = NarrowFigure::margin + whole * column_width;
    if (rest < 1e-6)
      return fmt::format("M{} {}V{}", svg_number(left), svg_number(from), svg_number(bottom() + 1));
    return fmt::format("M{} {}V{}H{}V{}", svg_number(left + column_width), svg_number(from),
                       svg_number(top_ + rest * row_height), svg_number(left),
                       svg_number(bottom() + 1));
  }

  /// Of a bar that runs below the eggs; what lies beyond the last stands at it.
  static double x_of(double eggs) {
    return NarrowFigure::margin + std::min(eggs, double{all_eggs}) / rows * column_width;
  }

private:
  double top_;
};

/// Three lines across an ellipse: SVG's "d". Drawn line by line, since a pattern would need a name
/// that is used once in a page.
std::string hatching(SvgPoint centre) {
  constexpr SvgPoint along{0.70710678, -0.70710678};
  constexpr SvgPoint across{0.70710678, 0.70710678};
  constexpr std::array offsets{-3.6, 0.0, 3.6};
  const double a = std::pow(along.x / egg_radius.x, 2) + std::pow(along.y / egg_radius.y, 2);
  std::string path;
  for (const double offset : offsets) {
    const SvgPoint from{offset * across.x, offset * across.y};
    const double b = 2 * (from.x * along.x / std::pow(egg_radius.x, 2) +
                          from.y * along.y / std::pow(egg_radius.y, 2));
    const double c = std::pow(from.x / egg_radius.x, 2) + std::pow(from.y / egg_radius.y, 2) - 1;
    const double root = std::sqrt(std::max(0.0, b * b - 4 * a * c));
    const double first = (-b - root) / (2 * a);
    const double second = (-b + root) / (2 * a);
    path += fmt::format("M{} {}L{} {}", svg_number(centre.x + from.x + first * along.x),
                        svg_number(centre.y + from.y + first * along.y),
                        svg_number(centre.x + from.x + second * along.x),
                        svg_number(centre.y + from.y + second * along.y));
  }
  return path;
}

enum class EggState { left, perhaps_left, gone };

void draw_egg(pugi::xml_node parent, SvgPoint centre, EggState state) {
  pugi::xml_node oval = parent.append_child("ellipse");
  set(oval, "cx", centre.x);
  set(oval, "cy", centre.y);
  set(oval, "rx", egg_radius.x);
  set(oval, "ry", egg_radius.y);
  set(oval, "stroke", state == EggState::gone ? line_colour : deep_colour);
  set(oval, "fill", state == EggState::left ? deep_colour : paper_colour);
  if (state != EggState::perhaps_left)
    return;
  pugi::xml_node lines = parent.append_child("path");
  set(lines, "class", "hatching");
  set(lines, "d", hatching(centre));
  set(lines, "stroke", deep_colour);
  set(lines, "stroke-width", 1.6);
}

/// What a limit says where it stands.
struct TrayLimit {
  double eggs;
  std::string words;
  std::string_view dashes;
};

/// @param told_of EggsLeft::told_of, of which the tray holds the first hundred.
std::vector<TrayLimit> limits_of(const Verdict& verdict, int told_of) {
  std::vector<TrayLimit> limits;
  // The words of the last stand in the lowest lane, so that the line of another passes before them.
  if (verdict.expected)
    limits.push_back(
        {told_of * (1 - *verdict.expected), good_words(*verdict.expected, told_of), "7 3"});
  if (verdict.lower)
    limits.push_back({std::min(told_of * (1 - *verdict.lower), double{all_eggs}),
                      too_many_words(*verdict.lower, told_of), "2 3"});
  return limits;
}

void draw_limit(pugi::xml_node parent, const EggTray& tray, const TrayLimit& limit, double lane) {
  pugi::xml_node edge = parent.append_child("path");
  set(edge, "d", tray.edge_after(limit.eggs, lane));
  set(edge, "fill", "none");
  set(edge, "stroke", ink);
  set(edge, "stroke-width", 1.6);
  set(edge, "stroke-dasharray", limit.dashes);
  const double x = EggTray::x_of(std::ceil(limit.eggs / rows - 1e-9) * rows);
  const bool at_right = x + 5 + text_units(limit.words) < NarrowFigure::full_width;
  add_label(parent, {at_right ? x + 5 : x - 5, lane + 11}, limit.words,
            at_right ? Anchor::start : Anchor::end);
}

/// The same as eggs of the tray: of a thousand, where so many are told, since there a drench that
/// works leaves less than one of a hundred.
EggsLeft in_tray(EggsLeft left) {
  const double times = left.told_of / 100.0;
  left.found *= times;
  for (std::optional<double>* limit : {&left.least, &left.most})
    if (*limit)
      **limit *= times;
  return left;
}

/// A bar over the numbers that luck allows, a dot at the best estimate, and the three in words.
/// @param left in_tray().
void draw_luck(pugi::xml_node parent, const EggTray& tray, const EggsLeft& left,
               const std::string& words) {
  const double y = tray.bottom() + luck_lane / 2 + 2;
  if (left.most) {
    set(add_bar(parent, bar_outline(y, {EggTray::x_of(*left.least)},
                                    {EggTray::x_of(*left.most), *left.most > all_eggs})),
        "class", "luck");
  }
  pugi::xml_node dot = add_dot(parent, {EggTray::x_of(left.found), y}, 3.6);
  set(dot, "fill", deep_colour);
  set(dot, "stroke", paper_colour);
  const double half = text_units(words) / 2;
  const double middle = left.most ? (EggTray::x_of(*left.least) + EggTray::x_of(*left.most)) / 2
                                  : EggTray::x_of(left.found);
  add_label(parent,
            {std::clamp(middle, NarrowFigure::margin + half,
                        NarrowFigure::full_width - NarrowFigure::margin - half),
             tray.bottom() + luck_lane + 13},
            words, Anchor::middle);
}

std::string tray_drawing(const std::string& name, const EggsLeft& told, const Verdict& verdict) {
  const EggsLeft left = in_tray(told);
  const auto whole = [](double eggs) {
    return static_cast<int>(std::clamp(std::round(eggs), 0.0, double{all_eggs}));
  };
  const int found = whole(left.found);
  const double most = left.most.value_or(left.found);
  // What may be left is never rounded away.
  const int perhaps = whole(std::ceil(most - 1e-9));
  const std::vector<TrayLimit> limits = limits_of(verdict, left.told_of);
  const EggTray tray(4 + mark_lane * static_cast<double>(limits.size()));
  const std::string words = tray_numbers(told);
  const bool of_thousand = told.told_of == 1000;
  NarrowFigure figure(
      fmt::format("Of {} eggs, those left after {}", of_thousand ? "1,000" : "100", name),
      fmt::format("A tray of {}100 eggs, filled from the left: {} are left, {} more may be left, "
                  "allowing for luck, and {} are gone. {}.",
                  of_thousand ? "the first " : "", found, std::max(0, perhaps - found),
                  all_eggs - std::max(found, perhaps), words));
  pugi::xml_node eggs = add_group(figure.svg(), "eggs");
  for (int egg = 0; egg < all_eggs; ++egg)
    draw_egg(eggs, tray.centre_of(egg),
             egg < found     ? EggState::left
             : egg < perhaps ? EggState::perhaps_left
                             : EggState::gone);
  for (std::size_t i = 0; i < limits.size(); ++i)
    draw_limit(figure.svg(), tray, limits[i], 2 + mark_lane * static_cast<double>(i));
  draw_luck(figure.svg(), tray, left, words);
  return figure.finished(tray.bottom() + luck_lane + words_lane);
}

} // namespace

std::optional<CaptionedFigure> eggs_left_figure(const GroupAnalysis& analysis) {
  const auto left = eggs_left(analysis.evidence, analysis.judgement);
  if (!left)
    return std::nullopt;
  const std::string& name = analysis.evidence.group.name;
  return CaptionedFigure{fmt::format("{}: {}", name, standing_words(analysis.judgement.standing)),
                         tray_drawing(name, *left, analysis.judgement.first_verdict()),
                         std::string(tray_key())};
}

std::optional<CaptionedFigure> eggs_left_figure(const WormAnalysis& worm) {
  const auto left = eggs_left(worm.evidence, worm.judgement);
  if (!left)
    return std::nullopt;
  return CaptionedFigure{
      fmt::format("{}: {}", capitalised(worm.worm), standing_words(worm.judgement.standing)),
      tray_drawing(worm.worm, *left, verdict_of(worm)), std::string(tray_key())};
}

} // namespace eggfall
