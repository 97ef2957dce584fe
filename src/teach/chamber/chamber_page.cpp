#include "teach/chamber/chamber_page.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"
#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/chamber_words.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view chamber_page_style = R"css(
.steps li { margin: 0.35rem 0; } .rule { break-inside: avoid; }
@media print { .tally td, .tally th { height: 7mm; } }
)css";

std::string number_word(std::size_t number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

void add_instruction(pugi::xml_node body, const ChamberLesson& lesson) {
  const ChamberSpec& spec = lesson.spec;
  std::size_t sheets = 0;
  for (const LessonSample& sample : lesson.samples)
    sheets += sample.chambers.size();
  add_element(
      body, "p",
      fmt::format("You are at the microscope. {} of faeces, {} each: {} on paper, drawn by a "
                  "program with eggs strewn by chance. No animal and no farm stands behind them.",
                  number_word(lesson.samples.size(), "sample"),
                  number_word(static_cast<std::size_t>(lesson.chambers_a_sample), "chamber"),
                  number_word(sheets, "sheet")));
  pugi::xml_node list = add_element(body, "ol", "", "steps");
  for (const std::string& step :
       {std::string("Learn the three kinds of egg, and what is no egg."),
        std::string("Read the line rule."),
        fmt::format("Count each chamber lane by lane, all {} lanes from top to bottom, each kind "
                    "by itself, and write the eggs of each lane below the picture. An egg on an "
                    "inner line goes to the lane that holds more of it.",
                    spec.lanes),
        std::string("Do the sums on the last sheet."),
        std::string("Compare with a neighbour. Where you differ, look at the picture together.")})
    add_element(list, "li", step);
  add_element(body, "p",
              fmt::format("Print at 100%, not fitted to the page: the square is then {:g} mm wide, "
                          "{:g} times its true size. A hand lens helps. On a screen, scroll over "
                          "the picture as you would move the slide.",
                          spec.side_um / 1000 * chamber_scale, chamber_scale));
  add_element(body, "p", chamber_caution(), "note");
}

void add_panel(pugi::xml_node body) {
  add_element(body, "h2", "What you may see");
  pugi::xml_node figure = add_element(body, "figure", "", "small");
  add_svg(figure, particle_panel());
  add_element(body, "p",
              "Lengths and widths are rough means, from memory: check against a parasitology "
              "textbook or your laboratory's plates. Eggs vary, and so do those drawn here. "
              "\"Type\" and \"like\" mean that the drawing has the look of that group; worms whose "
              "eggs look alike are told apart by their larvae.",
              "note");
}

void add_line_rule(pugi::xml_node body) {
  pugi::xml_node section = add_element(body, "section", "", "rule");
  add_element(section, "h2", "The line rule");
  add_element(section, "p",
              "Count an egg inside the square, and one that touches the left or the top line. Do "
              "not count one that touches the right or the bottom line, nor one on their corners. "
              "An inner line changes nothing: an egg on it is counted once.");
  pugi::xml_node figure = add_element(section, "figure", "", "small");
  add_svg(figure, line_rule_figure());
  add_element(section, "p",
              "Think of the right line as going on upward (dashed): an egg on that part is not "
              "counted. The middle of a line is what matters. Rules of this sort are common "
              "practice with counting frames. They are fair because the places where an egg is "
              "counted make up an area just as large as the square, whatever its shape.",
              "note");
}

void add_tally(pugi::xml_node section, const ChamberView& view) {
  HtmlTable table{"", {"Eggs"}, {}, "Eggs in " + chamber_words(view)};
  for (int lane = 1; lane <= view.spec.lanes; ++lane)
    table.heads.push_back(fmt::format("Lane {}", lane));
  table.heads.emplace_back("Sum");
  for (const ParticleKind kind : egg_kinds)
    table.rows.push_back({short_name(kind)});
  for (std::vector<std::string>& row : table.rows)
    row.resize(table.heads.size());
  add_wide_table(section, table, "fill tally");
}

void add_sums(pugi::xml_node section, const ChamberLesson& lesson) {
  HtmlTable table{"", {"Counted in"}, {}, "Eggs seen"};
  for (const ParticleKind kind : egg_kinds)
    table.heads.push_back(short_name(kind));
  for (const LessonSample& each : lesson.samples) {
    for (const ChamberView& view : each.chambers)
      table.rows.push_back({fmt::format("{}, chamber {}", view.sample, view.chamber)});
    table.rows.push_back({fmt::format("{}, eggs in all", each.sample.name)});
    table.rows.push_back({fmt::format("{}, EPG", each.sample.name)});
  }
  add_form(section, table);
}

void add_steps(pugi::xml_node section, const ChamberLesson& lesson) {
  const BenchFigures bench = bench_figures(lesson.spec, lesson.chambers_a_sample);
  const double factor = multiplication_factor(lesson).value();
  pugi::xml_node steps = add_element(section, "ol", "", "steps");
  for (const std::string& step :
       {fmt::format("Faeces weighed: {:g} g.", bench.faeces_g),
        fmt::format("Flotation fluid added: {:g} mL. With the faeces, taken as 1 mL a gram, that "
                    "makes {:g} mL.",
                    *bench.added_ml, suspension_ml(bench)),
        fmt::format("Volume counted: {} chambers of {:g} mL, {:g} mL.", bench.chambers,
                    *bench.chamber_volume_ml, bench.chambers * *bench.chamber_volume_ml),
        fmt::format("Factor = mL in all / (grams x mL counted) = {}. So one egg seen stands for "
                    "{:g} eggs per gram (EPG).",
                    factor_words(lesson), factor),
        fmt::format("EPG = eggs in all chambers of the sample x {:g}, each kind by itself. Fill in "
                    "the table.",
                    factor)})
    add_element(steps, "li", step);
  add_element(section, "p",
              "Then talk it over: the two chambers of a sample are filled from the same beaker. "
              "Why do their counts differ? And if you saw no egg of a kind, what would you tell "
              "the farmer?");
}

} // namespace

std::string chamber_page(const ChamberLesson& lesson) {
  const std::string title = "At the bench: count the chambers";
  HtmlPage page(title, std::string(form_style) + chamber_style(lesson.spec) +
                           std::string(chamber_page_style));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_instruction(body, lesson);
  add_panel(body);
  add_line_rule(body);
  for (const LessonSample& each : lesson.samples)
    for (const ChamberView& view : each.chambers)
      add_tally(add_chamber_sheet(body, view, chamber_figure(view)), view);
  pugi::xml_node sums = add_element(body, "section", "", "sheet");
  add_element(sums, "h2", "From eggs seen to eggs per gram");
  add_entries(sums, {"Name", "Date"});
  add_sums(sums, lesson);
  add_steps(sums, lesson);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), lesson.seed),
              "note");
  return page.text();
}

} // namespace eggfall
