#include "intake/time_point.hpp"

#include "base/date.hpp"
#include "intake/open_question.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

TimePoint of_head(const std::string& head) {
  return time_point(TableWords::known().pieces_of(head), head);
}

TimePoint of_cell(const std::string& cell) {
  return time_point_of_cell(cell, TableWords::known());
}

/// "after, day 14, place 2"
std::string said(const TimePoint& time) {
  std::string out;
  const auto add = [&](const std::string& part) { out += (out.empty() ? "" : ", ") + part; };
  if (time.occasion)
    add(std::string(to_string(*time.occasion)));
  if (time.day)
    add(fmt::format("day {:g}{}", *time.day, time.hyphen ? " behind a hyphen" : ""));
  if (time.place)
    add(fmt::format("place {}", *time.place));
  if (time.date)
    add("date");
  return out;
}

/// "before after -": of each of these heads.
std::string times_of(const std::vector<std::string>& texts, const Layout& layout = {},
                     bool cells = false, std::optional<DateOrder> order = std::nullopt) {
  std::vector<PlacedTime> times;
  for (std::size_t i = 0; i < texts.size(); ++i)
    times.push_back({cells ? of_cell(texts[i]) : of_head(texts[i]), 1, i + 3});
  std::string out;
  for (const auto& occasion : occasions_of(times, layout, order, "t.csv"))
    out += (out.empty() ? "" : " ") + std::string(occasion ? to_string(*occasion) : "-");
  return out;
}

/// The same where the table has no date of a sample, and tells no eggs apart.
std::string with_days_of(const std::vector<std::string>& texts) {
  std::vector<PlacedTime> times;
  for (std::size_t i = 0; i < texts.size(); ++i)
    times.push_back({of_head(texts[i]), 1, i + 3});
  auto occasions = occasions_of(times, {}, std::nullopt, "t.csv");
  take_one_day_for_a_visit(times, occasions);
  std::string out;
  for (const auto& occasion : occasions)
    out += (out.empty() ? "" : " ") + std::string(occasion ? to_string(*occasion) : "-");
  return out;
}

Layout days(const std::string& before, const std::string& after) {
  Layout layout;
  layout.day_before = before;
  layout.day_after = after;
  return layout;
}

} // namespace

TEST_CASE("A head says its time by a word, a day, a week or a place in a row") {
  CHECK(said(of_head("EPG pre")) == "before");
  CHECK(said(of_head("EPG nach der Behandlung")) == "after");
  CHECK(said(of_head("Day 14 FEC")) == "day 14");
  CHECK(said(of_head("T0")) == "day 0");
  CHECK(said(of_head("t14")) == "day 14");
  CHECK(said(of_head("Tag 14")) == "day 14"); // a day in German
  CHECK(said(of_head("Week 2")) == "day 14");
  CHECK(said(of_head("14 days post")) == "after, day 14");
  CHECK(said(of_head("Day -7")) == "day -7");
  CHECK(said(of_head("D-7")) == "day 7 behind a hyphen");
  CHECK(said(of_head("2nd EPG")) == "place 2");
  CHECK(said(of_head("EPG")).empty());
  CHECK(said(of_head("Tag no. 14")).empty()); // an ear tag
  CHECK(said(of_head("Day 2031")).empty());   // a year
}

TEST_CASE("A head of two times that contradict each other says neither") {
  CHECK(said(of_head("EPG post drench (pre weaning)")).empty());
  CHECK(said(of_head("Before drench, after shearing")).empty());
  CHECK(said(of_head("1st count, 2nd count")).empty());
}

TEST_CASE("A cell may be a bare day or a date") {
  CHECK(said(of_cell("0")) == "day 0");
  CHECK(said(of_cell("-7")) == "day -7");
  CHECK(said(of_cell("\xE2\x88\x92"
                     "7")) == "day -7");
  CHECK(said(of_cell("14")) == "day 14");
  CHECK(said(of_cell("3/5/2031")) == "date");
  CHECK(said(of_cell("Pre")) == "before");
  CHECK(said(of_cell("D14")) == "day 14");
  CHECK(said(of_cell("")).empty());
  CHECK(said(of_cell("White")).empty());
}

