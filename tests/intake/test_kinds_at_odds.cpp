#include "intake/kinds_at_odds.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <string>

using namespace eggfall;
using support::eggs_of;
using support::layout_of;
using support::Lines;
using support::not_understood;
using support::understood;

TEST_CASE("Strongyle eggs at one time beside eggs of no told kind at the other are asked about") {
  const std::string rows = "\n1,W,450,0\n2,W,300,50\n";
  CHECK(not_understood("Tag,Mob,EPG before,Strongyle EPG after" + rows) ==
        "t.csv: column 3 (EPG before): found eggs whose kind is not told, beside strongyle eggs "
        "under \"Strongyle EPG after\": other eggs counted at one time alone would look like a "
        "fall, or hide one; expected an answer: the setting column \"epg_before=EPG before\" (if "
        "strongyle eggs alone were counted there too; if not, put those in their place)");
  CHECK(not_understood("Tag,Mob,Strongyles pre,EPG post" + rows)
            .find("the setting column \"epg_after=EPG post\"") != std::string::npos);
  // A count that says no unit may be of either.
  CHECK(not_understood("Tag,Mob,Strongyle EPG pre,Count post" + rows)
            .find("\"epg_after=Count post\" (if strongyle eggs alone were counted there too; if "
                  "not, put those in their place), or the setting column \"eggs_after=Count "
                  "post\"") != std::string::npos);
}

TEST_CASE("The same kind of egg at both times is no question, and an answer ends one") {
  const std::string rows = "\n1,W,450,0\n2,W,300,50\n";
  const Lines eggs{"W 1: 9 to 0", "W 2: 6 to 1"};
  CHECK(eggs_of(understood("Tag,Mob,Strongyle EPG before,Strongyle EPG after" + rows)) == eggs);
  CHECK(eggs_of(understood("Tag,Mob,EPG before,EPG after" + rows)) == eggs);
  CHECK(eggs_of(understood("Tag,Mob,EPG before,Strongyle EPG after" + rows,
                           layout_of({{"column", "epg_before=EPG before"}}))) == eggs);
  // A mob called so is no kind of egg; nor are those of Nematodirus beside the others.
  CHECK(eggs_of(understood("Tag,Mob,Strongyle EPG before,Strongyle EPG after,Nematodirus EPG "
                           "before,Nematodirus EPG after\n1,W,450,0,50,0\n2,W,300,50,0,0\n")) ==
        eggs);
}

TEST_CASE("Eggs of one kind alone are refused, with what to do about it") {
  const std::string rows = "\n1,W,450,0\n2,W,300,50\n";
  CHECK(not_understood("Tag,Mob,Coccidia before,Coccidia after" + rows) ==
        "t.csv: column 4 (Coccidia after): found counts of coccidia alone, under \"Coccidia "
        "after\", \"Coccidia before\"; expected counts of the eggs of roundworms before treatment "
        "and after, by which a drench is judged here; no published cut-off is for these");
  CHECK(not_understood("Tag,Mob,Nematodirus EPG before,Nematodirus EPG after" + rows)
            .find("expected counts of all strongyle eggs before treatment and after, in columns "
                  "beside these; or, to judge the drench by nematodirus alone, heads that name no "
                  "worm (EPG before, EPG after) and a column \"worm\" with nematodirus in each "
                  "row") != std::string::npos);
  // The way out is one.
  CHECK(understood("Tag,Mob,Worm,EPG before,EPG after\n1,W,Nematodirus,450,0\n2,W,Nematodirus,300,"
                   "50\n")
            .table.trials[0]
            .groups[0]
            .worm == "nematodirus");
}

TEST_CASE("Rows of one sample that differ in the worm are refused") {
  CHECK(not_understood(
            "Tag,Mob,Worm,EPG before,EPG after\n1,W,Strongyles,450,0\n1,W,Nematodirus,50,0\n") ==
        "t.csv:3: column 3 (Worm): found \"Nematodirus\" again for \"1\", with a row for "
        "\"Strongyles\" on line 2; expected one row a sample, with the counts of all strongyle "
        "eggs in one column and those of eggs told apart in columns beside it (EPG before, "
        "Nematodirus EPG before); worms told by their larvae go into a table of larvae");
  // With one row a sample too, and where the animal's name stands in the first of its rows.
  const std::string samples = "Tag,Mob,When,Worm,EPG\n1,W,before,Strongyles,450\n";
  CHECK(not_understood(samples + "1,W,before,Nematodirus,50\n1,W,after,Strongyles,0\n")
            .find("found \"Nematodirus\" again for \"1\"") != std::string::npos);
  CHECK(not_understood(samples +
                       ",W,before,Nematodirus,50\n,W,after,Strongyles,0\n2,W,before,Strongyles,"
                       "300\n,W,before,Nematodirus,0\n,W,after,Strongyles,50\n")
            .find("found \"Nematodirus\" again for \"1\"") != std::string::npos);
  CHECK(eggs_of(understood(samples + "1,W,after,strongyle,0\n2,W,before,Strongyles,300\n"
                                     "2,W,after,Strongyles,50\n")) ==
        Lines{"W 1: 9 to 0", "W 2: 6 to 1"});
  // Two rows of one worm are two samples, and are told as such; rows without a tag are animals.
  CHECK(not_understood(samples + "1,W,before,Strongyles,50\n1,W,after,Strongyles,0\n")
            .find("a second sample of \"1\" before treatment") != std::string::npos);
  CHECK(eggs_of(
            understood("Mob,Worm,EPG before,EPG after\nW,Strongyles,450,0\nW,Strongyles,300,50\n"))
            .size() == 2);
}
