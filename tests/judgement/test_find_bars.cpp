#include "judgement/find_bars.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "support/support.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

// Tables as a flawed trial would give them. The triggers are practice (docs/bars.md), so nothing
// outside of the project can be compared with but the words of the field.

using namespace eggfall;

namespace {

using enum VerdictClass;

TrialAnalysis analysed(const std::string& table, const std::string& larvae = "",
                       bool units_confirmed = false) {
  ReadOptions options;
  options.factor_before = options.factor_after = MultiplicationFactor(15);
  options.host = "sheep";
  TrialTable trials = read_trials(table, "t.csv", options);
  if (!larvae.empty())
    trials = read_cultures(larvae, "l.csv", std::move(trials.trials));
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.units_confirmed = units_confirmed;
  return analyse(trials.trials.front(), published_cut_offs(), settings);
}

Standing standing(const std::string& table, const std::string& larvae = "",
                  bool units_confirmed = false) {
  return analysed(table, larvae, units_confirmed).groups.front().judgement.standing;
}

std::vector<BarCode> codes(const Standing& standing) {
  std::vector<BarCode> found;
  for (const Bar& bar : standing.bars) {
    CHECK_FALSE(bar.text.empty());
    CHECK_FALSE(bar.plain.empty());
    CHECK_FALSE(bar.next_step.text().empty());
    found.push_back(bar.code);
  }
  return found;
}

using Codes = std::vector<BarCode>;

const std::vector<int> before{14, 33, 22, 9, 41, 16, 17, 25, 30, 11, 28, 25};

/// Rows of a group of twelve: "name,animal,before,after" and whatever stands behind.
std::string rows(const std::string& name, int percent_left, const std::string& behind = "",
                 int first_tag = 1) {
  std::string text;
  double due = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    due += before[i] * percent_left / 100.0;
    const int after = static_cast<int>(due);
    due -= after;
    text += fmt::format("{},{},{},{}{}\n", name, first_tag + static_cast<int>(i), before[i], after,
                        behind);
  }
  return text;
}

const std::string head = "group,animal,eggs_before,eggs_after";

/// A group that falls to so many of 100, sampled on a day after treatment.
std::string on_day(int day, const std::string& host, const std::string& drug_class, int left) {
  return head + ",host,class,worm,date_treated,date_after\n" +
         rows("w", left,
              fmt::format(",{},{},{},2031-05-01,2031-0{}-{:02}", host, drug_class,
                          host == "horses" ? "strongyles" : "", day < 31 ? 5 : 6,
                          day < 31 ? day + 1 : day - 30));
}

} // namespace

TEST_CASE("A sound trial stands as its counts do, with no bar") {
  const Standing good = standing(head + "\n" + rows("w", 1));
  CHECK(good.verdict_class == susceptible);
  CHECK(good.by_counts_alone == susceptible);
  CHECK(codes(good).empty());
  const Standing poor = standing(head + "\n" + rows("w", 40));
  CHECK(poor.verdict_class == resistant);
  CHECK(codes(poor).empty());
}

TEST_CASE(
    "Untreated animals that fell meanwhile bar a good class, and those that rose a poor one") {
  const std::string with_role = head + ",role\n";
  const Standing fell =
      standing(with_role + rows("w", 4, ",treated") + rows("keepers", 24, ",control", 101));
  CHECK(fell.by_counts_alone == susceptible);
  // 4 of 100 eggs left where untreated animals had 24 left: a sixth, and no good drench.
  CHECK(fell.verdict_class == resistant);
  CHECK(codes(fell) == Codes{BarCode::control});
  CHECK_THAT(fell.bars[0].text, Catch::Contains("untreated animals fell by 7") &&
                                    Catch::Contains("which by the same rule is"));
  const Standing held =
      standing(with_role + rows("w", 1, ",treated") + rows("keepers", 97, ",control", 101));
  CHECK(held.verdict_class == susceptible);
  CHECK(codes(held).empty());
  const Standing rose =
      standing(with_role + rows("w", 12, ",treated") + rows("keepers", 420, ",control", 101));
  CHECK(rose.by_counts_alone == resistant);
  CHECK(codes(rose) == Codes{BarCode::control});
  // A control sampled weeks later says nothing of this group.
  const std::string dated = head + ",role,date_before,date_treated,date_after\n";
  const Standing apart =
      standing(dated + rows("w", 4, ",treated,2031-05-01,2031-05-01,2031-05-12") +
               rows("keepers", 24, ",control,2031-05-01,,2031-06-12", 101));
  CHECK(codes(apart).empty());
}