TEST_CASE("Words say which time is before, whatever order the columns have") {
  CHECK(times_of({"EPG pre", "EPG post"}) == "before after");
  CHECK(times_of({"EPG post", "EPG pre"}) == "after before");
  CHECK(times_of({"pre 1", "pre 2", "post 1", "post 2"}) == "before before after after");
}

TEST_CASE("Of numbered days that up to 0 is before, and the later one after") {
  CHECK(times_of({"Day 0", "Day 14"}) == "before after");
  CHECK(times_of({"Tag 14", "Tag 0"}) == "after before");
  CHECK(times_of({"T0", "T14"}) == "before after");
  CHECK(times_of({"Day -1", "Day 10"}) == "before after");
  CHECK(times_of({"Day 1", "Day 15"}) == "before after");
  // Both may be after treatment.
  CHECK_THROWS_WITH(times_of({"Week 1", "Week 3"}),
                    Catch::Contains("day-before \"Week 1\" and the setting day-after \"Week 3\""));
  CHECK(times_of({"FEC day 0", "EPG day 14", "FEC day 14"}) == "before after after");
}

TEST_CASE("A sample of one told day is a visit on it, so that its day is known") {
  CHECK(with_days_of({"EPG day 0", "EPG day 3"}) == "before day:3");
  CHECK(with_days_of({"EPG pre", "EPG day 30"}) == "before day:30");
  CHECK(with_days_of({"EPG pre", "EPG post day 5"}) == "before day:5");
  CHECK(with_days_of({"Week 0", "Week 1"}) == "before day:7");
  CHECK(with_days_of({"EPG day 0", "EPG day 14"}) == "before day:14");
  // A number without its unit may be a place; "1" and "2" are.
  CHECK(with_days_of({"T0", "T3"}) == "before after"); // and asked about, by time_of_unsaid_unit()
  CHECK(with_days_of({"Day 0", "Day 1"}) == "before day:1");
  CHECK(with_days_of({"T0", "T1"}) == "before after");
  CHECK(with_days_of({"T0", "T28"}) == "before day:28");
  CHECK(with_days_of({"Before", "72 h after"}) == "before day:3");
  CHECK(with_days_of({"Before", "after 1 month"}) == "before day:30");
  CHECK(with_days_of({"Day 1", "Day 4"}) == "before day:3"); // counted from the day of treatment
  CHECK(with_days_of({"Day 1", "Day 15"}) == "before day:14");
  CHECK(with_days_of({"D-1", "D3"}) == "before day:3"); // a minus
  CHECK(with_days_of({"Day 1", "Day 2"}) == "before after");
  CHECK(with_days_of({"pre", "post"}) == "before after");
  CHECK(with_days_of({"Day 0", "Day 7", "Day 10"}) == "before day:7 day:10");
}

TEST_CASE("Of several days those are asked about that lie most nearly two weeks apart") {
  using std::chrono::days;
  const std::chrono::sys_days first = std::chrono::sys_days(std::chrono::year(2031) / 5 / 1);
  using Pair = std::pair<std::chrono::sys_days, std::chrono::sys_days>;
  CHECK(likeliest_days({first, first + days(7), first + days(20)}) ==
        Pair{first + days(7), first + days(20)});
  CHECK(likeliest_days({first, first + days(14), first + days(28)}) ==
        Pair{first, first + days(14)});
  CHECK(likeliest_days({first, first + days(40)}) == Pair{first, first + days(40)});
}

TEST_CASE("A hyphen before a day is a minus where other days have none") {
  CHECK(times_of({"D-7", "D7"}) == "before after");
  CHECK(times_of({"D14", "D-7"}) == "after before");
  CHECK(times_of({"D-0", "D-14"}) == "before after");
  CHECK_THROWS_WITH(times_of({"D0", "D-14"}), Catch::Contains("found 2 times of sampling"));
}

