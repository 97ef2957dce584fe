#include "intake/count_blocks.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;
using support::eggs_of;
using support::layout_of;
using support::Lines;
using support::not_understood;
using support::understood;

// tests/intake/test_raw_animals.cpp has groups side by side, repeats and twins.

TEST_CASE("A head of totals or means is asked about, with the names that read them as they are") {
  const std::string rows = "\n1,W,450,0\n2,W,300,50\n";
  CHECK(not_understood("Tag,Mob,Total EPG before,Total EPG after" + rows) ==
        "t.csv:1: column 3 (Total EPG before): found means or totals, which cannot be judged if "
        "they are of groups (a table needs a row for each animal); expected an answer: the setting "
        "mean-of 2 (if each is the mean of two counts of one animal's sample, or of as many as "
        "there are), or the setting column \"epg_before=Total EPG before\" and the setting column "
        "\"epg_after=Total EPG after\" (if they are one animal's a row, of roundworm eggs alone: "
        "no coccidia, tapeworm or fluke among them)");
  CHECK(eggs_of(understood("Tag,Mob,Total EPG before,Total EPG after" + rows,
                           layout_of({{"column", "epg_before=Total EPG before"},
                                      {"column", "epg_after=Total EPG after"}}))) ==
        Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  // Days tell which is which as words do.
  CHECK(not_understood("Tag,Mob,Total EPG day 0,Total EPG day 14" + rows)
            .find("\"epg_before=Total EPG day 0\" and the setting column \"epg_after=Total EPG day "
                  "14\"") != std::string::npos);
  // Of two columns that would have one name, neither is offered.
  CHECK(not_understood("Tag,Mob,Total EPG before,Mean EPG before,EPG after\n1,W,450,450,0\n")
            .find("epg_before=") == std::string::npos);
}
