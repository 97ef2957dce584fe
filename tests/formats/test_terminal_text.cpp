#include "formats/terminal_text.hpp"

#include "base/text.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

const std::string long_text = "One two three four five six seven eight nine ten eleven twelve "
                              "thirteen fourteen fifteen sixteen seventeen.";

std::size_t longest_line(std::string_view text) {
  std::size_t longest = 0;
  while (!text.empty()) {
    longest = std::max(longest, character_count(text.substr(0, text.find('\n'))));
    text.remove_prefix(text.find('\n') + 1);
  }
  return longest;
}

} // namespace

TEST_CASE("Text for a terminal never leaves its 80 columns") {
  CHECK(longest_line(paragraph(long_text)) <= 80);
  CHECK(longest_line(paragraph(long_text, "    ")) <= 80);
  CHECK(longest_line(hanging("- ", long_text)) <= 80);
  CHECK(longest_line(entry("Label", long_text, "- ")) <= 80);
  CHECK(dashed_line() == std::string(80, '-') + '\n');
}

TEST_CASE("An entry's text hangs beside its label") {
  CHECK(entry("Fall", long_text, "- ") ==
        "  Fall      - One two three four five six seven eight nine ten eleven twelve\n"
        "              thirteen fourteen fifteen sixteen seventeen.\n");
  CHECK(entry("", "goes on") == "            goes on\n");
  CHECK(entry("Empty", "").empty());
  CHECK(hanging("\xC3\xA9: ", "a") == "\xC3\xA9: a\n");
  CHECK(heading("Spread", "  ") == "\n  Spread\n");
}

TEST_CASE("Rows of a table keep their columns, and the last cells may lack") {
  const TerminalTable table{2, 6, {{5}, {6, Side::left, 2}, {3}}, LongName::goes_on_below};
  CHECK(table.row("white", {"1", "open", "2"}) == "  white     1  open    2\n");
  CHECK(table.row("", {"eggs"}) == "         eggs\n");
  CHECK(table.row("\xC3\xA9\xC3\xA9", {"1"}) == "  \xC3\xA9\xC3\xA9        1\n");
  CHECK(table.row("white drench", {"1"}) == "  white     1\n    drench\n");
}

TEST_CASE("A long name may stand above its numbers") {
  const TerminalTable table{2, 6, {{5}}, LongName::stands_above};
  CHECK(table.row("white drench", {"1"}) == "  white drench\n            1\n");
  CHECK(table.row("white", {"1"}) == "  white     1\n");
  // The last line of a name of two lines leaves room, so that the number stands beside it.
  const std::string sixty(74, 'a');
  CHECK(table.row(sixty + " bcd", {"1"}) == "  " + sixty + "\n    bcd     1\n");
}

TEST_CASE("A name is cut where it does not fit, and says so") {
  CHECK(shortened("white", 5) == "white");
  CHECK(shortened("white drench", 9) == "white...");
}
