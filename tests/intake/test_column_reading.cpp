#include "intake/column_reading.hpp"

#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

/// "epg_before", "weight_kg", "when" or "unused"; of a count with what is left over: "count
/// [White]".
std::string taken(const std::string& head, const std::string& above = {},
                  const Layout& layout = {}) {
  const ColumnReading column = read_head(0, head, above, layout);
  if (column.kind == ColumnReading::Kind::unused)
    return "unused";
  std::string out =
      our_name(column, column.time.occasion ? std::optional(SampleTime{*column.time.occasion, 0})
                                            : std::nullopt);
  if (column.time.day)
    out += fmt::format(" on day {:g}", *column.time.day);
  if (column.time.place)
    out += fmt::format(", place {}", *column.time.place);
  if (column.time.date)
    out += " by date";
  if (column.time.yearless)
    out += " by " + column.time.text;
  if (!column.label.empty())
    out += " [" + column.label + "]";
  return out;
}

} // namespace

TEST_CASE("Heads of counts say eggs or EPG, or neither, and when") {
  CHECK(taken("EPG pre") == "epg_before");
  CHECK(taken("Post-treatment eggs per gram") == "epg_after");
  CHECK(taken("Eggs counted before") == "eggs_before");
  CHECK(taken("Egg count after") == "count_after");
  CHECK(taken("FEC day 14") == "count on day 14");
  CHECK(taken("Day 0") == "count on day 0");
  CHECK(taken("Tag 14") == "count on day 14");
  CHECK(taken("T14 EpG") == "epg on day 14");
  CHECK(taken("FEC2") == "count, place 2");
  CHECK(taken("EPG 3/5/2031") == "epg by date");
  CHECK(taken("Pre") == "count_before");
  CHECK(taken("EpG nach der Behandlung") == "epg_after");
  CHECK(taken("Eggs before (factor 15)") == "eggs_before"); // and no column of factors
  CHECK(taken("Egg factor before") == "factor_before");
}

TEST_CASE("Our own heads are held to what they mean") {
  CHECK(taken("eggs_before") == "eggs_before");
  CHECK(taken("EPG_After_2") == "epg_after_2");
  CHECK(taken("epg_after:Nematodirus") == "epg_after:nematodirus");
  CHECK(taken("dose_ml") == "dose_ml");
  CHECK(taken("when") == "when");
  CHECK(taken("factor_before") == "factor_before");
}

TEST_CASE("A worm in a head is told apart, and strongyles are the main count") {
  CHECK(taken("Nematodirus EPG pre") == "epg_before:nematodirus");
  CHECK(taken("Strongyle EPG pre") == "epg_before");
  CHECK(taken("Coccidia OPG post") == "epg_after:coccidia");
  CHECK(taken("Haemonchus epg after") == "epg_after:haemonchus");
}

TEST_CASE("What is left over of a head may be a group") {
  CHECK(taken("White drench pre EPG") == "epg_before [White]");
  CHECK(taken("Pre", "White") == "count_before [White]");
}

TEST_CASE("A time that stands above eggs and EPG is theirs") {
  CHECK(taken("EPG", "After") == "epg_after");
  CHECK(taken("Eggs", "Day 0") == "eggs on day 0");
  CHECK(taken("EPG") == "epg");
}

TEST_CASE("Heads of animals, groups and what was given") {
  CHECK(taken("Ear tag") == "animal");
  CHECK(taken("Tag no. 14") == "animal");
  CHECK(taken("Tag") == "animal");
  CHECK(taken("Mob") == "group");
  CHECK(taken("Treatment group") == "group");
  CHECK(taken("Treatment") == "drench");
  CHECK(taken("Treatment date") == "date_treated");
  CHECK(taken("Treated") == "date_treated");
  CHECK(taken("Status") == "role");
  CHECK(taken("Sheep weight (kg)") == "weight_kg");
  CHECK(taken("Multiplication factor") == "factor");
  CHECK(taken("Factor after") == "factor_after");
  CHECK(taken("Days after treatment") == "when"); // or of the second sample, by sheet_reading
}

TEST_CASE("A dose is a volume: a rate or a mass is not taken for one") {
  CHECK(taken("Dose") == "dose_ml");
  CHECK(taken("Dose (ml)") == "dose_ml");
  CHECK(taken("Dose cc") == "dose_ml");
  CHECK(taken("Dose (mg)") == "unused");
  CHECK(taken("Dose (mg/kg)") == "unused");
  CHECK(taken("Dose ml/10kg") == "unused");
  CHECK(taken("Dose (drops)") == "unused");
  CHECK(taken("Dose (total)") == "dose_ml");
}

TEST_CASE("A label's rate is one by volume or by substance, and its head may say for how many kg") {
  for (const char* head : {"Label ml/kg", "Label ml/10 kg", "Label dose (ml per 10 kg)", "ml/10 kg",
                           "Dose rate (ml/10 kg)", "Recommended dose mL/kg", "Label: 1 ml/10 kg"})
    CHECK(taken(head) == "label_ml_per_kg");
  CHECK(taken("Label mg/kg") == "label_mg_per_kg");
  // What was given may be said by weight too, and drugs may be named with their dose.
  CHECK(taken("Dose mg/kg") == "unused");
  CHECK(taken("Drug (mg/kg)") == "drench");
  CHECK(read_head(0, "Dose ml/10kg", "", {}).why.text() ==
        "it says a dose by weight, which may be what was given: the setting column "
        "\"label_ml_per_kg=Dose ml/10kg\", if it is the label's");
  for (const char* head : {"Label", "Label dose", "Label dose (ml)", "Dose rate", "Label kg/ml"}) {
    CHECK(taken(head) == "unused");
    CHECK(read_head(0, head, "", {}).why.text() ==
          "it speaks of a label, and of no rate such as mL/10 kg");
  }
  CHECK(taken("Animal label") == "animal");
}