TEST_CASE("A day on which a fall shows nothing bars any class") {
  const Standing late_horses = standing(on_day(42, "horses", "ML", 30));
  CHECK(late_horses.by_counts_alone == resistant);
  CHECK(late_horses.verdict_class == not_applicable);
  CHECK(codes(late_horses) == Codes{BarCode::day});
  CHECK_THAT(late_horses.bars[0].text, Catch::Contains("on day 42 after treatment"));
  CHECK(late_horses.bars[0].next_step.text() ==
        "Test again, with the second sample on day 13 to 15.");
  CHECK(codes(standing(on_day(35, "cattle", "BZ", 30))) == Codes{BarCode::day});
  CHECK(codes(standing(on_day(5, "sheep", "BZ", 1))) == Codes{BarCode::day});
  CHECK(codes(standing(on_day(22, "sheep", "BZ", 1))) == Codes{BarCode::day});
  for (const int day : {7, 14, 21})
    CHECK(codes(standing(on_day(day, "sheep", "BZ", 1))).empty());
  // Levamisole and pyrantel act fast; two classes are as slow as the slower.
  CHECK(codes(standing(on_day(3, "sheep", "LV", 1))).empty());
  CHECK(codes(standing(on_day(2, "sheep", "LV", 1))) == Codes{BarCode::day});
  CHECK(codes(standing(on_day(3, "sheep", "BZ+LV", 1))) == Codes{BarCode::day});
  // Before day 10 an ML earns no good class, but a poor one stands.
  CHECK(codes(standing(on_day(9, "sheep", "ML", 1))) == Codes{BarCode::day});
  CHECK(codes(standing(on_day(10, "sheep", "ML", 1))).empty());
  CHECK(standing(on_day(9, "sheep", "ML", 40)).verdict_class == resistant);
}

TEST_CASE("Animals that were not found again bar a class that hangs on them") {
  // Three of ten, who carried most of the eggs.
  std::string table = head + "\n";
  for (int i = 0; i < 7; ++i)
    table += fmt::format("w,{},{},{}\n", i + 1, 40 + 3 * i, i % 3 == 0 ? 1 : 0);
  const std::string lost = table + "w,8,150,\nw,9,120,\nw,10,201,\n";
  const Standing gone = standing(lost);
  CHECK(gone.by_counts_alone == susceptible);
  CHECK(gone.verdict_class == inconclusive);
  CHECK(codes(gone) == Codes{BarCode::missing});
  CHECK_THAT(gone.bars[0].next_step.text(),
             Catch::Contains("if any died, call the veterinarian now"));
  // One of eight with few eggs changes nothing.
  CHECK(codes(standing(table + "w,8,5,\n")).empty());
}

TEST_CASE(
    "Eggs of animals without a first sample are in no fall, and bar a class that they would end") {
  const auto with = [](const std::string& after, int animals) {
    std::string text = head + "\n" + rows("w", 1);
    for (int i = 0; i < animals; ++i)
      text += fmt::format("w,{},,{}\n", 201 + i, after);
    return standing(text);
  };
  // 6 of 18 with 60 eggs: (2 + 60) of 271 x 18/12 are left, a fall of 84.7%.
  const Standing barred = with("10", 6);
  CHECK(barred.verdict_class == inconclusive);
  CHECK(barred.by_counts_alone == susceptible);
  CHECK(codes(barred) == Codes{BarCode::missing});
  CHECK_THAT(barred.bars.front().text, Catch::Contains("6 animals were sampled after treatment "
                                                       "alone, with eggs") &&
                                           Catch::Contains("the fall would be 84.7%"));
  CHECK(codes(with("0", 6)).empty());
  CHECK(codes(with("1", 1)).empty());
}

TEST_CASE("Samples too near to each other, or too far apart, are no test, though no day is told") {
  const auto apart = [](const std::string& drug_class, const std::string& after) {
    return codes(standing(head + ",class,date_before,date_after\n" +
                          rows("w", 1, "," + drug_class + ",2031-05-03," + after)));
  };
  CHECK(apart("ML", "2031-05-06") == Codes{BarCode::day});
  CHECK(apart("ML", "2031-05-12") == Codes{BarCode::day}); // 9 days: before day 10
  CHECK(apart("ML", "2031-05-13").empty());
  CHECK(apart("BZ", "2031-05-09") == Codes{BarCode::day}); // 6
  CHECK(apart("BZ", "2031-05-10").empty());
  CHECK(apart("LV", "2031-05-06").empty()); // 3
  CHECK(apart("BZ", "2031-06-14").empty()); // 42: 21 before and 21 after
  CHECK(apart("BZ", "2031-06-15") == Codes{BarCode::day});
  // Where the day of treatment is told it counts, but no first sample is from another season.
  const auto treated = [](const std::string& first) {
    return codes(standing(head + ",class,date_before,date_treated,date_after\n" +
                          rows("w", 1, ",BZ," + first + ",2031-05-03,2031-05-17")));
  };
  CHECK(treated("2031-04-05").empty()); // 28 + 14 days
  CHECK(treated("2031-04-04") == Codes{BarCode::day});
}

TEST_CASE("A class that is not the substance's lifts none of the substance's bars") {
  const auto named = [](const std::string& drench, const std::string& day) {
    return codes(standing(head + ",drench,class,date_treated,date_after\n" +
                          rows("w", 1, "," + drench + ",2031-05-01,2031-05-" + day)));
  };
  CHECK(named("closantel,BZ", "15") == Codes{BarCode::narrow_drench});
  CHECK(named("triclabendazole,BZ", "15") == Codes{BarCode::not_covered});
  CHECK(named("ivermectin,LV", "05") == Codes{BarCode::day});
  CHECK(named("ivermectin,LV", "09") == Codes{BarCode::day});
  CHECK(named("levamisole,LV", "05").empty());
}

