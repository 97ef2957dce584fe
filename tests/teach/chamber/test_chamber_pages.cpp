#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/chamber_key_page.hpp"
#include "teach/chamber/chamber_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <set>

using namespace eggfall;
using support::words_of;

namespace {

pugi::xml_document parsed(const std::string& text) {
  pugi::xml_document document;
  REQUIRE(document.load_string(text.c_str(), pugi::parse_full));
  return document;
}

std::vector<ChamberView> views_of(const ChamberLesson& lesson) {
  std::vector<ChamberView> views;
  for (const LessonSample& sample : lesson.samples)
    views.insert(views.end(), sample.chambers.begin(), sample.chambers.end());
  return views;
}

std::vector<pugi::xml_node> chamber_sections(const pugi::xml_document& page) {
  std::vector<pugi::xml_node> sections;
  for (const auto& found : page.select_nodes("//section[figure/svg]"))
    if (std::string_view(found.node().attribute("class").value()) == "sheet")
      sections.push_back(found.node());
  return sections;
}

std::size_t drawn(pugi::xml_node within, const std::string& css_class) {
  return within.select_nodes(fmt::format(".//g[@class='{}']", css_class).c_str()).size();
}

std::size_t of_kind(const ChamberView& view, ParticleKind kind) {
  return static_cast<std::size_t>(std::ranges::count(view.particles, kind, &Particle::kind));
}

std::size_t left_out(const ChamberView& view) {
  return static_cast<std::size_t>(
      std::ranges::count_if(view.particles, [&view](const Particle& each) {
        return is_egg(each.kind) && placing(view.spec, each) == Placing::left_out;
      }));
}

std::vector<std::string> cells(pugi::xml_node row) {
  std::vector<std::string> texts;
  for (const pugi::xml_node cell : row.children())
    texts.emplace_back(cell.text().get());
  return texts;
}

/// A dense chamber, with eggs on all lines and outside.
ChamberView crowded() {
  const FaecesSample sample{"A", {Epg(20'000), Epg(20'000), Epg(20'000)}};
  return chamber_view(ChamberSpec{}, sample, 7, 1);
}

} // namespace

TEST_CASE("The lesson has two samples of two chambers, and one egg is 50 EPG", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(11);
  REQUIRE(lesson.samples.size() == 2);
  for (const LessonSample& sample : lesson.samples)
    CHECK(sample.chambers.size() == 2);
  // 45 mL / (3 g x 2 x 0.15 mL)
  CHECK_THAT(multiplication_factor(lesson).value(), Catch::WithinRel(50, 1e-12));
  const KindCount count = kind_count(lesson, lesson.samples.front(), ParticleKind::strongyle_type);
  CHECK(count.truth.value() == 400);
  CHECK_THAT(count.expected, Catch::WithinRel(8, 1e-12));
  CHECK_THAT(count.luck, Catch::WithinRel(std::sqrt(8), 1e-12));
  CHECK(count.epg == count.eggs * multiplication_factor(lesson));
  // A Poisson count of mean 1 is none with chance 1/e.
  CHECK_THAT(chance_of_none(lesson, Epg(50)), Catch::WithinRel(std::exp(-1), 1e-12));
}

TEST_CASE("Over many seeds a lesson's counts have the mean of the truth", "[chamber]") {
  constexpr int lessons = 300;
  double eggs = 0;
  for (std::uint64_t seed = 0; seed < lessons; ++seed) {
    const ChamberLesson lesson = chamber_lesson(seed);
    eggs += kind_count(lesson, lesson.samples.front(), ParticleKind::strongyle_type).eggs.value();
  }
  CHECK_THAT(eggs / lessons, Catch::WithinAbs(8, 4 * std::sqrt(8.0 / lessons)));
}

TEST_CASE("A picture shows each particle once, and nothing of the key", "[chamber]") {
  const ChamberView view = crowded();
  const pugi::xml_document picture = parsed(chamber_figure(view));
  for (const ParticleKind kind : particle_kinds) {
    INFO(to_string(kind));
    CHECK(of_kind(view, kind) > 0);
    CHECK(drawn(picture, kind_class(kind)) == of_kind(view, kind));
  }
  CHECK(drawn(picture, "counted") == 0);
  CHECK(drawn(picture, "left-out") == 0);
}

TEST_CASE("A key rings every egg counted and crosses every one left out", "[chamber]") {
  const ChamberView view = crowded();
  REQUIRE(left_out(view) > 0);
  const pugi::xml_document picture = parsed(key_figure(view));
  CHECK(drawn(picture, "left-out") == left_out(view));
  const auto rings = picture.select_nodes(".//g[@class='counted']");
  const std::vector<Particle> eggs = counted_eggs(view);
  REQUIRE(rings.size() == eggs.size());
  for (std::size_t i = 0; i < eggs.size(); ++i) {
    const pugi::xml_node ring = rings[i].node();
    CHECK(ring.child("text").text().as_uint() == i + 1);
    // Written with two decimals.
    CHECK_THAT(ring.child("circle").attribute("cx").as_double(),
               Catch::WithinAbs(eggs[i].centre.x_um, 0.005));
    CHECK_THAT(ring.child("circle").attribute("cy").as_double(),
               Catch::WithinAbs(eggs[i].centre.y_um, 0.005));
  }
}

TEST_CASE("The words of a picture are the same whatever is to be counted", "[chamber]") {
  std::set<std::string> descriptions;
  for (const std::uint64_t seed : {1U, 2U, 3U})
    for (const ChamberView& view : views_of(chamber_lesson(seed)))
      descriptions.insert(parsed(chamber_figure(view)).child("svg").child("desc").text().get());
  CHECK(descriptions.size() == 1);
  CHECK_FALSE(descriptions.begin()->empty());
}

TEST_CASE("The same lesson gives the same pages, another seed others", "[chamber]") {
  CHECK(chamber_page(chamber_lesson(1)) == chamber_page(chamber_lesson(1)));
  CHECK(chamber_page(chamber_lesson(1)) != chamber_page(chamber_lesson(2)));
  CHECK(chamber_key_page(chamber_lesson(1)) != chamber_key_page(chamber_lesson(2)));
}

TEST_CASE("The page for students has a sheet a chamber with an empty tally", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(1);
  const std::string text = chamber_page(lesson);
  CHECK(text.size() < 500'000);
  const pugi::xml_document page = parsed(text);
  CHECK(drawn(page, "counted") == 0);
  const std::vector<pugi::xml_node> sections = chamber_sections(page);
  const std::vector<ChamberView> views = views_of(lesson);
  REQUIRE(sections.size() == views.size());
  for (std::size_t i = 0; i < views.size(); ++i) {
    INFO(sections[i].child("h2").text().get());
    for (const ParticleKind kind : particle_kinds)
      CHECK(drawn(sections[i], kind_class(kind)) == of_kind(views[i], kind));
    CHECK(sections[i].select_nodes(".//tbody/tr").size() == egg_kinds.size());
  }
  CHECK(page.select_nodes("//tbody//td").size() > 0);
  for (const auto& cell : page.select_nodes("//tbody//td"))
    CHECK(std::string_view(cell.node().text().get()).empty());
}

TEST_CASE("A picture's width on paper is that of its view box, 17 to 1", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(1);
  CHECK_THAT(paper_width_mm(lesson.spec), Catch::WithinRel(17 * 10.5, 1e-12));
  const pugi::xml_document page = parsed(chamber_page(lesson));
  CHECK_THAT(page.select_node("//style").node().text().get(),
             Catch::Contains(".chamber svg { width: 178.5mm; }"));
  for (const pugi::xml_node section : chamber_sections(page))
    CHECK_THAT(section.select_node(".//svg").node().attribute("viewBox").value(),
               Catch::StartsWith("-250 -250 10500 ")); // micrometres
}

TEST_CASE("The key's tables are the views' counts, and its EPG eggs x factor", "[chamber]") {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    const ChamberLesson lesson = chamber_lesson(seed);
    const pugi::xml_document page = parsed(chamber_key_page(lesson));
    const std::vector<pugi::xml_node> sections = chamber_sections(page);
    const std::vector<ChamberView> views = views_of(lesson);
    REQUIRE(sections.size() == views.size());
    for (std::size_t i = 0; i < views.size(); ++i) {
      const auto rows = sections[i].select_nodes(".//tbody/tr");
      REQUIRE(rows.size() == egg_kinds.size());
      CHECK(drawn(sections[i], "counted") == counted_eggs(views[i]).size());
      for (std::size_t k = 0; k < egg_kinds.size(); ++k) {
        const std::vector<std::string> row = cells(rows[k].node());
        REQUIRE(row.size() == 9);
        int in_lanes = 0;
        for (std::size_t lane = 1; lane <= 6; ++lane)
          in_lanes += std::stoi(row[lane]);
        CHECK(in_lanes == std::stoi(row[7]));
        CHECK(row[7] == fmt::format("{}", eggs_counted(views[i], egg_kinds[k]).value()));
        const auto commas = std::ranges::count(row[8], ',');
        CHECK((row[8].empty() ? 0 : commas + 1) == in_lanes);
      }
    }
    const auto worked = page.select_nodes("//section[@class='sample']/div[1]//tbody/tr");
    REQUIRE(worked.size() == lesson.samples.size() * egg_kinds.size());
    for (std::size_t i = 0; i < worked.size(); ++i) {
      const LessonSample& sample = lesson.samples[i / egg_kinds.size()];
      const ParticleKind kind = egg_kinds[i % egg_kinds.size()];
      const std::uint32_t eggs = eggs_counted(sample.chambers[0], kind).value() +
                                 eggs_counted(sample.chambers[1], kind).value();
      const std::vector<std::string> row = cells(worked[i].node());
      CHECK(row[3] == fmt::format("{} x 50 = {}", eggs, eggs * 50));
      CHECK(row[4] == fmt::format("{:g}", sample.sample.epg[i % egg_kinds.size()].value()));
    }
  }
}

TEST_CASE("The line rule's drawing ticks and crosses what its words say", "[chamber]") {
  const pugi::xml_document drawing = parsed(line_rule_figure());
  // Three inside, three on the left and top lines and their corner, one on the inner line.
  CHECK(drawing.select_nodes("//polyline").size() == 7);
  CHECK(drawn(drawing, kind_class(ParticleKind::strongyle_type)) == 13);
}

TEST_CASE("The panel shows every kind with its size", "[chamber]") {
  const pugi::xml_document panel = parsed(particle_panel());
  CHECK(drawn(panel, "enlarged") == particle_kinds.size());
  std::string words;
  for (const auto& label : panel.select_nodes("//text"))
    words += std::string(label.node().text().get()) + "; ";
  for (const char* part :
       {"85 x 45 \u00b5m", "200 x 90 \u00b5m", "50 x 25 \u00b5m", "coiled larva"})
    CHECK_THAT(words, Catch::Contains(part));
}

TEST_CASE("Both pages warn, and the sizes are owned up to as from memory", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(1);
  const std::string student = words_of(parsed(chamber_page(lesson)));
  const std::string key = words_of(parsed(chamber_key_page(lesson)));
  for (const std::string& words : {student, key})
    CHECK_THAT(words, Catch::Contains("gloves") && Catch::Contains("wash your hands") &&
                          Catch::Contains("not a guide for diagnosis") &&
                          Catch::Contains("registered veterinarian") &&
                          Catch::Contains("45 / (3 x 0.3) = 50"));
  CHECK_THAT(student, Catch::Contains("from memory: check against a parasitology textbook or your "
                                      "laboratory's plates"));
  CHECK_THAT(key, Catch::Contains("36.8%")); // 1/e
}
