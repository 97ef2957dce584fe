#include "support/malformed_tables.hpp"

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
      {"half a workbook",
       "PK\x03\x04rest",
       "t.csv: found a workbook that is damaged or cut short; expected a whole .xlsx or .ods "
       "workbook; save or copy it again",
       {}},
      {"an old workbook",
       "\xD0\xCF\x11\xE0rest",
       "t.csv: found a spreadsheet workbook of the old kind (.xls), or one with a password; "
       "expected an .xlsx or .ods workbook without a password, or a text table; open it in a "
       "spreadsheet and save it as .xlsx, .ods or \"CSV UTF-8\" (without the password, if it has "
       "one)",
       {}},
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
       "t.csv:2: column 2: found a cell of more than 1000 bytes; expected a shorter one (is a "
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
       "more, with no mark for thousands (leave it empty if not sampled)",
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
       "t.csv:2: column 3 (eggs_before): found a count without a multiplication factor; expected a "
       "column factor_before, or the setting factor (the bench calculator works it out from the "
       "bench figures)\nt.csv:2: column 4 (eggs_after): found a count without a multiplication "
       "factor; expected a column factor_after, or the setting factor (the bench calculator works "
       "it out from the bench figures)",
       {}},
      {"a factor of zero", "group,animal,eggs_before,eggs_after,factor_before\nA,1,5,1,0\n",
       "t.csv:2: column 5 (factor_before): found \"0\"; expected a multiplication "
       "factor from 0.001 to 100000",
       with_factor()},
      {"a factor in words", "group,animal,eggs_before,eggs_after,factor_after\nA,1,5,1,fifty\n",
       "t.csv:2: column 5 (factor_after): found \"fifty\"; expected a multiplication "
       "factor from 0.001 to 100000",
       with_factor()},
      {"an absurd factor", "group,animal,eggs_before,eggs_after,factor_after\nA,1,5,1,1e7\n",
       "t.csv:2: column 5 (factor_after): found \"1e7\"; expected a multiplication "
       "factor from 0.001 to 100000",
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
      {"an unknown group for the setting control", "group,animal,eggs_before,eggs_after\nA,1,5,1\n",
       "control: found the unknown group \"B\"; expected one of the groups \"A\"",
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
      {"a misspelt class", "group,animal,eggs_before,eggs_after,class\nA,1,5,1,BX\n",
       "t.csv:2: column 5 (class): found \"BX\"; expected BZ, LV, ML, AD, SI or PYR, or "
       "several joined by + (is BZ meant?)",
       with_factor()},
      {"a substance of no class", "group,animal,eggs_before,eggs_after,class\nA,1,5,1,closantel\n",
       "t.csv:2: column 5 (class): found \"closantel\"; expected BZ, LV, ML, AD, SI or PYR, or "
       "several joined by + (closantel is of none of these classes: give no class, and name it as "
       "the drench)",
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
       "t.csv:2: column 5 (weight_kg): found \"0\"; expected a weight in kg from 0.1 "
       "to 2000",
       with_factor()},
      {"an absurd weight", "group,animal,eggs_before,eggs_after,weight_kg\nA,1,5,1,31000\n",
       "t.csv:2: column 5 (weight_kg): found \"31000\"; expected a weight in kg from 0.1 "
       "to 2000",
       with_factor()},
      {"a dose in words", "group,animal,eggs_before,eggs_after,dose_ml\nA,1,5,1,full\n",
       "t.csv:2: column 5 (dose_ml): found \"full\"; expected a dose in mL from 0.001 "
       "to 2000",
       with_factor()},
      {"a thousands comma", "group,animal,eggs_before,eggs_after\nA,1,\"1,250\",1\n",
       "t.csv:2: column 3 (eggs_before): found \"1,250\"; expected a whole number of eggs seen, 0 "
       "or "
       "more (leave it empty if not sampled)",
       with_factor()},
      {"a thousands point in an EPG", "group;animal;epg_before;epg_after\nA;1;1.250;50\n",
       "t.csv:2: column 3 (epg_before): found \"1.250\"; expected eggs per gram, 0 or more, with "
       "no mark for thousands (leave "
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
      {"the setting control against the table",
       "group,animal,eggs_before,eggs_after,role\nA,1,5,1,\nB,1,5,1,treated\n",
       "t.csv:3: role: found treated, though \"B\" is said to be the control; expected control, or "
       "an empty cell",
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
      {"a pool of none", "group,animal,eggs_before,eggs_after,animals_in_pool\nA,1,5,1,0\n",
       "t.csv:2: column 5 (animals_in_pool): found \"0\"; expected a whole number of animals from "
       "1 to 1000",
       with_factor()},
      {"a pool of part of an animal",
       "group,animal,eggs_before,eggs_after,animals_in_pool\nA,1,5,1,2.5\n",
       "t.csv:2: column 5 (animals_in_pool): found \"2.5\"; expected a whole number of animals "
       "from 1 to 1000",
       with_factor()},
      {"a pool of a nation", "group,animal,eggs_before,eggs_after,animals_in_pool\nA,1,5,1,1001\n",
       "t.csv:2: column 5 (animals_in_pool): found \"1001\"; expected a whole number of animals "
       "from 1 to 1000",
       with_factor()},
      {"a weight and a dose of a pool",
       "group,animal,eggs_before,eggs_after,animals_in_pool,weight_kg,dose_ml\nA,1,5,1,10,31,6\n",
       "t.csv:2: column 6 (weight_kg): found \"31\" for a pool of 10 animals; expected an empty "
       "cell (a weight is that of one animal)\n"
       "t.csv:2: column 7 (dose_ml): found \"6\" for a pool of 10 animals; expected an empty cell "
       "(a dose is that of one animal)",
       with_factor()},
      {"a count beside its repeats",
       "group,animal,eggs_before,eggs_before_1,eggs_before_2,eggs_after\nA,1,5,1,2,1\n",
       "t.csv:1: column 4 (eggs_before_1): found this beside eggs_before; expected one of the two",
       with_factor()},
      {"repeats in eggs and in EPG",
       "group,animal,eggs_before_1,epg_before_2,eggs_after\nA,1,5,1,2\n",
       "t.csv:1: column 4 (epg_before_2): found this beside eggs_before_1; expected one of the two",
       with_factor()},
      {"a repeat twice",
       "group,animal,eggs_before_1,eggs_before_2,eggs_before_01,eggs_after\nA,1,5,1,2,1\n",
       "t.csv:1: column 5 (eggs_before_01): found a second column of this number (the first is "
       "column 3); expected one",
       with_factor()},
      {"too many repeats",
       "group,animal,eggs_before,eggs_after_1,eggs_after_2,eggs_after_3,eggs_after_4,eggs_after_5,"
       "eggs_after_6,eggs_after_7,eggs_after_8,eggs_after_9,eggs_after_10,eggs_after_11,eggs_after_"
       "12,eggs_after_13,eggs_after_14,eggs_after_15,eggs_after_16,eggs_after_17,eggs_after_18,"
       "eggs_after_19,eggs_after_20,eggs_after_21\nA,1,5,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,"
       "1\n",
       "t.csv:1: column 24 (eggs_after_21): found 21 counts of one sample; expected at most 20",
       with_factor()},
      {"a factor without its repeat",
       "group,animal,eggs_before_1,eggs_after,factor_before_2\nA,1,5,1,50\n",
       "t.csv:1: column 5 (factor_before_2): found a factor without its count; expected a column "
       "eggs_before_2 or epg_before_2",
       with_factor()},
      {"a misspelt repeat", "group,animal,egs_before_1,egs_before_2,eggs_after\nA,1,5,1,2\n",
       "t.csv:1: found the columns \"group\", \"animal\", \"egs_before_1\", \"egs_before_2\", "
       "\"eggs_after\"; expected a column eggs_before (or epg_before) (is \"egs_before_1\" meant?)",
       with_factor()},
      {"text in a repeat", "group,animal,eggs_before_1,eggs_before_2,eggs_after\nA,1,5,few,2\n",
       "t.csv:2: column 4 (eggs_before_2): found \"few\"; expected a whole number of eggs seen, 0 "
       "or more (leave it empty if not sampled)",
       with_factor()},
      {"a factor of a repeat in words",
       "group,animal,eggs_before_1,eggs_before_2,eggs_after,factor_before_2\nA,1,5,1,2,fine\n",
       "t.csv:2: column 6 (factor_before_2): found \"fine\"; expected a multiplication factor "
       "from 0.001 to 100000",
       with_factor()},
      {"repeats without a factor",
       "group,animal,eggs_before_1,eggs_before_2,eggs_after,factor_before_2,factor_after\nA,1,5,1,"
       "2,50,50\n",
       "t.csv:2: column 3 (eggs_before_1): found a count without a multiplication factor; expected "
       "a column factor_before, or the setting factor (the bench calculator works it out from the "
       "bench figures)",
       {}},
      {"kinds of eggs without a factor",
       "group,animal,eggs_before,eggs_after,eggs_before:nematodirus,eggs_after:nematodirus,factor_"
       "after\nA,1,5,1,2,0,50\n",
       "t.csv:2: column 3 (eggs_before): found a count without a multiplication factor; expected a "
       "column factor_before, or the setting factor (the bench calculator works it out from the "
       "bench figures)",
       {}},
      {"absurdly many eggs in repeats",
       "group,animal,eggs_before_1,eggs_before_2,eggs_after\nA,1,600000,600000,2\n",
       "t.csv:2: column 3 (eggs_before_1): found 1200000 eggs in 2 counts; expected at most "
       "1000000 eggs seen",
       with_factor()},
      {"absurdly fine repeats",
       "group,animal,eggs_before_1,eggs_before_2,eggs_after,factor_before\nA,1,6,6,2,0.001\n",
       "t.csv:2: column 3 (eggs_before_1): found a multiplication factor of 0.001; expected at "
       "least 0.02 for counts that are summed",
       with_factor()},
      {"a kind of egg before alone",
       "group,animal,eggs_before,eggs_after,eggs_before:nematodirus\nA,1,5,1,2\n",
       "t.csv:1: column 5 (eggs_before:nematodirus): found no column eggs_after:nematodirus beside "
       "it; expected both (leave a cell empty where this worm was not counted)",
       with_factor()},
      {"a kind of egg after alone",
       "group,animal,eggs_before,eggs_after,eggs_after: Nematodirus\nA,1,5,1,2\n",
       "t.csv:1: column 5 (eggs_after:nematodirus): found no column eggs_before:nematodirus beside "
       "it; expected both (leave a cell empty where this worm was not counted)",
       with_factor()},
      {"a kind of egg without a name",
       "group,animal,eggs_before,eggs_after,eggs_before:\nA,1,5,1,2\n",
       "t.csv:1: column 5 (eggs_before): found a second column of this name (the first is column "
       "3); "
       "expected one",
       with_factor()},
      {"a kind of egg twice",
       "group,animal,eggs_before,eggs_after,eggs_before:ascarid,eggs_before:Parascaris,eggs_after:"
       "ascarids\nA,1,5,1,2,2,0\n",
       "t.csv:1: column 6 (eggs_before:parascaris): found a second column of this worm (the first "
       "is column 5); expected one",
       with_factor()},
      {"a kind of egg with a number",
       "group,animal,eggs_before,eggs_after,eggs_before_1:nematodirus\nA,1,5,1,2\n",
       "t.csv:1: column 5 (eggs_before_1:nematodirus): found a number and a worm; expected one of "
       "the two (add up the eggs of this worm yourself, in a column eggs_before:nematodirus)",
       with_factor()},
      {"kinds of eggs beside repeats",
       "group,animal,eggs_before_1,eggs_before_2,eggs_after,eggs_before:nematodirus,eggs_after:"
       "nematodirus\nA,1,5,1,2,2,0\n",
       "t.csv:1: column 6 (eggs_before:nematodirus): found this beside eggs_before_1; expected "
       "eggs told apart, or counts repeated, but not both in one table",
       with_factor()},
      {"a kind of egg that is the main one",
       "group,animal,worm,eggs_before,eggs_after,eggs_before:strongyles,eggs_after:strongyles\nA,1,"
       "Strongyle,5,1,2,0\nA,2,,5,1,2,0\n",
       "t.csv:2: column 6 (eggs_before:strongyles): found the worm of the main counts again; "
       "expected another one, whose eggs are not in them",
       with_factor()},
      {"text in a kind of egg",
       "group,animal,eggs_before,eggs_after,eggs_before:nematodirus,eggs_after:nematodirus\nA,1,5,"
       "1,2,some\n",
       "t.csv:2: column 6 (eggs_after:nematodirus): found \"some\"; expected a whole number of "
       "eggs seen, 0 or more (leave it empty if not sampled)",
       with_factor()},
      {"a label rate in mg without a strength",
       "group,animal,eggs_before,eggs_after,label_mg_per_kg,mg_per_ml\nA,1,5,1,5,\n",
       "t.csv:2: column 5 (label_mg_per_kg): found \"5\"; expected the strength of the drench "
       "beside it, in a column mg_per_ml",
       with_factor()},
      {"a strength in words",
       "group,animal,eggs_before,eggs_after,label_mg_per_kg,mg_per_ml\nA,1,5,1,5,2.5%\n",
       "t.csv:2: column 6 (mg_per_ml): found \"2.5%\"; expected a strength in mg per mL from 0.001 "
       "to 10000",
       with_factor()},
      {"a label rate of nothing",
       "group,animal,eggs_before,eggs_after,label_mg_per_kg,mg_per_ml\nA,1,5,1,0,25\n",
       "t.csv:2: column 5 (label_mg_per_kg): found \"0\"; expected a dose rate in mg per kg from "
       "0.001 to 10000",
       with_factor()},
      {"label rates that disagree",
       "group,animal,eggs_before,eggs_after,label_mg_per_kg,mg_per_ml,label_ml_per_kg\nA,1,5,1,5,"
       "25,0.25\n",
       "t.csv:2: column 7 (label_ml_per_kg): found \"0.25\"; expected 0.2, which is "
       "label_mg_per_kg 5 divided by mg_per_ml 25 (within 1%), or one of the two rates alone",
       with_factor()},
      {"a year of long ago", "group,animal,eggs_before,eggs_after,year\nA,1,5,1,31\n",
       "t.csv:2: column 5 (year): found \"31\"; expected a year from 1900 to 2200", with_factor()},
      {"two years in a group",
       "group,animal,eggs_before,eggs_after,year\nA,1,5,1,2031\nA,2,5,1,2032\n",
       "t.csv:2: year: found one animal alone of 2031, in trial \"trial\", which has tests of "
       "2031, "
       "2032; expected the year and dates of the other rows, or another trial's name if this is a "
       "test of one animal\n"
       "t.csv:3: year: found one animal alone of 2032, in trial \"trial\", which has tests of "
       "2031, "
       "2032; expected the year and dates of the other rows, or another trial's name if this is a "
       "test of one animal",
       with_factor()},
      {"two regions in a group",
       "group,animal,eggs_before,eggs_after,region\nA,1,5,1,north\nA,2,5,1,south\n",
       "t.csv:3: column 5 (region): found \"south\"; expected the same as in the first row of this "
       "group (line 2)",
       with_factor()},
  };
  return cases;
}