TEST_CASE("Doses that explain a fall, or the lack of one, bar its class") {
  const std::string dosed = head + ",class,weight_kg,dose_ml,label_ml_per_kg\n";
  std::string table = dosed;
  for (int i = 0; i < 8; ++i)
    table += fmt::format("w,{},{},{},BZ,30,6,0.2\n", i + 1, 40 + 3 * i, i % 4 == 0 ? 1 : 0);
  std::string light;
  for (int i = 8; i < 24; ++i)
    light += fmt::format("w,{},{},{},BZ,50,6,0.2\n", i + 1, 40 + 3 * i, 25 + i);
  const Standing under = standing(table + light);
  CHECK(under.verdict_class == inconclusive);
  REQUIRE(under.by_counts_alone == resistant);
  REQUIRE(codes(under) == Codes{BarCode::dose});
  CHECK_THAT(under.bars[0].text, Catch::Contains("those given enough fell by"));
  // All too little, but those given enough did as badly: the dose is no excuse.
  const Standing resistant_too =
      standing(dosed + rows("w", 40, ",BZ,30,6,0.2") + rows("w", 40, ",BZ,50,6,0.2", 101));
  CHECK(resistant_too.verdict_class == resistant);
  CHECK(codes(resistant_too).empty());
  // Fewer than five were given enough.
  const Standing few = standing(dosed + "w,90,40,12,BZ,30,6,0.2\n" + rows("w", 40, ",BZ,50,6,0.2"));
  CHECK(few.by_counts_alone == resistant);
  CHECK(codes(few) == Codes{BarCode::dose});
  // Half as much again as the label asks proves no dose.
  const Standing over = standing(dosed + rows("w", 1, ",BZ,30,9,0.2"));
  CHECK(over.by_counts_alone == susceptible);
  CHECK(codes(over) == Codes{BarCode::dose});
  CHECK(codes(standing(dosed + rows("w", 1, ",BZ,30,7,0.2"))).empty());
}

namespace {

const WormAnalysis& worm(const GroupAnalysis& group, const std::string& name) {
  const auto found = std::ranges::find(group.judgement.worms, name, &WormAnalysis::worm);
  REQUIRE(found != group.judgement.worms.end());
  return *found;
}

constexpr std::array eggs_before{45, 52, 38, 61, 47, 55, 42, 49, 58, 50}; // 497
constexpr std::array eggs_after{1, 2, 1, 1, 0, 2, 1, 1, 1, 1};            // 11: a fall of 97.8%

/// Ten sheep of 40 kg, of which the first so many got 7 mL and not the label's 8; with the eggs of
/// nematodirus counted apart. The last so many were not found again.
std::string ten_sheep(int short_of_dose, int missing, const std::array<int, 10>& kind_after) {
  std::string table = head + ",weight_kg,dose_ml,label_ml_per_kg,eggs_before:nematodirus,"
                             "eggs_after:nematodirus\n";
  for (int i = 0; i < 10; ++i) {
    const auto place = static_cast<std::size_t>(i);
    const bool found = i < 10 - missing;
    table +=
        fmt::format("w,{},{},{},40,{},0.2,12,{}\n", i + 1, eggs_before[place],
                    found ? fmt::format("{}", eggs_after[place]) : "", i < short_of_dose ? 7 : 8,
                    found ? fmt::format("{}", kind_after[place]) : "");
  }
  return table;
}

constexpr std::array<int, 10> half_left{6, 7, 6, 7, 6, 7, 6, 7, 6, 7}; // 46% of 120

/// A twentieth before, 19 of 20 after: 1 - (11/497)(190/200)/(10/200) = 57.9%.
const std::string haemonchus_lives = "group,time,worm,larvae\nw,before,haemonchus,10\n"
                                     "w,before,trichostrongylus,190\nw,after,haemonchus,190\n"
                                     "w,after,trichostrongylus,10\n";

} // namespace

TEST_CASE("One sheep's short dose clears no worm by what all worms together did without it") {
  const GroupAnalysis right = analysed(ten_sheep(0, 0, half_left), haemonchus_lives).groups.front();
  const GroupAnalysis one = analysed(ten_sheep(1, 0, half_left), haemonchus_lives).groups.front();
  for (const GroupAnalysis* group : {&right, &one})
    for (const char* name : {"haemonchus", "nematodirus"}) {
      CAPTURE(name);
      CHECK(worm(*group, name).judgement.standing.verdict_class == resistant);
      CHECK(codes(worm(*group, name).judgement.standing).empty());
      CHECK(codes(group->judgement.standing) == Codes{BarCode::surviving_worm});
    }
  // With six short of it, four are too few to judge by.
  const GroupAnalysis six = analysed(ten_sheep(6, 0, half_left), haemonchus_lives).groups.front();
  for (const char* name : {"haemonchus", "nematodirus"}) {
    const Standing& few = worm(six, name).judgement.standing;
    CHECK(codes(few) == Codes{BarCode::dose});
    CHECK_THAT(few.bars[0].text, Catch::EndsWith("only 4 got enough, too few to judge by."));
  }
}

TEST_CASE("A worm told on the slide is cleared by its own fall in those that got enough") {
  // Half of the eggs are left in the five that got too little, and 4 of 60 in the others.
  constexpr std::array<int, 10> of_five{6, 6, 6, 6, 6, 1, 1, 1, 1, 0};
  const GroupAnalysis group = analysed(ten_sheep(5, 0, of_five)).groups.front();
  const Standing& own = worm(group, "nematodirus").judgement.standing;
  REQUIRE(own.by_counts_alone == resistant);
  REQUIRE(codes(own) == Codes{BarCode::dose});
  CHECK_THAT(own.bars[0].text,
             Catch::Contains("those given enough fell by 93.3%, which reaches 90%"));
}

