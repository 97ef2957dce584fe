#include "formats/workbook_text.hpp"

#include "base/text.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("Texts fit into a cell of a workbook") {
  CHECK(workbook_text("=1+1") == "=1+1");
  CHECK(workbook_text("a\x01"
                      "b\nc\x7F") == "a b c ");
  CHECK(workbook_text("bad \xFF byte, \xEF\xBF\xBF") == "bad \xEF\xBF\xBD byte, \xEF\xBF\xBD");
  CHECK(workbook_text("_x0041_ _x004_ x_xABcd_x0000_") ==
        "_x005F_x0041_ _x004_ x_x005F_xABcd_x005F_x0000_");
  const std::string full(32'767, 'x');
  CHECK(workbook_text(full) == full);
  const std::string cut = workbook_text(full + "y");
  CHECK(cut == std::string(32'761, 'x') + " [cut]");
  // A character beyond the first 65,536 takes two units.
  std::string sheep;
  for (int i = 0; i < 16'384; ++i)
    sheep += "\xF0\x9F\x90\x91";
  const std::string fewer = workbook_text(sheep);
  CHECK(fewer.ends_with("\xF0\x9F\x90\x91 [cut]"));
  CHECK(character_count(fewer) == 16'380 + 6);
}
