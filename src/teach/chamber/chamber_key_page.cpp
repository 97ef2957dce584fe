#include "teach/chamber/chamber_key_page.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"
#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/chamber_words.hpp"
#include "teach/students/student_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view chamber_key_style = R"css(
.beside td, .answers td { white-space: nowrap; }
@media print { .answers table { width: 100%; } .answers p { margin: 2mm 0; } }
)css";

/// How many of a kind lie in each of these lanes.
std::vector<std::size_t> in_lanes(const ChamberView& view, const LaneRange& lanes,
                                  ParticleKind kind) {
  std::vector<std::size_t> counts;
  const std::vector<Particle> eggs = counted_eggs(view);
  for (int lane = lanes.first; lane <= lanes.last; ++lane)
    counts.push_back(static_cast<std::size_t>(std::ranges::count_if(eggs, [&](const Particle& egg) {
      return egg.kind == kind && lane_of(view.spec, egg) + 1 == lane;
    })));
  return counts;
}

/// "Strongyle-type: 1, 3, 4.", as they are numbered in the picture.
std::string numbers_words(const ChamberView& view, const LaneRange& lanes, ParticleKind kind) {
  std::vector<std::string> numbers;
  const std::vector<Particle> eggs = counted_eggs(view);
  for (std::size_t i = 0; i < eggs.size(); ++i) {
    const int lane = lane_of(view.spec, eggs[i]) + 1;
    if (eggs[i].kind == kind && lane >= lanes.first && lane <= lanes.last)
      numbers.push_back(fmt::format("{}", i + 1));
  }
  return fmt::format("{}: {}.", short_name(kind),
                     numbers.empty() ? "none" : fmt::format("{}", fmt::join(numbers, ", ")));
}

void add_sheet_key(pugi::xml_node body, const ChamberView& view, const LaneRange& lanes) {
  pugi::xml_node beside = add_chamber_page(body, view, lanes, key_figure(view, lanes));
  HtmlTable table{"", {"Eggs in lane"}, {}};
  for (int lane = lanes.first; lane <= lanes.last; ++lane)
    table.heads.push_back(fmt::format("{}", lane));
  table.heads.emplace_back("sum");
  for (const ParticleKind kind : egg_kinds) {
    std::vector<std::string>& row = table.rows.emplace_back();
    row.push_back(short_name(kind));
    std::size_t sum = 0;
    for (const std::size_t eggs : in_lanes(view, lanes, kind)) {
      row.push_back(fmt::format("{}", eggs));
      sum += eggs;
    }
    row.push_back(fmt::format("{}", sum));
  }
  add_table(beside, table, "counts");
  add_element(beside, "p", "Numbers in the picture:");
  for (const ParticleKind kind : egg_kinds)
    add_element(beside, "p", numbers_words(view, lanes, kind));
}

std::string sum_words(const PracticalSample& each, ParticleKind kind) {
  std::vector<std::string> parts;
  for (const ChamberView& view : each.chambers)
    parts.push_back(fmt::format("{}", eggs_counted(view, kind).value()));
  return fmt::format("{}", fmt::join(parts, " + "));
}

/// All samples and kinds: from the eggs seen to EPG, the truth, and what luck did.
void add_worked(pugi::xml_node body, const ChamberPractical& practical) {
  const double factor = multiplication_factor(practical).value();
  HtmlTable table{"",
                  {"Eggs", "Chamber by chamber", "EPG", "True EPG", "Expected eggs", "Off by",
                   "Luck, eggs", "Luck, EPG", "Off by / luck"},
                  {}};
  for (const PracticalSample& each : practical.samples)
    for (const ParticleKind kind : egg_kinds) {
      const KindCount count = kind_count(practical, each, kind);
      const double off = count.eggs.value() - count.expected;
      table.rows.push_back(
          {fmt::format("{}, {}", each.sample.name, short_name(kind)),
           fmt::format("{} = {}", sum_words(each, kind), count.eggs.value()),
           fmt::format("{} x {:g} = {:g}", count.eggs.value(), factor, count.epg.value()),
           fmt::format("{:g}", count.truth.value()), fmt::format("{:.1f}", count.expected),
           fmt::format("{:+.1f}", off), fmt::format("{:.1f}", count.luck),
           fmt::format("{:.0f}", count.luck * factor),
           count.luck == 0 ? std::string("no luck in it")
                           : fmt::format("{:+.1f}", off / count.luck)});
    }
  add_wide_table(body, table);
}