TEST_CASE("Missing animals clear no worm by the eggs of all worms together") {
  const GroupAnalysis group = analysed(ten_sheep(0, 3, half_left), haemonchus_lives).groups.front();
  for (const char* name : {"haemonchus", "nematodirus"}) {
    CAPTURE(name);
    CHECK(worm(group, name).judgement.standing.verdict_class == resistant);
  }
  // 343 eggs before and 3 after in those found again, 471 before in the three that were not. Of
  // haemonchus, half of the larvae before and a fifth after, 0.2/0.5 of the 3 are left; with the
  // 471 unchanged 1 - (0.4 x 3 + 471)/814 = 42.0%, of all worms 1 - (3 + 471)/814 = 41.8%.
  std::string table = head + "\n";
  for (int i = 0; i < 7; ++i)
    table += fmt::format("w,{},{},{}\n", i + 1, 40 + 3 * i, i % 3 == 0 ? 1 : 0);
  const GroupAnalysis lost =
      analysed(table + "w,8,150,\nw,9,120,\nw,10,201,\n",
               "group,time,worm,larvae\nw,before,haemonchus,100\nw,before,cooperia,100\n"
               "w,after,haemonchus,40\nw,after,cooperia,160\n")
          .groups.front();
  const Standing& good = worm(lost, "haemonchus").judgement.standing;
  REQUIRE(good.by_counts_alone == susceptible);
  CHECK(codes(good) == Codes{BarCode::missing});
  CHECK_THAT(good.bars[0].text, Catch::EndsWith("the fall would be 42.0%."));
}

TEST_CASE("Goats that the label's dose did not clear are a question of the dose") {
  const std::string dosed = head + ",host,class,weight_kg,dose_ml,label_ml_per_kg\n";
  const Standing goats = standing(dosed + rows("w", 40, ",goats,BZ,30,6,0.2"));
  CHECK(goats.by_counts_alone == resistant);
  CHECK(codes(goats) == Codes{BarCode::goat_dose});
  CHECK(goats.bars[0].provenance == Provenance::memory);
  // Never a number for the dose of goats.
  CHECK(goats.bars[0].next_step.text().find_first_of("0123456789") == std::string::npos);
  CHECK(standing(dosed + rows("w", 40, ",goats,BZ,30,12,0.2")).verdict_class == resistant);
  CHECK(standing(dosed + rows("w", 40, ",sheep,BZ,30,6,0.2")).verdict_class == resistant);
}

TEST_CASE("Fewer than five animals give no class, whatever their eggs") {
  const std::string four = head + "\nw,1,140,1\nw,2,133,0\nw,3,151,0\nw,4,128,1\n";
  const Standing small = standing(four);
  CHECK(small.verdict_class == inconclusive);
  REQUIRE(small.by_counts_alone == susceptible);
  CHECK(codes(small) == Codes{BarCode::few_animals});
  const Standing failing = standing(head + "\nw,1,140,90\nw,2,133,80\nw,3,151,99\nw,4,128,91\n");
  CHECK(failing.by_counts_alone == resistant);
  CHECK(codes(failing) == Codes{BarCode::few_animals});
}

TEST_CASE("A handful of eggs and none left proves no drench") {
  // 19 eggs: a fall of 87% would show this one time in twenty, by the luck of counting alone:
  // half of (1/(1 + rho))^19 is 0.05 at rho = 0.129.
  std::string table = head + "\n";
  for (const auto& [tag, eggs] :
       {std::pair{1, 2}, {2, 1}, {3, 3}, {4, 0}, {5, 4}, {6, 2}, {7, 1}, {8, 3}, {9, 2}, {10, 1}})
    table += fmt::format("w,{},{},0\n", tag, eggs);
  const GroupAnalysis group = analysed(table).groups.front();
  CHECK(group.judgement.standing.verdict_class == inconclusive);
  CHECK(codes(group.judgement.standing) == Codes{BarCode::few_eggs});
  CHECK(*group.evidence.headline.lower < 0.8713);
}

TEST_CASE("What looks like EPG typed as eggs, or swapped, is asked about until confirmed") {
  std::string typed = head + "\n";
  for (std::size_t i = 0; i < before.size(); ++i)
    typed += fmt::format("w,{},{},{}\n", i + 1, 50 * before[i], i == 3 ? 50 : 0);
  const Standing epg = standing(typed);
  CHECK(epg.by_counts_alone == susceptible);
  CHECK(epg.verdict_class == not_applicable);
  CHECK(codes(epg) == Codes{BarCode::units_in_doubt});
  CHECK_THAT(epg.bars[0].text, Catch::Contains("multiples of 50"));
  // Confirmed, it is judged, but the report does not forget it.
  const GroupAnalysis confirmed = analysed(typed, "", true).groups.front();
  CHECK(confirmed.judgement.standing.verdict_class == susceptible);
  CHECK(confirmed.judgement.standing.sign == DrenchSign::works_with_care);
  CHECK(has_caveat(confirmed.caveats, CaveatCode::units_confirmed, Severity::serious));
  CHECK_FALSE(has_caveat(analysed(typed).groups.front().caveats, CaveatCode::units_confirmed,
                         Severity::note));

  std::string swapped = head + "\n";
  for (std::size_t i = 0; i < before.size(); ++i)
    swapped += fmt::format("w,{},{},{}\n", i + 1, i % 4, before[i]);
  CHECK(codes(standing(swapped)) == Codes{BarCode::units_in_doubt});
  CHECK(standing(swapped, "", true).verdict_class == resistant);
  CHECK(has_caveat(analysed(swapped, "", true).groups.front().caveats, CaveatCode::units_confirmed,
                   Severity::serious));
}

