#include "teach/chamber/chamber_key_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/chamber/drawn_chambers.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <array>
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
    const ChamberPractical practical = chamber_practical(seed);
    const pugi::xml_document page = parsed(chamber_key_page(practical));
    const std::vector<pugi::xml_node> sections = chamber_sections(page);
    const std::vector<ChamberView> views = views_of(practical);
    REQUIRE(sections.size() == 2 * views.size());
    for (std::size_t i = 0; i < views.size(); ++i) {
      std::array<int, egg_kinds.size()> in_chamber{};
      std::size_t ringed = 0;
      for (const pugi::xml_node section : {sections[2 * i], sections[2 * i + 1]}) {
        const auto rows = section.select_nodes(".//tbody/tr");
        REQUIRE(rows.size() == egg_kinds.size());
        ringed += drawn(section, "counted");
        int on_sheet = 0;
        for (std::size_t k = 0; k < egg_kinds.size(); ++k) {
          const std::vector<std::string> row = cells(rows[k].node());
          REQUIRE(row.size() == 5); // a name, three lanes, and their sum
          const int sum = std::stoi(row[1]) + std::stoi(row[2]) + std::stoi(row[3]);
          CHECK(sum == std::stoi(row[4]));
          in_chamber[k] += sum;
          on_sheet += sum;
        }
        CHECK(drawn(section, "counted") == static_cast<std::size_t>(on_sheet));
        // Each is named by its number once.
        std::string numbers;
        for (const auto& line : section.select_nodes("div/p"))
          numbers += line.node().text().get();
        for (const auto& ring : section.select_nodes(".//g[@class='counted']/text"))
          CHECK_THAT(numbers, Catch::Contains(" " + std::string(ring.node().text().get())));
      }
      CHECK(ringed == counted_eggs(views[i]).size());
      for (std::size_t k = 0; k < egg_kinds.size(); ++k)
        CHECK(static_cast<std::uint32_t>(in_chamber[k]) ==
              eggs_counted(views[i], egg_kinds[k]).value());
    }
    const auto worked = page.select_nodes("//div[@class='answers']//tbody/tr");
    REQUIRE(worked.size() == practical.samples.size() * egg_kinds.size());
    for (std::size_t i = 0; i < worked.size(); ++i) {
      const PracticalSample& sample = practical.samples[i / egg_kinds.size()];
      const ParticleKind kind = egg_kinds[i % egg_kinds.size()];
      const std::uint32_t first = eggs_counted(sample.chambers[0], kind).value();
      const std::uint32_t second = eggs_counted(sample.chambers[1], kind).value();
      const std::uint32_t eggs = first + second;
      const std::vector<std::string> row = cells(worked[i].node());
      CHECK(row[1] == fmt::format("{} + {} = {}", first, second, eggs));
      CHECK(row[2] == fmt::format("{} x 50 = {}", eggs, eggs * 50));
      CHECK(row[3] == fmt::format("{:g}", sample.sample.epg[i % egg_kinds.size()].value()));
    }
  }
}

TEST_CASE("Another seed gives another key", "[chamber]") {
  CHECK(chamber_key_page(chamber_practical(1)) != chamber_key_page(chamber_practical(2)));
}

TEST_CASE("The key warns, and tells the chance of seeing no egg", "[chamber]") {
  const std::string words = words_of(parsed(chamber_key_page(chamber_practical(1))));
  CHECK_THAT(words, Catch::Contains("gloves") && Catch::Contains("wash your hands") &&
                        Catch::Contains("not a guide for diagnosis") &&
                        Catch::Contains("registered veterinarian"));
  CHECK_THAT(words, Catch::Contains("36.8%")); // 1/e
}
