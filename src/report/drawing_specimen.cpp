#include "report/drawing_specimen.hpp"

#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/farmer_words.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/figures/fall_axis.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

constexpr std::string_view specimen_style = R"css(
.sign { width: 1.7rem; height: 1.7rem; flex: none; }
.inks { display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr));
  gap: 0.5rem 1rem; padding: 0; list-style: none; }
.inks li, .signs li { display: flex; gap: 0.7rem; align-items: center; }
.inks svg { width: 3rem; height: 3rem; flex: none; }
.signs { padding: 0; list-style: none; } .signs li { margin: 0.4rem 0; }
figure { max-width: 26rem; }
)css";

std::string swatch(const Ink& each) {
  pugi::xml_document document;
  pugi::xml_node svg = add_svg(document, each.name, each.use);
  set(svg, "viewBox", "0 0 24 24");
  pugi::xml_node box = add_box(svg, {1, 1, 22, 22}, each.light);
  set(box, "stroke", line_colour);
  return svg_text(document);
}

void add_inks(pugi::xml_node body) {
  add_element(body, "h2", "Inks");
  add_element(
      body, "p",
      "Each ink has one use, a value for white paper and one for a dark screen. A figure in "
      "a file of its own has the first; on a page it takes the page's.");
  pugi::xml_node list = add_element(body, "ul", "", "inks");
  for (const Ink& each : all_inks) {
    pugi::xml_node item = add_element(list, "li");
    add_inked_svg(item, swatch(each));
    add_element(item, "span",
                fmt::format("{} ({}, dark {}): {}", each.name, each.light, each.dark, each.use));
  }
}

void add_sizes(pugi::xml_node body) {
  add_element(body, "h2", "Sizes");
  NarrowFigure figure("Sizes of text", "Two lines of text in the two sizes that figures have.");
  add_label(figure.svg(), {NarrowFigure::margin, 18},
            fmt::format("Names and findings: {:g} units", text_size), Anchor::start, text_size);
  add_label(figure.svg(), {NarrowFigure::margin, 38},
            fmt::format("All other labels: {:g} units, none smaller", small_size), Anchor::start);
  add_rule(figure.svg(), {NarrowFigure::margin, 48}, {figure.right(), 48}, ink);
  add_label(figure.svg(), {NarrowFigure::full_width / 2, 64},
            fmt::format("{:g} units: a phone of 360 pixels", NarrowFigure::full_width),
            Anchor::middle);
  add_figure(body, {"A unit is a pixel on a phone", figure.finished(72), ""});
}

void add_signs(pugi::xml_node body) {
  add_element(body, "h2", "Signs");
  add_element(body, "p", "Known by their shape, without colour; solid where it is sure.");
  pugi::xml_node list = add_element(body, "ul", "", "signs");
  for (const DrenchSign sign : all_drench_signs) {
    pugi::xml_node item = add_element(list, "li");
    add_inked_svg(item, sign_drawing(sign));
    add_element(item, "span", sign_words(sign));
  }
}

/// A group of which only its fall is known.
GroupAnalysis group_with(const std::string& name, double fall, double lower, double upper) {
  GroupAnalysis group;
  group.evidence.group.name = name;
  group.evidence.design = Design::paired;
  group.evidence.reduction = fall;
  group.evidence.headline.lower = lower;
  group.evidence.headline.upper = upper;
  Verdict verdict;
  verdict.expected = 0.95;
  verdict.lower = 0.9;
  group.judgement.verdicts = {verdict};
  return group;
}

void add_trays(pugi::xml_node body) {
  add_element(body, "h2", "The tray of 100 eggs");
  add_element(body, "p", tray_key());
  for (const auto& group :
       {group_with("Few left", 0.97, 0.93, 0.99), group_with("No egg found", 1, 0.96, 1),
        group_with("Many left", 0.67, 0.56, 0.72), group_with("More than before", -0.3, -0.9, 0.1)})
    add_figure(body, {group.evidence.group.name, eggs_left_figure(group)->svg, ""});
}

void add_falls_specimen(pugi::xml_node body) {
  add_element(body, "h2", "Falls and intervals");
  TrialAnalysis trial;
  trial.trial = "a specimen";
  trial.groups = {group_with("dot and bar", 0.93, 0.87, 0.968),
                  group_with("goes on to the left", 0.6, -20, 0.8),
                  group_with("goes on to the right", 0.999, 0.98, 0.99999)};
  CaptionedFigure figure = falls_figure(trial);
  figure.finding = "One axis for all figures of a report";
  add_figure(body, figure);
}

} // namespace

std::string drawing_specimen() {
  HtmlPage page("The drawing language of eggfall", specimen_style);
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", "The drawing language of eggfall");
  add_inks(body);
  add_sizes(body);
  add_signs(body);
  add_trays(body);
  add_falls_specimen(body);
  return page.text();
}

} // namespace eggfall