TEST_CASE("Worms that no rule here is for get no class, by any of their names") {
  for (const char* worm : {"Fasciola hepatica", "liver fluke", "Moniezia", "tapeworm", "Eimeria",
                           "coccidia", "rumen fluke", "Giardia", "Dictyocaulus", "lungworm"}) {
    const Standing other = standing(head + ",worm\n" + rows("w", 1, "," + std::string(worm)));
    INFO(worm);
    CHECK(other.verdict_class == not_applicable);
    CHECK(codes(other) == Codes{BarCode::not_covered});
  }
  const Standing alpacas = standing(head + ",host\n" + rows("w", 1, ",alpaca"));
  CHECK(alpacas.verdict_class == not_applicable);
  CHECK(codes(alpacas) == Codes{BarCode::not_covered});
  CHECK_THAT(alpacas.bars[0].text, Catch::Contains("alpacas"));
  CHECK(standing(head + ",worm\n" + rows("w", 1, ",haemonchus contortus")).verdict_class ==
        susceptible);
}

TEST_CASE("A drench for some worms alone needs the worms told apart") {
  const std::string table = head + ",drench\n" + rows("w", 1, ",closantel");
  const Standing untold = standing(table);
  CHECK(untold.by_counts_alone == susceptible);
  CHECK(codes(untold) == Codes{BarCode::narrow_drench});
  const std::string larvae =
      "group,time,worm,larvae\nw,before,haemonchus,100\nw,after,haemonchus,100\n";
  CHECK(codes(standing(table, larvae)).empty());
  CHECK(codes(standing(head + ",drench,class\n" + rows("w", 1, ",closantel and albendazole,BZ")))
            .empty());
}

TEST_CASE("A worm that survives makes the drench stand as resistant to it") {
  const std::string table = head + "\n" + rows("w", 3);
  const std::string larvae = "group,time,worm,larvae\nw,before,haemonchus,12\n"
                             "w,before,trichostrongylus,88\nw,after,haemonchus,96\n"
                             "w,after,trichostrongylus,4\n";
  const GroupAnalysis group = analysed(table, larvae).groups.front();
  CHECK(group.judgement.first_verdict().verdict_class == susceptible);
  CHECK(group.judgement.standing.verdict_class == resistant);
  CHECK(group.judgement.standing.sign == DrenchSign::failing);
  CHECK(codes(group.judgement.standing) == Codes{BarCode::surviving_worm});
  CHECK_THAT(group.advice.next_step.text(), Catch::Contains("haemonchus"));
  // Not so on a day on which nothing can be told.
  const std::string late =
      head + ",date_treated,date_after\n" + rows("w", 3, ",2031-05-01,2031-06-12");
  const Standing too_late = standing(late, larvae);
  CHECK(codes(too_late) == Codes{BarCode::day});
  CHECK(too_late.verdict_class == not_applicable);
}

TEST_CASE("A bar that lifts resistance does not clear the drench") {
  const GroupAnalysis late = analysed(on_day(42, "horses", "ML", 30)).groups.front();
  CHECK_THAT(late.advice.next_step.text(),
             Catch::EndsWith("Until the test is repeated, do not rely on this drench alone."));
  const GroupAnalysis early = analysed(on_day(5, "sheep", "BZ", 1)).groups.front();
  CHECK_THAT(early.advice.next_step.text(), !Catch::Contains("do not rely"));
}

TEST_CASE("What the table does not say is said to be taken for granted, and bars nothing") {
  CHECK(standing(head + "\n" + rows("w", 1)).provided ==
        "the season alone did not move the counts, the second sample was taken on day 7 to 21 and "
        "each animal got the label's dose for its weight");
  CHECK(standing(on_day(9, "sheep", "BZ", 1)).provided ==
        "the season alone did not move the counts and each animal got the label's dose for its "
        "weight");
  // Untreated animals tell of the season.
  CHECK(standing(head + ",role\n" + rows("w", 1, ",treated") + rows("k", 97, ",control", 101))
            .provided == "the second sample was taken on day 7 to 21 and each animal got the "
                         "label's dose for its weight");
}

TEST_CASE("A rule that compares with the control after treatment allows for the season already") {
  const std::string table =
      head + ",role\n" + rows("w", 4, ",treated") + rows("keepers", 24, ",control", 101);
  ReadOptions options;
  options.factor_before = options.factor_after = MultiplicationFactor(15);
  options.host = "sheep";
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.criteria = "waavp-1992";
  const auto trial = read_trials(table, "t.csv", options).trials.front();
  const auto group = analyse(trial, published_cut_offs(), settings).groups.front();
  CHECK(group.judgement.first_verdict().design == Design::two_group);
  CHECK(codes(group.judgement.standing).empty());
}

