#include "teach/chamber/chamber_key_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/chamber/drawn_chambers.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

using namespace eggfall;
using namespace drawn_chambers;
using support::words_of;

namespace {

std::vector<std::string> cells(pugi::xml_node row) {
  std::vector<std::string> texts;
  for (const pugi::xml_node cell : row.children())
    texts.emplace_back(cell.text().get());
  return texts;
}

} // namespace

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

TEST_CASE("Another seed gives another key", "[chamber]") {
  CHECK(chamber_key_page(chamber_lesson(1)) != chamber_key_page(chamber_lesson(2)));
}

TEST_CASE("The key warns, and tells the chance of seeing no egg", "[chamber]") {
  const std::string words = words_of(parsed(chamber_key_page(chamber_lesson(1))));
  CHECK_THAT(words, Catch::Contains("gloves") && Catch::Contains("wash your hands") &&
                        Catch::Contains("not a guide for diagnosis") &&
                        Catch::Contains("registered veterinarian") &&
                        Catch::Contains("45 / (3 x 0.3) = 50"));
  CHECK_THAT(words, Catch::Contains("36.8%")); // 1/e
}
