#include "report/farmer_words.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"
#include "judgement/worm_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// "It may be 4 to 15." Numbers of the eggs left.
std::string range_words(const EggsLeft& left) {
  const double least = std::round(*left.least);
  const double most = std::round(*left.most);
  if (left.found == 0)
    return *left.most < 0.5
               ? "Allowing for luck, fewer than 1 of every 100 may be left."
               : fmt::format("Allowing for luck, up to {:.0f} of every 100 may be left.", most);
  if (*left.most < 0.5)
    return "Allowing for luck, it is still fewer than 1.";
  if (least == most)
    return "Luck can hardly have changed that.";
  return least < 1 ? fmt::format("Allowing for luck, it may be anything up to {:.0f}.", most)
                   : fmt::format("Allowing for luck, it may be {:.0f} to {:.0f}.", least, most);
}

std::string eggs_words(const GroupAnalysis& analysis, const EggsLeft& left) {
  const bool without_season =
      analysis.evidence.design == Design::controlled || analysis.judgement.own_fall;
  if (left.found > 100) {
    const std::string more = fmt::format("{:.0f}", left.found);
    if (without_season)
      return fmt::format("Set against the untreated animals, there were more worm eggs after the "
                         "drench: {} for every 100.",
                         more);
    return pairs_animals(*analysis.evidence.design)
               ? fmt::format("There were more worm eggs after the drench than before: {} for every "
                             "100.",
                             more)
               : fmt::format("The treated animals had more worm eggs than the untreated: {} for "
                             "every 100.",
                             more);
  }
  if (left.found == 0)
    return pairs_animals(*analysis.evidence.design)
               ? "No worm egg was found after the drench."
               : "No worm egg was found in the treated animals.";
  const bool one = left.found > 0 && left.found < 1.5;
  const std::string were = one ? "was" : "were";
  if (without_season)
    return fmt::format("Set against the untreated animals, {} of every 100 worm eggs {} left after "
                       "the drench.",
                       eggs_in_words(left.found), were);
  if (!pairs_animals(*analysis.evidence.design))
    return fmt::format("For every 100 worm eggs in untreated animals, the treated ones had {}.",
                       eggs_in_words(left.found));
  return fmt::format("Of every 100 worm eggs before the drench, {} {} left after it.",
                     eggs_in_words(left.found), were);
}

/// Of a standing that no bar takes away.
std::string meaning_of_sign(const GroupAnalysis& analysis) {
  switch (analysis.judgement.standing.sign) {
  case DrenchSign::works:
    return "That is what a drench that works does.";
  case DrenchSign::works_with_care:
    return "That is enough for the rule, but there is a reason for care.";
  case DrenchSign::some_survive:
    return "Most worms die, but more live on than should.";
  case DrenchSign::may_fail:
    return "That may be too many.";
  case DrenchSign::failing:
    return "That is too many.";
  case DrenchSign::cannot_tell:
    break;
  }
  return analysis.judgement.standing.verdict_class == VerdictClass::not_applicable
             ? "No rule at hand says if that is enough."
             : "A drench that works could give this, and so could one that fails.";
}

std::string meaning(const GroupAnalysis& analysis) {
  const std::vector<Bar>& bars = analysis.judgement.standing.bars;
  if (bars.empty())
    return meaning_of_sign(analysis);
  const Bar& first = bars.front();
  if (gives_own_class(first))
    return meaning_of_sign(analysis) + ' ' + first.plain;
  return first.code == BarCode::surviving_worm
             ? first.plain
             : first.plain + " So this test cannot tell if the drench works.";
}

} // namespace

std::string_view sign_words(DrenchSign sign) {
  switch (sign) {
  case DrenchSign::works:
    return "Works";
  case DrenchSign::works_with_care:
    return "Works, but take care";
  case DrenchSign::some_survive:
    return "Some worms live on";
  case DrenchSign::may_fail:
    return "May be failing";
  case DrenchSign::failing:
    return "Failing";
  case DrenchSign::cannot_tell:
    break;
  }
  return "Can't tell yet";
}