TEST_CASE("A group that no rule is for does not end the others") {
  const std::string table = head + ",host,worm\n" + rows("a", 1, ",alpaca,") +
                            rows("b", 1, ",sheep,liver fluke") + rows("c", 1, ",unicorn,") +
                            rows("d", 1, ",sheep,") + rows("e", 40, ",sheep,");
  std::vector<VerdictClass> stand;
  for (const GroupAnalysis& group : analysed(table).groups)
    stand.push_back(group.judgement.standing.verdict_class);
  CHECK(stand ==
        std::vector{not_applicable, not_applicable, not_applicable, susceptible, resistant});
}

TEST_CASE("A drench's name tells its class, and with it its days") {
  const auto named = [](int day, const std::string& drench, const std::string& drug_class = "") {
    return standing(
        head + ",drench,class,date_treated,date_after\n" +
        rows("w", 1, fmt::format(",{},{},2031-05-01,2031-05-{:02}", drench, drug_class, day + 1)));
  };
  CHECK(codes(named(9, "ivermectin")) == Codes{BarCode::day});
  CHECK(named(9, "ivermectin").verdict_class == not_applicable);
  CHECK(codes(named(8, "Moxidectin 0.1%")) == Codes{BarCode::day});
  CHECK(codes(named(10, "ivermectin")).empty());
  CHECK(codes(named(9, "albendazole")).empty());
  CHECK(codes(named(5, "levamisole")).empty());
  CHECK(codes(named(5, "albendazole")) == Codes{BarCode::day});
  // Several names give no class, but any of them may have stopped the worms laying.
  CHECK(codes(named(9, "abamectin + levamisole")) == Codes{BarCode::day});
  CHECK(codes(named(9, "albendazole + levamisole")).empty());
  // Of a drench that nothing is known of the strictest days hold, until somebody says what it was.
  const Standing unknown = named(9, "white drench");
  CHECK(codes(unknown) == Codes{BarCode::day});
  CHECK_THAT(unknown.bars[0].next_step.text(), Catch::StartsWith("Say which drench it was"));
  CHECK(codes(named(9, "white drench", "BZ")).empty());
  CHECK(codes(named(10, "white drench")).empty());
}

namespace {

/// A group as a bar asks about it, each part as a test needs it: good or poor by decree.
struct Asked {
  Group group;
  Verdict verdict;
  FieldCheck field;
  std::size_t animals = 12;
  bool limited_by_luck = false;
  std::optional<OwnFall> own_fall;

  explicit Asked(VerdictClass verdict_class) {
    group = support::group("w", {20, 20, 20, 20}, {0, 0, 0, 0});
    group.classes = {DrugClass::bz};
    verdict.verdict_class = verdict_class;
    verdict.design = Design::paired;
    verdict.expected = 0.95;
    verdict.lower = 0.90;
    verdict.reduction = 0.97;
    verdict.interval = Interval{Method::guarded_posterior, 0.9, 0.92, 0.99, {}, {}};
  }

  std::vector<Bar> bars() const {
    return find_bars({.group = group,
                      .verdict = verdict,
                      .field = field,
                      .animals = animals,
                      .limited_by_luck = limited_by_luck,
                      .own_fall = own_fall});
  }

  Codes codes() const {
    Codes found;
    for (const Bar& bar : bars())
      found.push_back(bar.code);
    return found;
  }

  /// The text of the only bar.
  std::string text() const {
    const std::vector<Bar> found = bars();
    REQUIRE(found.size() == 1);
    return found[0].text;
  }
};

} // namespace

TEST_CASE("A class hangs on missing animals from a fifth of them, or a third of their eggs, on") {
  Asked good(susceptible);
  const auto lost = [](Asked asked, double of_animals, double of_eggs) {
    asked.field.missing_after->share_of_animals = of_animals;
    asked.field.missing_after->share_of_eggs = of_eggs;
    return asked.codes();
  };
  good.field.missing_after = MissingAfter{3, {}, 0.6, 0.7, 0.5, 0.98};
  CHECK(lost(good, 0.19, 0.33).empty());
  CHECK(lost(good, 0.2, 0) == Codes{BarCode::missing});
  CHECK(lost(good, 0, 1.0 / 3) == Codes{BarCode::missing});
  CHECK(good.text() == "3 of the animals sampled before (60 of 100, with 70 of 100 of the eggs) "
                       "were not sampled again. Had their counts not changed, the fall would be "
                       "50.0%.");
  CHECK(good.bars()[0].plain == "3 animals were not found again, and what became of them decides.");
  good.field.missing_after->animals = 1;
  CHECK(good.bars()[0].plain == "1 animal was not found again, and what became of it decides.");
  good.field.missing_after->fall_if_unchanged = 0.90; // reaches the lower threshold
  CHECK(good.codes().empty());

  Asked poor(resistant);
  poor.field.missing_after = MissingAfter{3, {}, 0.25, 0.4, 0.5, 0.95};
  CHECK_THAT(poor.text(), Catch::EndsWith("Had they had no egg left, the fall would be 95.0%."));
  poor.field.missing_after->fall_if_none = 0.9499;
  CHECK(poor.codes().empty());
}