TEST_CASE("Two places or two dates are before and after in their order") {
  CHECK(times_of({"1st EPG", "2nd EPG"}) == "before after");
  CHECK(times_of({"2nd EPG", "1st EPG"}) == "after before");
  CHECK(times_of({"17/5/2031", "3/5/2031"}, {}, true, DateOrder::day_first) == "after before");
  CHECK(times_of({"3/5/2031", "5/4/2031"}, {}, true, DateOrder::day_first) == "after before");
  CHECK(times_of({"3/5/2031", "5/4/2031"}, {}, true, DateOrder::month_first) == "before after");
}

TEST_CASE("One day beside a word is the other time") {
  CHECK(times_of({"EPG pre", "EPG day 14"}) == "before after");
  CHECK(times_of({"EPG day 0", "EPG post"}) == "before after");
}

TEST_CASE("More times than two are asked about, and never chosen among") {
  const auto asked = [](const std::vector<std::string>& heads) {
    return support::input_error([&] { times_of(heads); });
  };
  CHECK(asked({"Day -7", "Day 0", "Day 14"}) ==
        "t.csv:1: column 3: found 3 times of sampling, \"Day -7\", \"Day 0\", \"Day 14\"; expected "
        "an answer: the setting day-before \"Day 0\" and the setting day-after \"Day 14\" (or "
        "others of them)");
  CHECK(asked({"Day -7", "Day 0", "Day 14", "Day 28"}) ==
        "t.csv:1: column 3: found 4 times of sampling, \"Day -7\", \"Day 0\", \"Day 14\", \"Day "
        "28\"; expected an answer: the setting day-before \"Day 0\" and the setting day-after "
        "\"Day 14\" (or others of them), or the setting day-before \"Day 0\" (alone: all later "
        "days are visits)");
  CHECK_THROWS_AS(times_of({"pre", "post", "day 28"}), OpenQuestion);
  CHECK_THROWS_AS(times_of({"1st post", "2nd post", "pre"}), OpenQuestion);
  CHECK_THROWS_AS(times_of({"Day -7", "Day -1"}), OpenQuestion);
}

TEST_CASE("The owner's days are taken, and others count as neither") {
  CHECK(times_of({"Day 0", "Day 7", "Day 14"}, days("Day 0", "Day 14")) == "before - after");
  CHECK(times_of({"Day 0", "Day 7", "Day 14"}, days("0", "14")) == "before - after");
  CHECK(times_of({"0", "7", "14"}, days("0", "day 7"), true) == "before after -");
  CHECK(times_of({"D-7", "D0", "D14"}, days("-7", "14")) == "before - after");
  CHECK(times_of({"pre", "post day 7", "post day 14"}, days("pre", "post day 14")) ==
        "before - after");
  CHECK(times_of({"3/5/2031", "10/5/2031", "17/5/2031"}, days("2031-05-03", "17.5.2031"), true,
                 DateOrder::day_first) == "before - after");
  CHECK(times_of({"Day 0", "Day 14"}, days("Day 1", "Day 14")) == "- after");
}

TEST_CASE("A date is read in the order that the table has") {
  const TimePoint time = of_cell("3/5/2031");
  CHECK(iso_date(*in_order(*time.date, DateOrder::day_first)) == "2031-05-03");
  CHECK(iso_date(*in_order(*time.date, DateOrder::month_first)) == "2031-03-05");
  CHECK_FALSE(in_order(*time.date, std::nullopt));
  CHECK(iso_date(*in_order(*of_cell("17/5/2031").date, std::nullopt)) == "2031-05-17");
}

