#include "intake/reading_text.hpp"

#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::understood;

namespace {

constexpr const char* last_words =
    "\nCompare these numbers with the table. If one is wrong, --table FILE writes the\n"
    "counts as they were read, to be mended by hand.\n";

} // namespace

TEST_CASE("What a table was taken for is shown with sums to compare with it") {
  CHECK(reading_text(understood("Tag,Drench,EPG pre,EPG post\n1,white,450,0\n2,white,300,n/s\n"
                                "3,untreated,50,n/s\n")) ==
        "Understood\n"
        "- t.csv: no column of groups: \"Drench\" names them\n"
        "- t.csv: header on line 1: \"Tag\" = animal, \"Drench\" = drench, \"EPG pre\" =\n"
        "  epg_before, \"EPG post\" = epg_after\n"
        "- \"n/s\" is taken for not sampled in 2 cells: line 3 (2), line 4 (3)\n"
        "- groups whose drench is \"untreated\" are taken for the untreated control\n"
        "\nTrial t\n"
        "  white, 2 animals\n"
        "    before: 15 eggs seen in 2 samples, factor 50\n"
        "    after: 0 eggs seen in 1 sample, factor 50\n"
        "  untreated (untreated control), 1 animal\n"
        "    before: 1 egg seen in 1 sample, factor 50\n"
        "    after: no sample\n" +
            std::string(last_words));
}

TEST_CASE("Factors that differ are all shown") {
  const std::string text =
      reading_text(understood("Tag,Mob,Factor,EPG pre,EPG post\n1,W,50,450,0\n2,W,15,300,0\n"));
  CHECK_THAT(text, Catch::Contains("before: 29 eggs seen in 2 samples, factor 15 and 50\n"));
}

TEST_CASE("Of tables in our own form there is nothing to tell, but what their reader noticed") {
  CHECK(reading_text(understood("group,animal,eggs_before,eggs_after,sex\nW,1,9,0,f\n")) ==
        "Counts tables in our own form: nothing to be understood.\n"
        "\nNoticed\n"
        "- t.csv: not used: column \"sex\"\n"
        "\nTrial t\n"
        "  W, 1 animal\n"
        "    before: 9 eggs seen in 1 sample, factor 50\n"
        "    after: 0 eggs seen in 1 sample, factor 50\n" +
            std::string(last_words));
}

TEST_CASE("No line is wider than a screen") {
  const std::string text =
      reading_text(understood("Tag," + std::string(60, 'm') +
                              " mob,EPG pre of all the lambs,EPG post of all the lambs\n"
                              "1,W,450,0\n"));
  std::size_t start = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', start)) {
    CHECK(end - start <= 80);
    start = end + 1;
  }
}
