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
.steps li { margin: 0.35rem 0; } .tally td { width: 7.5mm; min-width: 0; height: 11mm; }
.to-know { display: flex; flex-wrap: wrap; gap: 0 1.5rem; }
.to-know section { flex: 1 1 20rem; min-width: 0; } .small svg { min-width: 0; max-width: 24rem; }
@media print { .to-know { flex-wrap: nowrap; gap: 8mm; } .to-know section { flex: 1 1 0; }
  .steps li { margin: 0.1rem 0; } .to-know p { font-size: 9.5pt; line-height: 1.35; }
  .small svg { max-width: 84mm; } }
)css";

std::string number_word(std::size_t number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

void add_instruction(pugi::xml_node body, const ChamberPractical& practical) {
  const ChamberSpec& spec = practical.spec;
  std::size_t sheets = 0;
  for (const PracticalSample& sample : practical.samples)
    sheets += sample.chambers.size() * lane_pages(spec).size();
  add_element(
      body, "p",
      fmt::format("You are at the microscope. {} of faeces, {} each: {} on paper, drawn by a "
                  "program with eggs strewn by chance. No animal and no farm stands behind them. "
                  "The chamber, {:g} by {:g} mm and {:g} mm deep, is invented: smaller and deeper "
                  "than those of the trade, so that it can be drawn so large.",
                  number_word(practical.samples.size(), "sample"),
                  number_word(static_cast<std::size_t>(practical.chambers_a_sample), "chamber"),
                  number_word(sheets, "sheet"), spec.side_um / 1000, spec.side_um / 1000,
                  spec.depth_um / 1000));
  pugi::xml_node list = add_element(body, "ol", "", "steps");
  for (const std::string& step :
       {std::string("Learn the three kinds of egg, and what is no egg."),
        std::string("Read the line rule."),
        fmt::format("Count each chamber lane by lane, all {} lanes from top to bottom, each kind "
                    "by itself, and write the eggs of each lane beside the picture. An egg on an "
                    "inner line goes to the lane that holds more of it; what lies in the grey "
                    "belongs to other lanes, or to none.",
                    spec.lanes),
        std::string("Do the sums on the last sheet."),
        std::string("Compare with a neighbour. Where you differ, look at the picture together.")})
    add_element(list, "li", step);
  const auto on_paper = [](double um) { return um / 1000 * chamber_scale; };
  add_element(body, "p",
              fmt::format("Print at 100%, not fitted to the page: all is then {:g} times its true "
                          "size, a lane {:g} mm wide and {:g} mm long, the smallest kind of egg "
                          "{:g} mm. A ruler on the scale bar tells. On a screen, scroll over the "
                          "picture as you would move the slide.",
                          chamber_scale, on_paper(spec.side_um / spec.lanes),
                          on_paper(spec.side_um),
                          on_paper(size_of(ParticleKind::strongyloides_like).length_um)));
  add_element(body, "p", chamber_caution(), "note");
}

void add_panel(pugi::xml_node parent) {
  pugi::xml_node section = add_element(parent, "section");
  add_element(section, "h2", "What you may see");
  pugi::xml_node figure = add_element(section, "figure", "", "small");
  add_svg(figure, particle_panel());
  add_element(section, "p",
              "Lengths and widths are rough means, from memory: check against a parasitology "
              "textbook or your laboratory's plates. Eggs vary, and so do those drawn here. "
              "\"Type\" and \"like\" mean that the drawing has the look of that group; worms whose "
              "eggs look alike are told apart by their larvae.",
              "note");
}

void add_line_rule(pugi::xml_node parent) {
  pugi::xml_node section = add_element(parent, "section");
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

void add_tally(pugi::xml_node beside, const LaneRange& lanes) {
  HtmlTable table{"", {"Eggs in lane"}, {}};
  for (int lane = lanes.first; lane <= lanes.last; ++lane)
    table.heads.push_back(fmt::format("{}", lane));
  table.heads.emplace_back("sum");
  for (const ParticleKind kind : egg_kinds) {
    table.rows.push_back({short_name(kind)});
    table.rows.back().resize(table.heads.size());
  }
  add_table(beside, table, "fill tally");
}

void add_sums(pugi::xml_node section, const ChamberPractical& practical) {
  HtmlTable table{"", {"Counted in"}, {}, "Eggs seen"};
  for (const ParticleKind kind : egg_kinds)
    table.heads.push_back(short_name(kind));
  for (const PracticalSample& each : practical.samples) {
    for (const ChamberView& view : each.chambers)
      table.rows.push_back({fmt::format("{}, chamber {}", view.sample, view.chamber)});
    table.rows.push_back({fmt::format("{}, eggs in all", each.sample.name)});
    table.rows.push_back({fmt::format("{}, EPG", each.sample.name)});
  }
  add_form(section, table);
}

void add_steps(pugi::xml_node section, const ChamberPractical& practical) {
  const BenchFigures bench = bench_figures(practical.spec, practical.chambers_a_sample);
  const double factor = multiplication_factor(practical).value();
  pugi::xml_node steps = add_element(section, "ol", "", "steps");
  for (const std::string& step :
       {fmt::format("Faeces weighed: {:g} g.", bench.faeces_g),
        fmt::format("Flotation fluid added: {:g} mL. With the faeces, taken as 1 mL a gram, that "
                    "makes {:g} mL.",
                    *bench.added_ml, suspension_ml(bench)),
        fmt::format("Volume counted: {} chambers of {:g} mL, {:g} mL.", bench.chambers,
                    *bench.chamber_volume_ml, bench.chambers * *bench.chamber_volume_ml),
        std::string("Factor = "),
        fmt::format("EPG = eggs in all chambers of the sample \u00d7 {:g}, each kind by itself. "
                    "Fill in the table.",
                    factor)}) {
    pugi::xml_node item = add_element(steps, "li", step);
    if (step == "Factor = ") {
      add_formula(item, factor_formula(practical));
      append_words(item,
                   fmt::format(". So one egg seen stands for {:g} eggs per gram (EPG).", factor));
    }
  }
  add_element(section, "p",
              "Then talk it over: the two chambers of a sample are filled from the same beaker. "
              "Why do their counts differ? And if you saw no egg of a kind, what would you tell "
              "the farmer?");
}

} // namespace

std::string chamber_page(const ChamberPractical& practical) {
  const std::string title = "At the bench: count the chambers";
  HtmlPage page(title,
                std::string(form_style) + std::string(chamber_style) +
                    std::string(chamber_page_style) +
                    paper_foot(fmt::format("At the bench, chambers of seed {}", practical.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_instruction(body, practical);
  pugi::xml_node to_know = add_element(body, "div", "", "to-know");
  add_panel(to_know);
  add_line_rule(to_know);
  for (const PracticalSample& each : practical.samples)
    for (const ChamberView& view : each.chambers)
      for (const LaneRange& lanes : lane_pages(practical.spec))
        add_tally(add_chamber_page(body, view, lanes, chamber_figure(view, lanes)), lanes);
  pugi::xml_node sums = add_element(body, "section", "", "sheet");
  add_element(sums, "h2", "From eggs seen to eggs per gram");
  add_entries(sums, {"Name", "Date"});
  add_sums(sums, practical);
  add_steps(sums, practical);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), practical.seed),
              "note");
  return page.text();
}

} // namespace eggfall