void add_talk(pugi::xml_node body, const ChamberPractical& practical) {
  const double factor = multiplication_factor(practical).value();
  const double sample_ml = practical.chambers_a_sample * chamber_volume_ml(practical.spec);
  const double grams = 1 / factor;
  add_element(body, "h2", "To talk over");
  pugi::xml_node list = add_element(body, "ul");
  for (const std::string& point :
       {fmt::format("Why is one egg {:g} EPG? The {:g} mL counted hold the eggs of {:g} g of "
                    "faeces, one part in {:g} of a gram. So each egg seen stands for {:g} in a "
                    "gram, and one egg more or less moves the result by {:g} EPG.",
                    factor, sample_ml, grams, factor, factor, factor),
        fmt::format("Can a sample with no egg seen still hold eggs? Yes. With {:g} EPG one egg is "
                    "expected, and {} of such counts show none; with {:g} EPG it is {}. \"None "
                    "seen\" means few, or none.",
                    factor, percent_written(chance_of_none(practical, Epg(factor))), 2 * factor,
                    percent_written(chance_of_none(practical, Epg(2 * factor)))),
        std::string("Luck moves a count by about the root of the eggs expected. Four times as many "
                    "eggs counted are twice the luck, so half of it in proportion: count more "
                    "chambers, or take a method with a smaller factor."),
        std::string("Some students count other numbers than the key. Let them show where: an egg "
                    "on a line, a bubble taken for an egg, a small egg missed. That is the "
                    "counter's part, and it comes on top of luck.")})
    add_element(list, "li", point);
}

} // namespace

std::string chamber_key_page(const ChamberPractical& practical) {
  const std::string title = "Key to the chambers";
  HtmlPage page(
      title, std::string(form_style) + std::string(chamber_style) + std::string(chamber_key_style) +
                 paper_foot(fmt::format("Key to the chambers of seed {}", practical.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  pugi::xml_node answers = add_element(body, "div", "", "answers");
  add_element(answers, "h1", title);
  add_element(answers, "p",
              "Whoever teaches keeps this page. In the pictures every counted egg is circled and "
              "numbered, lane after lane; eggs that touch the square and are left out by the line "
              "rule are crossed. Eggs without a mark lie outside, or belong to the lanes of "
              "another sheet.");
  add_element(answers, "h2", "Counts, EPG and the truth");
  pugi::xml_node factor = add_element(answers, "p", "Factor = ");
  add_formula(factor, factor_formula(practical));
  append_words(factor, ".");
  add_worked(answers, practical);
  add_element(answers, "p",
              "Expected: true EPG / factor. Luck: the standard deviation of the eggs seen if the "
              "chambers alone vary, the root of the eggs expected (Poisson); times the factor it "
              "is in EPG. Roughly two counts in three are off by less than their luck, and hardly "
              "any by more than 3 times as much.",
              "note");
  add_talk(answers, practical);
  add_element(answers, "p", chamber_caution(), "note");
  add_element(answers, "p", fmt::format("Made by eggfall {}, seed {}.", version(), practical.seed),
              "note");
  for (const PracticalSample& each : practical.samples)
    for (const ChamberView& view : each.chambers)
      for (const LaneRange& lanes : lane_pages(practical.spec))
        add_sheet_key(body, view, lanes);
  return page.text();
}

} // namespace eggfall