TEST_CASE("One animal in five on a wrong day is overlooked, and more are not") {
  const auto on_days = [](std::vector<int> days, std::size_t right) {
    Asked asked(susceptible);
    days.insert(days.end(), right, 14);
    for (const int day : days)
      asked.field.days.animals.push_back({std::nullopt, day});
    return asked;
  };
  CHECK(on_days({5}, 4).codes().empty());
  CHECK(on_days({5}, 3).codes() == Codes{BarCode::day});
  CHECK(on_days({5, 5}, 10).codes().empty());
  CHECK(on_days({5, 5, 5}, 9).codes() == Codes{BarCode::day});
  CHECK_THAT(on_days({5}, 0).text(), Catch::Contains("on day 5 after treatment") &&
                                         Catch::Contains("a dead one looks good"));
  CHECK_THAT(on_days({22}, 0).text(), Catch::Contains("on day 22 after treatment") &&
                                          Catch::Contains("a good drench looks poor"));
  CHECK(on_days({22}, 0).bars()[0].plain == "The second sample was taken too late, on day 22.");
  CHECK(on_days({5, 22}, 0).bars()[0].plain == "The second sample was taken too late, on day 22.");
}

TEST_CASE("The same of samples too near to each other") {
  const auto apart = [](std::size_t near, std::size_t far_enough, std::size_t without_first = 0) {
    using namespace std::chrono;
    Asked asked(susceptible);
    const std::size_t all = near + far_enough + without_first;
    asked.group = support::group("w", std::vector<std::uint32_t>(all, 20),
                                 std::vector<std::uint32_t>(all, 0));
    asked.group.classes = {DrugClass::bz};
    const sys_days first = 2031y / May / 1;
    for (std::size_t i = 0; i < all; ++i) {
      Animal& animal = asked.group.animals[i];
      animal.date_before = first;
      animal.date_after = first + days(i < near ? 6 : 14);
      if (i >= near + far_enough)
        animal.before.reset();
    }
    return asked;
  };
  CHECK(apart(1, 4).codes().empty());
  CHECK(apart(1, 3).codes() == Codes{BarCode::day});
  CHECK(apart(2, 10).codes().empty());
  CHECK(apart(3, 9).codes() == Codes{BarCode::day});
  CHECK(apart(1, 3, 3).codes() == Codes{BarCode::day}); // those were not sampled twice
  // A wrong day is told once.
  Asked both = apart(4, 0);
  both.field.days.animals = {{std::nullopt, 3}};
  CHECK(both.codes() == Codes{BarCode::day});
  CHECK_THAT(both.text(), Catch::Contains("on day 3 after treatment"));
}

TEST_CASE("Eggs without a first sample bar a class from a fifth of the animals, or a third of the "
          "eggs, on") {
  // So many animals with 100 eggs before and so many after among them, and one without a first
  // sample, at one EPG an egg.
  const auto with = [](std::uint32_t paired, std::uint32_t before, std::uint32_t after,
                       std::uint32_t unpaired) {
    Asked asked(susceptible);
    std::vector<std::uint32_t> first(paired, 0);
    std::vector<std::uint32_t> second(paired, 0);
    first[0] = before;
    second[0] = after;
    first.push_back(0);
    second.push_back(unpaired);
    asked.group = support::group("w", first, second);
    asked.group.classes = {DrugClass::bz};
    asked.group.animals.back().before.reset();
    return asked;
  };
  // One of five, with less than a third of the eggs: 1 - 14 / (100 x 5/4) = 88.8%.
  CHECK(with(4, 100, 10, 4).text() ==
        "1 animal was sampled after treatment alone, with eggs, and so is in no fall. Had the mean "
        "count before been that of the others, the fall would be 88.8%.");
  CHECK(with(9, 100, 10, 4).codes().empty());                   // one of ten
  CHECK(with(9, 100, 8, 8).codes() == Codes{BarCode::missing}); // with half of the eggs
  CHECK(with(4, 80, 6, 4).codes().empty());                     // 1 - 10/100, which reaches 90%
  CHECK(with(4, 0, 0, 4).codes().empty());                      // no egg before, and no fall
  CHECK(with(4, 100, 50, 0).codes().empty()); // no egg in the animal without a first sample
  CHECK_THAT(with(1, 1, 0, 1).text(), Catch::EndsWith("the fall would be 50.0%."));
  Asked many = with(4, 100, 10, 4);
  many.group.animals.push_back(many.group.animals.back());
  CHECK_THAT(many.text(), Catch::StartsWith("2 animals were sampled after treatment alone, with "
                                            "eggs, and so are in no fall."));
  // A class that is not good, and one without a threshold or a design, hang on nothing here.
  Asked none = with(4, 100, 10, 4);
  none.verdict.verdict_class = resistant;
  CHECK(none.codes().empty());
  none = with(4, 100, 10, 4);
  none.verdict.lower = none.verdict.expected = std::nullopt;
  CHECK(none.codes().empty());
  none = with(4, 100, 10, 4);
  none.verdict.design.reset();
  CHECK(none.codes().empty());
  none = with(4, 100, 10, 4);
  none.verdict.design = Design::two_group;
  CHECK(none.codes().empty());
}

