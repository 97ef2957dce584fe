#include "teach/chamber/chamber_key_page.hpp"

#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"
#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/chamber_words.hpp"
#include "teach/class/student_words.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view chamber_key_style = R"css(
.sample { break-inside: avoid; } .sample td { white-space: nowrap; }
)css";

/// How many of a kind lie in each lane, their sum, and their numbers in the picture.
std::vector<std::string> lane_row(const ChamberView& view, ParticleKind kind) {
  std::vector<int> lanes(static_cast<std::size_t>(view.spec.lanes));
  std::vector<std::string> numbers;
  const std::vector<Particle> eggs = counted_eggs(view);
  for (std::size_t i = 0; i < eggs.size(); ++i)
    if (eggs[i].kind == kind) {
      ++lanes[static_cast<std::size_t>(lane_of(view.spec, eggs[i]))];
      numbers.push_back(fmt::format("{}", i + 1));
    }
  std::vector<std::string> row{short_name(kind)};
  for (const int eggs_in_lane : lanes)
    row.push_back(fmt::format("{}", eggs_in_lane));
  row.push_back(fmt::format("{}", eggs_counted(view, kind).value()));
  row.push_back(fmt::format("{}", fmt::join(numbers, ", ")));
  return row;
}

void add_chamber_key(pugi::xml_node body, const ChamberView& view) {
  pugi::xml_node section = add_chamber_sheet(body, view, key_figure(view));
  HtmlTable table{"", {"Eggs"}, {}, "Counts in " + chamber_words(view)};
  for (int lane = 1; lane <= view.spec.lanes; ++lane)
    table.heads.push_back(fmt::format("Lane {}", lane));
  table.heads.insert(table.heads.end(), {"Sum", "Numbers in the picture"});
  for (const ParticleKind kind : egg_kinds)
    table.rows.push_back(lane_row(view, kind));
  add_wide_table(section, table, "counts");
}

std::string sum_words(const LessonSample& each, ParticleKind kind) {
  std::vector<std::string> parts;
  for (const ChamberView& view : each.chambers)
    parts.push_back(fmt::format("{}", eggs_counted(view, kind).value()));
  return fmt::format("{}", fmt::join(parts, " + "));
}

/// What luck may do to a count, and what it did.
std::vector<std::string> luck_row(const ChamberLesson& lesson, ParticleKind kind,
                                  const KindCount& count) {
  const double off = count.eggs.value() - count.expected;
  const double factor = multiplication_factor(lesson).value();
  return {short_name(kind),
          fmt::format("{:.1f}", count.expected),
          fmt::format("{}", count.eggs.value()),
          fmt::format("{:+.1f}", off),
          fmt::format("{:.1f}", count.luck),
          fmt::format("{:.0f}", count.luck * factor),
          count.luck == 0 ? std::string("no luck in it")
                          : fmt::format("{:+.1f}", off / count.luck)};
}

void add_worked(pugi::xml_node body, const ChamberLesson& lesson, const LessonSample& each) {
  pugi::xml_node section = add_element(body, "section", "", "sample");
  add_element(section, "h3", fmt::format("Sample {}", each.sample.name));
  const double factor = multiplication_factor(lesson).value();
  HtmlTable worked{
      "From eggs to EPG", {"Eggs", "Chamber by chamber", "In all", "EPG", "True EPG"}, {}};
  HtmlTable luck{"What luck alone did",
                 {"Eggs", "Expected", "Seen", "Off by", "Luck, eggs", "Luck, EPG", "Off by / luck"},
                 {}};
  for (const ParticleKind kind : egg_kinds) {
    const KindCount count = kind_count(lesson, each, kind);
    worked.rows.push_back(
        {short_name(kind), sum_words(each, kind), fmt::format("{}", count.eggs.value()),
         fmt::format("{} x {:g} = {:g}", count.eggs.value(), factor, count.epg.value()),
         fmt::format("{:g}", count.truth.value())});
    luck.rows.push_back(luck_row(lesson, kind, count));
  }
  add_wide_table(section, worked);
  add_wide_table(section, luck);
}

void add_talk(pugi::xml_node body, const ChamberLesson& lesson) {
  const double factor = multiplication_factor(lesson).value();
  const double sample_ml = lesson.chambers_a_sample * chamber_volume_ml(lesson.spec);
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
                    factor, percent_written(chance_of_none(lesson, Epg(factor))), 2 * factor,
                    percent_written(chance_of_none(lesson, Epg(2 * factor)))),
        std::string("Luck moves a count by about the root of the eggs expected. Four times as many "
                    "eggs counted are twice the luck, so half of it in proportion: count more "
                    "chambers, or take a method with a smaller factor."),
        std::string("Some students count other numbers than the key. Let them show where: an egg "
                    "on a line, a bubble taken for an egg, a small egg missed. That is the "
                    "counter's part, and it comes on top of luck.")})
    add_element(list, "li", point);
}

} // namespace

std::string chamber_key_page(const ChamberLesson& lesson) {
  const std::string title = "Key to the chambers";
  HtmlPage page(title, std::string(form_style) + chamber_style(lesson.spec) +
                           std::string(chamber_key_style));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(body, "p",
              "Whoever teaches keeps this page. In the pictures every counted egg is circled and "
              "numbered, lane after lane; eggs that touch the square and are left out by the line "
              "rule are crossed. Eggs without a mark lie outside.");
  add_element(body, "p",
              fmt::format("Factor = mL in all / (grams x mL counted) = {}.", factor_words(lesson)));
  add_element(body, "h2", "Counts, EPG and the truth");
  for (const LessonSample& each : lesson.samples)
    add_worked(body, lesson, each);
  add_element(body, "p",
              "Expected: true EPG / factor. Luck: the standard deviation of the eggs seen if the "
              "chambers alone vary, the root of the eggs expected (Poisson); times the factor it "
              "is in EPG. Roughly two counts in three are off by less than their luck, and hardly "
              "any by more than 3 times as much.",
              "note");
  add_talk(body, lesson);
  add_element(body, "p", chamber_caution(), "note");
  for (const LessonSample& each : lesson.samples)
    for (const ChamberView& view : each.chambers)
      add_chamber_key(body, view);
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), lesson.seed),
              "note");
  return page.text();
}

} // namespace eggfall
