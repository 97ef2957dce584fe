#include "malformed_tables.hpp"

namespace {

eggfall::ReadOptions with_factor() {
  eggfall::ReadOptions options;
  options.factor_before = eggfall::MultiplicationFactor(50);
  options.factor_after = eggfall::MultiplicationFactor(50);
  return options;
}

eggfall::ReadOptions with_control(const std::string& name) {
  eggfall::ReadOptions options = with_factor();
  options.control = name;
  return options;
}

} // namespace

const std::vector<MalformedTable>& malformed_tables() {
  static const std::vector<MalformedTable> cases{
      {"empty file", "", "t.csv: found nothing; expected a header line and one line an animal",
       with_factor()},
      {"only blank lines", "\n\n  \n",
       "t.csv: found nothing; expected a header line and one line an animal", with_factor()},
      {"only a byte-order mark", "\xEF\xBB\xBF",
       "t.csv: found nothing; expected a header line and one line an animal", with_factor()},
      {"only separators", ",,,\n;;\n",
       "t.csv: found nothing; expected a header line and one line an animal", with_factor()},
      {"only a header", "group,animal,eggs_before,eggs_after\n",
       "t.csv: found only a header line; expected one line an animal below it", with_factor()},
      {"UTF-16", std::string("\xFF\xFEg\0r\0", 6),
       "t.csv:1: found a text in UTF-16; expected UTF-8; save the table as \"CSV UTF-8\"",
       with_factor()},
      {"a workbook", "PK\x03\x04rest",
       "t.csv: found a spreadsheet workbook; expected a text table; save the sheet as "
       "\"CSV UTF-8\"",
       with_factor()},
      {"Latin-1", "group,animal,eggs_before,eggs_after\nA,caf\xE9,5,1\n",
       "t.csv:2: found the byte 0xE9, which is not UTF-8; expected UTF-8; save the "
       "table as \"CSV UTF-8\"",
       with_factor()},
      {"a NUL byte", std::string("group,animal,eggs_before,eggs_after\nA,1,5,\0\n", 44),
       "t.csv:2: found a NUL byte; expected text", with_factor()},
      {"an open quote", "group,animal,eggs_before,eggs_after\nA,\"1,5,1\n",
       "t.csv:2: found a double quote that is never closed; expected a closing quote",
       with_factor()},
      {"a quote inside a cell", "group,animal,eggs_before,eggs_after\nA,1\"x,5,1\n",
       "t.csv:2: found a double quote in the middle of a cell; expected quotes around "
       "the whole cell, and doubled inside it",
       with_factor()},
      {"a cell too long",
       "group,animal,eggs_before,eggs_after\nA," + std::string(2000, 'x') + ",5,1\n",
       "t.csv:2: found a cell of more than 1000 bytes; expected a shorter one (is a "
       "quote left open?)",
       with_factor()},
      {"too few cells", "group,animal,eggs_before,eggs_after\nA,1,5\n",
       "t.csv:2: found 3 cells; expected 4, as in the header", with_factor()},
      {"too many cells", "group,animal,eggs_before,eggs_after\nA,1,5,1,9\n",
       "t.csv:2: found 5 cells; expected 4, as in the header (a decimal comma needs "
       "semicolons between cells, or quotes)",
       with_factor()},
      {"a decimal comma between commas",
       "group,animal,eggs_before,eggs_after,weight_kg\nA,1,5,1,31,5\n",
       "t.csv:2: found 6 cells; expected 5, as in the header (a decimal comma needs "
       "semicolons between cells, or quotes)",
       with_factor()},
      {"no group column", "animal,eggs_before,eggs_after\n1,5,1\n",
       "t.csv:1: found the columns \"animal\", \"eggs_before\", \"eggs_after\"; "
       "expected a column group",
       with_factor()},
      {"no animal column", "group,eggs_before,eggs_after\nA,5,1\n",
       "t.csv:1: found the columns \"group\", \"eggs_before\", \"eggs_after\"; expected "
       "a column animal",
       with_factor()},
      {"no counts after", "group,animal,eggs_before\nA,1,5\n",
       "t.csv:1: found the columns \"group\", \"animal\", \"eggs_before\"; expected a "
       "column eggs_after (or epg_after)",
       with_factor()},
      {"a misspelt column", "group,animal,eggs_befor,eggs_after\nA,1,5,1\n",
       "t.csv:1: found the columns \"group\", \"animal\", \"eggs_befor\", "
       "\"eggs_after\"; expected a column eggs_before (or epg_before) (is "
       "\"eggs_befor\" meant?)",
       with_factor()},
      {"no known column at all", "a,b\n1,2\n",
       "t.csv:1: found the columns \"a\", \"b\"; expected a column group\nt.csv:1: "
       "found the columns \"a\", \"b\"; expected a column animal\nt.csv:1: found the "
       "columns \"a\", \"b\"; expected a column eggs_before (or epg_before)\nt.csv:1: "
       "found the columns \"a\", \"b\"; expected a column eggs_after (or epg_after)",
       with_factor()},
      {"a column twice", "group,animal,eggs_before,eggs_after,animal\nA,1,5,1,1\n",
       "t.csv:1: column 5 (animal): found a second column of this name (the first is "
       "column 2); expected one",
       with_factor()},
      {"eggs and EPG for one occasion",
       "group,animal,eggs_before,eggs_after,epg_after\nA,1,5,1,50\n",
       "t.csv:1: column 5 (epg_after): found this beside eggs_after; expected one of "
       "the two",
       with_factor()},
      {"text in a count", "group,animal,eggs_before,eggs_after\nA,1,many,1\n",
       "t.csv:2: column 3 (eggs_before): found \"many\"; expected a whole number of "
       "eggs seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a count with a unit", "group,animal,eggs_before,eggs_after\nA,1,5 eggs,1\n",
       "t.csv:2: column 3 (eggs_before): found \"5 eggs\"; expected a whole number of "
       "eggs seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a negative count", "group,animal,eggs_before,eggs_after\nA,1,-5,1\n",
       "t.csv:2: column 3 (eggs_before): found \"-5\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a fractional count", "group,animal,eggs_before,eggs_after\nA,1,5.5,1\n",
       "t.csv:2: column 3 (eggs_before): found \"5.5\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a fractional count with a comma", "group;animal;eggs_before;eggs_after\nA;1;5,5;1\n",
       "t.csv:2: column 3 (eggs_before): found \"5,5\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a thousands separator", "group;animal;eggs_before;eggs_after\nA;1;1.234,0;1\n",
       "t.csv:2: column 3 (eggs_before): found \"1.234,0\"; expected a whole number of "
       "eggs seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"an absurd count", "group,animal,eggs_before,eggs_after\nA,1,99999999,1\n",
       "t.csv:2: column 3 (eggs_before): found \"99999999\"; expected at most 1000000 "
       "eggs seen",
       with_factor()},
      {"infinity", "group,animal,eggs_before,eggs_after\nA,1,inf,1\n",
       "t.csv:2: column 3 (eggs_before): found \"inf\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a dash for a missing count", "group,animal,eggs_before,eggs_after\nA,1,-,1\n",
       "t.csv:2: column 3 (eggs_before): found \"-\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"NA for a missing count", "group,animal,eggs_before,eggs_after\nA,1,5,NA\n",
       "t.csv:2: column 4 (eggs_after): found \"NA\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a negative EPG", "group,animal,epg_before,epg_after\nA,1,-50,0\n",
       "t.csv:2: column 3 (epg_before): found \"-50\"; expected eggs per gram, 0 or "
       "more (leave it empty if not sampled)",
       with_factor()},
      {"an EPG that is no multiple",
       "group,animal,epg_before,epg_after,factor_before,factor_after\nA,1,120,0,50,50\n",
       "t.csv:2: column 3 (epg_before): found 120 EPG; expected a whole multiple of the "
       "factor 50, such as 100 or 150 (is the factor right? an average of several "
       "counts is no count)",
       with_factor()},
      {"an absurd EPG",
       "group,animal,epg_before,epg_after,factor_before,factor_after\nA,1,1e9,0,1,1\n",
       "t.csv:2: column 3 (epg_before): found 1000000000 EPG; expected at most 1000000 "
       "eggs seen",
       with_factor()},
      {"no factor",
       "group,animal,eggs_before,eggs_after\nA,1,5,1\n",
       "t.csv:2: column 3 (eggs_before): found a count without a multiplication factor; "
       "expected a column factor_before, or the option --factor ('eggfall factor' works "
       "it out from the bench figures)\nt.csv:2: column 4 (eggs_after): found a count "
       "without a multiplication factor; expected a column factor_after, or the option "
       "--factor ('eggfall factor' works it out from the bench figures)",
       {}},
      {"a factor of zero", "group,animal,eggs_before,eggs_after,factor_before\nA,1,5,1,0\n",
       "t.csv:2: column 5 (factor_before): found \"0\"; expected a multiplication "
       "factor above 0 and at most 100000",
       with_factor()},
      {"a factor in words", "group,animal,eggs_before,eggs_after,factor_after\nA,1,5,1,fifty\n",
       "t.csv:2: column 5 (factor_after): found \"fifty\"; expected a multiplication "
       "factor above 0 and at most 100000",
       with_factor()},
      {"an absurd factor", "group,animal,eggs_before,eggs_after,factor_after\nA,1,5,1,1e7\n",
       "t.csv:2: column 5 (factor_after): found \"1e7\"; expected a multiplication "
       "factor above 0 and at most 100000",
       with_factor()},
      {"no group name", "group,animal,eggs_before,eggs_after\n,1,5,1\n",
       "t.csv:2: column 1 (group): found nothing; expected a name", with_factor()},
      {"no animal name", "group,animal,eggs_before,eggs_after\nA,,5,1\n",
       "t.csv:2: column 2 (animal): found nothing; expected a name", with_factor()},
      {"an animal twice", "group,animal,eggs_before,eggs_after\nA,1,5,1\nA,2,5,1\nA,1,6,0\n",
       "t.csv:4: column 2 (animal): found \"1\" again; expected each animal once in "
       "group \"A\" (it is on line 2 already)",
       with_factor()},
      {"an unknown role", "group,animal,eggs_before,eggs_after,role\nA,1,5,1,placebo\n",
       "t.csv:2: column 5 (role): found \"placebo\"; expected treated or control", with_factor()},
      {"two roles in a group",
       "group,animal,eggs_before,eggs_after,role\nA,1,5,1,treated\nA,2,5,1,control\n",
       "t.csv:3: column 5 (role): found \"control\"; expected the same role in every "
       "row of this group (line 2 says treated)",
       with_factor()},
      {"two control groups",
       "group,animal,eggs_before,eggs_after,role\nA,1,5,1,treated\nB,1,5,1,control\nC,1,5,1,"
       "control\n",
       "t.csv:4: role: found a second control group \"C\" beside \"B\" in trial "
       "\"trial\"; expected one control group a trial",
       with_factor()},
      {"only a control group", "group,animal,eggs_before,eggs_after,role\nB,1,5,1,control\n",
       "t.csv: role: found only a control group in trial \"trial\"; expected at least "
       "one treated group",
       with_factor()},
      {"an unknown group for --control", "group,animal,eggs_before,eggs_after\nA,1,5,1\n",
       "--control: found the unknown group \"B\"; expected one of the groups \"A\"",
       with_control("B")},
      {"an unknown class", "group,animal,eggs_before,eggs_after,class\nA,1,5,1,XX\n",
       "t.csv:2: column 5 (class): found \"XX\"; expected BZ, LV, ML, AD, SI or PYR, or "
       "several joined by +",
       with_factor()},
      {"an unknown class in a mixture",
       "group,animal,eggs_before,eggs_after,class\nA,1,5,1,BZ+XX\n",
       "t.csv:2: column 5 (class): found \"BZ+XX\"; expected BZ, LV, ML, AD, SI or PYR, "
       "or several joined by +",
       with_factor()},
      {"two drenches in a group",
       "group,animal,eggs_before,eggs_after,drench\nA,1,5,1,white\nA,2,5,1,yellow\n",
       "t.csv:3: column 5 (drench): found \"yellow\"; expected the same as in the first "
       "row of this group (line 2)",
       with_factor()},
      {"two classes in a group",
       "group,animal,eggs_before,eggs_after,class\nA,1,5,1,BZ\nA,2,5,1,LV\n",
       "t.csv:3: column 5 (class): found \"LV\"; expected the same as in the first row "
       "of this group (line 2)",
       with_factor()},
      {"two hosts in a group",
       "group,animal,eggs_before,eggs_after,host\nA,1,5,1,sheep\nA,2,5,1,goat\n",
       "t.csv:3: column 5 (host): found \"goat\"; expected the same as in the first row "
       "of this group (line 2)",
       with_factor()},
      {"two worms in a group",
       "group,animal,eggs_before,eggs_after,worm\nA,1,5,1,strongyles\nA,2,5,1,ascarids\n",
       "t.csv:3: column 5 (worm): found \"ascarids\"; expected the same as in the first "
       "row of this group (line 2)",
       with_factor()},
      {"a date the other way round",
       "group,animal,eggs_before,eggs_after,date_treated\nA,1,5,1,27/04/2031\n",
       "t.csv:2: column 5 (date_treated): found \"27/04/2031\"; expected a date written "
       "YYYY-MM-DD, such as 2031-04-27",
       with_factor()},
      {"a date that does not exist",
       "group,animal,eggs_before,eggs_after,date_treated\nA,1,5,1,2031-02-30\n",
       "t.csv:2: column 5 (date_treated): found \"2031-02-30\"; expected a date written "
       "YYYY-MM-DD, such as 2031-04-27",
       with_factor()},
      {"first sample after treatment",
       "group,animal,eggs_before,eggs_after,date_before,date_treated\nA,1,5,1,2031-03-04,2031-03-"
       "03\n",
       "t.csv:2: column 5 (date_before): found \"2031-03-04\"; expected a day no later "
       "than the treatment",
       with_factor()},
      {"second sample on the day of treatment",
       "group,animal,eggs_before,eggs_after,date_treated,date_after\nA,1,5,1,2031-03-03,2031-03-"
       "03\n",
       "t.csv:2: column 6 (date_after): found \"2031-03-03\"; expected a day later than "
       "the treatment",
       with_factor()},
      {"a weight of zero", "group,animal,eggs_before,eggs_after,weight_kg\nA,1,5,1,0\n",
       "t.csv:2: column 5 (weight_kg): found \"0\"; expected a weight in kg above 0 and "
       "at most 2000",
       with_factor()},
      {"an absurd weight", "group,animal,eggs_before,eggs_after,weight_kg\nA,1,5,1,31000\n",
       "t.csv:2: column 5 (weight_kg): found \"31000\"; expected a weight in kg above 0 "
       "and at most 2000",
       with_factor()},
      {"a dose in words", "group,animal,eggs_before,eggs_after,dose_ml\nA,1,5,1,full\n",
       "t.csv:2: column 5 (dose_ml): found \"full\"; expected a dose in mL above 0 and "
       "at most 2000",
       with_factor()},
      {"a thousands comma", "group,animal,eggs_before,eggs_after\nA,1,\"1,250\",1\n",
       "t.csv:2: column 3 (eggs_before): found \"1,250\"; expected a whole number of eggs seen, 0 "
       "or "
       "more (leave it empty if not sampled)",
       with_factor()},
      {"a thousands point in an EPG", "group;animal;epg_before;epg_after\nA;1;1.250;50\n",
       "t.csv:2: column 3 (epg_before): found \"1.250\"; expected eggs per gram, 0 or more (leave "
       "it "
       "empty if not sampled)",
       with_factor()},
      {"a second sample before the first",
       "group,animal,eggs_before,eggs_after,date_before,date_after\nA,1,5,1,2031-03-20,2031-03-"
       "03\n",
       "t.csv:2: column 6 (date_after): found \"2031-03-03\"; expected a day later than the first "
       "sample",
       with_factor()},
      {"a comment above the header", "# counts\ngroup,animal,eggs_before,eggs_after\nA,1,5,1\n",
       "t.csv:1: found a header with one column, \"# counts\"; expected the names of the columns, "
       "separated by commas, semicolons or tabs, in the first line",
       with_factor()},
      {"--control against the table",
       "group,animal,eggs_before,eggs_after,role\nA,1,5,1,\nB,1,5,1,treated\n",
       "t.csv:3: role: found treated, against the option --control B; expected control, or an "
       "empty "
       "cell",
       with_control("B")},
      {"several problems together",
       "group,animal,eggs_before,eggs_after\nA,1,x,1\nA,2,5,-1\nA,2,5,1\n",
       "t.csv:2: column 3 (eggs_before): found \"x\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)\nt.csv:3: column 4 "
       "(eggs_after): found \"-1\"; expected a whole number of eggs seen, 0 or more "
       "(leave it empty if not sampled)\nt.csv:4: column 2 (animal): found \"2\" again; "
       "expected each animal once in group \"A\" (it is on line 3 already)",
       with_factor()},
      {"a problem below a quoted line break",
       "group,animal,eggs_before,eggs_after,drench\nA,1,5,1,\"white\ndrench\"\nA,2,x,1,\n",
       "t.csv:4: column 3 (eggs_before): found \"x\"; expected a whole number of eggs "
       "seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
  };
  return cases;
}