TEST_CASE("Short doses explain a poor result that those given enough did not share") {
  Asked poor(resistant);
  poor.field.gross_doses.bounds = {0.9, 1.5};
  poor.field.gross_doses.under = {0, 1};
  poor.field.gross_doses.dosed_enough = 5;
  CHECK(poor.codes().empty());
  poor.field.gross_doses.reduction_without_under = 0.90;
  CHECK_THAT(poor.text(), Catch::StartsWith("2 animals got less than 90% of the label's dose for "
                                            "the weight; those given enough fell by 90"));
  poor.field.gross_doses.reduction_without_under = 0.89;
  CHECK(poor.codes().empty());
  poor.field.gross_doses.dosed_enough = 4;
  CHECK_THAT(poor.text(), Catch::EndsWith("only 4 got enough, too few to judge by."));
}

TEST_CASE("Goats are asked about where none got more than the label's dose and the fall is poor") {
  const auto goats = [](VerdictClass verdict_class, std::optional<double> share) {
    Asked asked(verdict_class);
    asked.group.host = "goats";
    asked.field.doses.animals = {AnimalDose{}};
    if (share) {
      asked.field.doses.animals[0].share = *share;
      asked.field.doses.highest = 0;
    }
    return asked.codes();
  };
  CHECK(goats(resistant, 1.39) == Codes{BarCode::goat_dose});
  CHECK(goats(resistant, 1.4).empty());
  CHECK(goats(susceptible, 1).empty());
  CHECK(goats(resistant, std::nullopt).empty());
}

TEST_CASE("Five animals may carry a class, and four may not") {
  Asked asked(susceptible);
  asked.animals = 5;
  CHECK(asked.codes().empty());
  asked.animals = 4;
  CHECK(asked.codes() == Codes{BarCode::few_animals});
}

TEST_CASE("Luck bars nothing but what is inconclusive by it") {
  Asked asked(inconclusive);
  CHECK(asked.codes().empty());
  asked.limited_by_luck = true;
  CHECK(asked.codes() == Codes{BarCode::few_eggs});
  asked.verdict.verdict_class = resistant;
  CHECK(asked.codes().empty());
}

TEST_CASE("A rule of one's own covers what it gives a class to, and nothing else") {
  Asked asked(susceptible);
  asked.group.worm = "moniezia";
  asked.verdict.citation.provenance = Provenance::published;
  CHECK(asked.codes() == Codes{BarCode::not_covered});
  asked.verdict.citation.provenance = Provenance::user;
  CHECK(asked.codes().empty());
  asked.verdict.verdict_class = not_applicable;
  CHECK(asked.codes() == Codes{BarCode::not_covered});
}

TEST_CASE("What is known of worms and drenches from memory says so in its bar") {
  const auto provenance = [](const std::string& table) {
    const Standing other = standing(table);
    REQUIRE(codes(other) == Codes{BarCode::not_covered});
    return other.bars[0].provenance;
  };
  const auto known = not_a_roundworm("moniezia");
  REQUIRE(known);
  CHECK((provenance(head + ",worm\n" + rows("w", 1, ",moniezia")) == Provenance::memory) ==
        (known->source == WordSource::memory));
  const auto host = known_host("alpacas");
  REQUIRE(host);
  CHECK((provenance(head + ",host\n" + rows("w", 1, ",alpaca")) == Provenance::memory) ==
        (host->source == WordSource::memory));
}

TEST_CASE("EPG typed as eggs, in columns of EPG, tell the factor that would be right") {
  Asked asked(susceptible);
  asked.group = support::group("w", {20, 20, 20, 20}, {0, 0, 0, 0}, 15, 15);
  asked.field.units = UnitDoubt{UnitDoubt::Kind::epg_as_eggs, 9, 50, {}};
  CHECK_THAT(asked.bars()[0].next_step.text(),
             Catch::Contains("one egg stands for 750 EPG and not for 15"));
}

TEST_CASE("A season that changes the class is told by what is known of the drench's own fall") {
  Asked asked(susceptible);
  asked.own_fall.emplace();
  Verdict& own = asked.own_fall->verdict;
  own = asked.verdict;
  own.verdict_class = resistant;
  asked.own_fall->control_fall = 0;
  own.reduction = 0.8;
  own.interval = Interval{Method::guarded_posterior, 0.9, 0.7, 0.88, {}, {}};
  CHECK(asked.text() ==
        "Meanwhile the counts of untreated animals fell by 0.0%, without a drench. The treated "
        "ones fell by 97.0%, but allowing for the season, as far as the untreated tell of it, the "
        "drench's own fall is 80.0% (70.0% to 88.0%), which by the same rule is resistant.");
  asked.own_fall->control_fall = -0.2;
  CHECK_THAT(asked.text(), Catch::StartsWith("Meanwhile the counts of untreated animals rose by "
                                             "20.0%"));
  // Without limits the fall stands alone; with one limit, that does; with neither, nothing.
  own.interval = Interval{Method::guarded_posterior, 0.9, {}, {}, "none", {}};
  CHECK_THAT(asked.text(), Catch::Contains("the drench's own fall is 80.0%, which"));
  own.reduction.reset();
  CHECK(asked.codes().empty());
  own.interval->upper = 0.88;
  CHECK_THAT(asked.text(), Catch::Contains("the drench's own fall is at most 88.0%"));
  own.verdict_class = susceptible;
  CHECK(asked.codes().empty());
}