TEST_CASE("A weight in a unit that is not known is not used") {
  for (const char* head : {"Weight (st)", "Weight st", "Weight (kg)", "Weight", "Weight (est)",
                           "Weight (live)", "Weight (lb)"})
    CHECK(taken(head) == "weight_kg");
  for (const char* head : {"Weight (cwt)", "Weight cwt", "Weight (hands)", "Weight (g)", "Weight #",
                           "Weight (kg/lb)", "Stone paddock weight"})
    CHECK(taken(head) == "unused");
  CHECK(read_head(0, "Weight (cwt)", "", {}).why.text() ==
        "\"cwt\" in its head is not kg, lb or st");
  CHECK(taken("Strength (mg/ml)") == "mg_per_ml");
  CHECK(taken("Strength (ppm)") == "unused");
}

TEST_CASE("Dates of samples are told from each other and from the treatment's") {
  CHECK(taken("Date") == "date");
  CHECK(taken("Sampling date before") == "date_before");
  CHECK(taken("Date 2") == "date_after");
  CHECK(taken("Post drench date") == "date_after");
  CHECK(taken("Date drenched") == "date_treated");
}

TEST_CASE("What tables hold and nothing here needs is left alone") {
  for (const char* head : {"Sex", "Comment", "Reduction %", "Faecal consistency", "Lab no", "zzz"})
    CHECK(taken(head) == "unused");
}

TEST_CASE("The owner's name goes before what a head says") {
  const Layout layout = support::layout_of({{"column", "epg_after=FEC pre"},
                                            {"column", "animal=zzz"},
                                            {"column", "epg:nematodirus=N. eggs"},
                                            {"column", "group=White Pen"}});
  CHECK(taken("FEC pre", "", layout) == "epg_after");
  CHECK(taken("fec  PRE", "", layout) == "epg_after");
  CHECK(taken("ZZZ", "", layout) == "animal");
  CHECK(taken("N. eggs", "", layout) == "epg:nematodirus");
  CHECK(taken("Pen", "White", layout) == "group"); // both rows of heads together
  CHECK(read_head(0, "zzz", "", layout).by_layout);
  CHECK_FALSE(read_head(0, "EPG post", "", layout).by_layout);
}

TEST_CASE("A colon in a head is no worm of ours") {
  CHECK(taken("EPG: after") == "epg_after");
  CHECK(taken("Eggs: pre") == "eggs_before");
}

TEST_CASE("Numbers of a date are no ranks, repeats or days, with a year or without") {
  CHECK(taken("EPG 28 Feb 2031") == "epg by date");
  CHECK(taken("EPG (14 Mar 2031)") == "epg by date");
  CHECK(taken("EPG 20310503") == "epg by date");
  CHECK(taken("EPG 30 April") == "epg by 30 April");
  CHECK(taken("EPG May 30") == "epg by May 30");
  CHECK(taken("FEC 30Apr") == "count by 30Apr");
  CHECK(taken("EPG 5/30") == "epg by 5/30");
  CHECK(taken("EPG 30.4.") == "epg by 30.4.");
  CHECK(taken("EPG 1st May") == "epg by 1st May");
  CHECK(taken("HPG 30 de abril") == "epg by 30 de abril");
  CHECK(taken("EpG 3. Mai") == "epg by 3. Mai");
  CHECK(taken("White EPG 30 April") == "epg by 30 April [White]");
  CHECK(taken("EPG", "30 April") == "epg by 30 April");
  CHECK(taken("Before 13/5") == "count_before by Before 13/5");
  CHECK(taken("EPG 30 April 2") == "epg by 30 April 2"); // 30 April, or 2 April
  CHECK(taken("Day 14 (14 May)") == "count on day 14");
  CHECK(taken("EPG day 10/14") == "epg on day 10");
}

TEST_CASE("Two numbers that are a group's, a day's or a factor's are no date") {
  CHECK(taken("Group 1/2 EPG pre").find(" by ") == std::string::npos);
  CHECK(taken("Eggs before (x1/2)").find(" by ") == std::string::npos);
  CHECK(taken("EPG 2") == "epg, place 2");
}

TEST_CASE("A date beside a weight or a treatment makes no counts of it") {
  CHECK(taken("Weight 3/5/2031") == "weight_kg");
  CHECK(taken("Weight 3 May 2031") == "weight_kg");
  CHECK(taken("Treated 3 May 2031") == "date_treated");
  CHECK(taken("Before drench 3/5/2031") == "count_before by date");
}

TEST_CASE("The date in a head stays where its owner says which time it is of") {
  const Layout layout = support::layout_of(
      {{"column", "epg_before=EPG 28 Feb 2031"}, {"column", "epg_after=EPG 14 May"}});
  CHECK(taken("EPG 28 Feb 2031", {}, layout) == "epg_before by date");
  CHECK(taken("EPG 14 May", {}, layout) == "epg_after by 14 May");
}