std::string standing_words(const Standing& standing) {
  std::string words(sign_words(standing.sign));
  if (!standing.bars.empty() && standing.bars.front().code == BarCode::surviving_worm)
    words = standing.bars.front().plain;
  if (words.ends_with('.'))
    words.pop_back();
  return words;
}

std::string sign_drawing(DrenchSign sign) {
  pugi::xml_document document;
  pugi::xml_node svg = add_svg(document, sign_words(sign), "");
  svg.remove_child("desc");
  set(svg, "viewBox", "0 0 24 24");
  set(svg, "class", "sign");
  const auto stroked = [](pugi::xml_node node, std::string_view colour) {
    set(node, "stroke", colour);
    set(node, "stroke-width", 2.5);
    set(node, "stroke-linecap", "round");
  };
  const auto cross = [&](std::string_view colour) {
    stroked(add_line(svg, {8, 8}, {16, 16}), colour);
    stroked(add_line(svg, {16, 8}, {8, 16}), colour);
  };
  const auto paper = [&](bool round, bool full) {
    pugi::xml_node shape = round ? add_dot(svg, {12, 12}, 10) : add_box(svg, {2, 2, 20, 20}, "");
    stroked(shape, ink);
    set(shape, "fill", full ? ink : paper_colour);
  };
  const auto tick = [&](std::string_view colour) {
    stroked(add_line(svg, {7, 12.5}, {10.5, 16}), colour);
    stroked(add_line(svg, {10.5, 16}, {17, 8.5}), colour);
  };
  switch (sign) {
  case DrenchSign::works:
    paper(true, true);
    tick(paper_colour);
    break;
  case DrenchSign::works_with_care:
    paper(true, false);
    tick(ink);
    break;
  case DrenchSign::some_survive:
  case DrenchSign::may_fail:
    paper(false, false);
    cross(ink);
    break;
  case DrenchSign::failing:
    paper(false, true);
    cross(paper_colour);
    break;
  case DrenchSign::cannot_tell: {
    paper(true, false);
    pugi::xml_node mark = add_label(svg, {12, 17}, "?", Anchor::middle, 15);
    set(mark, "font-weight", "bold");
    set(mark, "font-family", "Arial, sans-serif");
    set(mark, "fill", ink);
    break;
  }
  }
  return svg_text(document);
}

std::string farmer_sentences(const GroupAnalysis& analysis) {
  const auto left = eggs_left(analysis);
  if (!left)
    return "Nothing could be compared, so this test says nothing of the drench.";
  std::string text = eggs_words(analysis, *left);
  text += ' ' +
          (left->most ? range_words(*left) : std::string("How sure that is cannot be worked out."));
  text += ' ' + meaning(analysis);
  const std::string& provided = analysis.judgement.standing.provided;
  return provided.empty() ? text : text + fmt::format(" This holds if {}.", provided);
}

std::string tray_words(const TrialAnalysis& trial) {
  std::string text = "Each tray stands for 100 eggs without the drench. Dark: left at the least, "
                     "allowing for luck. With a dot: may be left too. Pale: gone.";
  const Verdict& first = trial.groups.front().judgement.first_verdict();
  const bool alike = std::ranges::all_of(trial.groups, [&](const GroupAnalysis& group) {
    const Verdict& verdict = group.judgement.first_verdict();
    return verdict.expected == first.expected && verdict.lower == first.lower;
  });
  if (alike && first.expected && first.lower)
    text +=
        fmt::format(" The marks at {:.3g} and {:.3g} eggs are the limits that {} judges by.",
                    100 * (1 - *first.expected), 100 * (1 - *first.lower), first.criteria_title);
  else if (std::ranges::any_of(trial.groups, [](const GroupAnalysis& group) {
             const Verdict& verdict = group.judgement.first_verdict();
             return verdict.expected || verdict.lower;
           }))
    text += " The marks are the limits that the drench is judged by.";
  return text;
}

std::string control_sentences(const ControlAnalysis& control) {
  if (!control.reduction)
    return "Some animals were left untreated, to compare with.";
  const double left = 100 * (1 - *control.reduction);
  return fmt::format("Untreated animals had {:.0f} eggs at the second sample for every 100 at the "
                     "first: that is what season, feed and luck do without a drench.",
                     left);
}

} // namespace eggfall