TEST_CASE("One time before treatment and several numbered days later are visits") {
  CHECK(times_of({"Day 0", "Day 14", "Day 28"}) == "before day:14 day:28");
  CHECK(times_of({"Week 6", "Week 0", "Week 2", "Week 4"}) == "day:42 before day:14 day:28");
  CHECK(times_of({"pre", "post day 7", "post day 14"}) == "before day:7 day:14");
  CHECK(times_of({"EPG pre", "2 weeks", "4 weeks"}) == "before day:14 day:28");
  CHECK(times_of({"Vor", "Tag 14", "Tag 28"}) == "before day:14 day:28");
  CHECK(times_of({"EPG pre", "FEC day 14", "EPG day 14", "EPG day 28"}) ==
        "before day:14 day:14 day:28");
}

TEST_CASE("Numbers whose unit nobody says are days only if no weeks could start so late") {
  CHECK(times_of({"T0", "T14", "T28"}) == "before day:14 day:28");
  CHECK_THROWS_AS(times_of({"T0", "T2", "T4"}), OpenQuestion); // weeks, perhaps
  CHECK_THROWS_AS(times_of({"T0", "T1", "T2"}), OpenQuestion); // a running number
  CHECK_THROWS_AS(times_of({"Day 0", "Day 1", "Day 2"}), OpenQuestion);
  CHECK(times_of({"0", "14", "28"}, {}, true) == "before day:14 day:28");
  CHECK_THROWS_AS(times_of({"0", "2", "4"}, {}, true), OpenQuestion);
}

TEST_CASE("Days without a time before, or with two, are asked about") {
  CHECK_THROWS_AS(times_of({"Day 1", "Day 14", "Day 28"}), OpenQuestion);
  CHECK_THROWS_AS(times_of({"pre", "Day 0", "Day 14", "Day 28"}), OpenQuestion);
  CHECK_THROWS_AS(times_of({"pre", "Day 14", "Day 28", "post"}), OpenQuestion);
}

TEST_CASE("Where the time before alone is named all later days are visits, and with both none is") {
  Layout layout;
  layout.day_before = "Day 0";
  CHECK(times_of({"Day -7", "Day 0", "Day 14", "Day 28"}, layout) == "- before day:14 day:28");
  CHECK(times_of({"Day -7", "Day 0", "Day 14", "Day 28"}, days("Day 0", "Day 28")) ==
        "- before - after");
}

TEST_CASE("Visits are told with their days and what the table calls them") {
  const std::vector<PlacedTime> times{
      {of_head("Pre"), 1, 1}, {of_head("Week 2"), 1, 2}, {of_head("Week 4"), 1, 3}};
  CHECK(visits_told(times, occasions_of(times, {}, std::nullopt, "t.csv")) ==
        "one sample before treatment (\"Pre\") and visits on day 14 (\"Week 2\") and day 28 "
        "(\"Week 4\")");
  const std::vector<PlacedTime> two{{of_head("Pre"), 1, 1}, {of_head("Week 2"), 1, 2}};
  CHECK(visits_told(two, occasions_of(two, {}, std::nullopt, "t.csv")).empty());
}

TEST_CASE("Hours and months are counted in days, and a time of the day is none") {
  CHECK(said(of_head("72 h after")) == "after, day 3");
  CHECK(said(of_head("60 hours post")) == "after, day 2");
  CHECK(said(of_head("T 72 h")) == "day 3");
  CHECK(said(of_head("after 1 month")) == "after, day 30");
  CHECK(said(of_head("EPG 10 h after")) == "after");
  CHECK(said(of_head("Day 14, 10 h")) == "day 14");
  CHECK(said(of_head("After drench +3")) == "after, day 3");
  CHECK(said(of_head("After drench 3")) == "after");
}

TEST_CASE("A number of days or weeks, nobody says which, is told from a mere count") {
  const auto asked = [](const std::vector<std::string>& heads) {
    std::vector<PlacedTime> times;
    for (const std::string& head : heads)
      times.push_back({of_head(head), 1, 1});
    const auto occasions = occasions_of(times, {}, std::nullopt, "t.csv");
    return time_of_unsaid_unit(times, occasions).value_or(99);
  };
  CHECK(asked({"T0", "T3"}) == 1);
  CHECK(asked({"T3", "T0"}) == 0);
  CHECK(asked({"Before", "After +1"}) == 1);
  CHECK(asked({"T0", "T1"}) == 99);
  CHECK(asked({"T1", "T2"}) == 99); // a mere count
  CHECK(asked({"T0", "T14"}) == 99);
  CHECK(asked({"Day 0", "Day 3"}) == 99);
}

TEST_CASE("Dates without a year are in no order by themselves") {
  const auto asked = [](const std::vector<std::string>& cells) {
    return support::input_error([&] { times_of(cells, {}, true); });
  };
  CHECK_THAT(asked({"30 April", "14 May"}),
             Catch::Contains("day-before \"30 April\" and the setting day-after \"14 May\""));
  CHECK_THAT(asked({"June 14", "May 30"}),
             Catch::Contains("day-before \"May 30\" and the setting day-after \"June 14\""));
  CHECK_THAT(asked({"11 Jan", "28 Dec"}),
             Catch::Contains("day-before \"28 Dec\" and the setting day-after \"11 Jan\""));
  CHECK_THAT(asked({"5/30", "6/14"}), Catch::Contains("2 times of sampling"));
  CHECK(times_of({"30 April", "14 May"}, days("30 Apr", "May 14"), true) == "before after");
  CHECK(times_of({"14 May", "30 April"}, days("30 April", "14 May"), true) == "after before");
  CHECK(times_of({"pre", "14 May"}, {}, true) == "before after");
  CHECK(times_of({"30 April", "post"}, {}, true) == "before after");
  CHECK_THROWS_AS(times_of({"pre", "14 May", "28 May"}, {}, true), OpenQuestion);
}

TEST_CASE("Days between samples by their dates without a year") {
  const auto apart = [](const std::string& before, const std::string& after) {
    const std::vector<PlacedTime> times{{of_cell(before), 1, 1}, {of_cell(after), 1, 2}};
    return days_apart_without_year(
        times, {SampleTime{Occasion::before, 0}, SampleTime{Occasion::after, 0}}, std::nullopt);
  };
  CHECK(apart("13 May", "16 May") == std::vector<int>{3});
  CHECK(apart("13 May", "13 May").empty());
  CHECK(apart("13 May", "after").empty());
  CHECK_FALSE(is_usual_time_apart(13));
  CHECK(is_usual_time_apart(14));
  CHECK(is_usual_time_apart(42));
  CHECK_FALSE(is_usual_time_apart(43));
}

TEST_CASE("Numbers that count no samplings are no places in a row") {
  const auto place = [](int number) {
    TimePoint time;
    time.text = fmt::format("EPG {}", number);
    time.place = number;
    return time;
  };
  const auto asked = [&](int a, int b) {
    const std::vector<PlacedTime> times{{place(a), 1, 1}, {place(b), 1, 2}};
    occasions_of(times, {}, std::nullopt, "t.csv");
  };
  CHECK_NOTHROW(asked(1, 2));
  CHECK_NOTHROW(asked(1, 6));
  CHECK_THROWS_AS(asked(28, 14), OpenQuestion);
  CHECK_THROWS_AS(asked(1, 7), OpenQuestion);
}

TEST_CASE("A word that is written as the owner says is meant before those that mean the same") {
  CHECK(times_of({"before", "after", "after 2nd drench"}, days("before", "after")) ==
        "before after -");
  CHECK(times_of({"before", "after", "after 2nd drench"}, days("before", "after 2nd drench")) ==
        "before - after");
  CHECK(times_of({"before", "after", "after 2nd drench"}, days("pre", "after")) ==
        "before after -");
  CHECK(times_of({"EPG pre", "EPG post"}, days("before", "after")) == "before after");
}
