#include "intake/day_words.hpp"

#include "base/date.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

std::optional<WrittenDate> read(const std::string& text) {
  return written_date(text, TableWords::known());
}

/// The date, where the order does not matter; "D or M" where it does, "-" for one that is none.
std::string said(const std::string& text) {
  const auto date = read(text);
  if (!date)
    return "nothing";
  const auto shown = [](const auto& day) { return day ? iso_date(*day) : "-"; };
  return date->day_first == date->month_first
             ? shown(date->day_first)
             : shown(date->day_first) + " or " + shown(date->month_first);
}

} // namespace

TEST_CASE("A date with the year first, or with its month by name, is read in one way") {
  for (const char* text : {"2031-05-03",
                           " 2031-5-3 ",
                           "2031/05/03",
                           "2031.05.03",
                           "2031-05-03 10:30",
                           "2031-05-03T00:00:00",
                           "2031-05-03T00:00:00.000Z",
                           "2031-05-03T09:00:00+12:00",
                           "2031\xE2\x80\x93"
                           "05\xE2\x80\x93"
                           "03", // en dashes
                           "3 May 2031",
                           "3rd May 2031",
                           "3rd of May, 2031",
                           "03-May-31",
                           "3/May/2031",
                           "3May2031",
                           "May 3, 2031",
                           "MAY 3rd 2031",
                           "2031 May 3",
                           "2031-May-03",
                           "3 May 2031 9:05 am",
                           "Sat 3 May 2031",
                           "Sat. 3 May 2031",
                           "Saturday, May 3, 2031",
                           "3. Mai 2031",
                           "Samstag, den 3. Mai 2031",
                           "3 mai 2031",
                           "samedi 3 mai 2031",
                           "3 de mayo de 2031",
                           "s\xC3\xA1"
                           "bado, 3 de maio de 2031"})
    CHECK(said(text) == "2031-05-03");
  CHECK(said("1er ao\xC3\xBBt 2031") == "2031-08-01");
  CHECK(said("1 aout 2031") == "2031-08-01");
  CHECK(said("1\xC2\xBA de fevereiro de 2031") == "2031-02-01");
  CHECK(said("14. M\xC3\xA4rz 2031") == "2031-03-14");
  CHECK(said("14. Maerz 2031") == "2031-03-14");
  CHECK(said("sexta-feira, 14 mar 2031") == "2031-03-14");
  CHECK(said("mar 4 mai 2031") == "2031-05-04"); // a French Tuesday
  CHECK(said("Mar 4 2031") == "2031-03-04");
}

TEST_CASE("Numbers parted by strokes or hyphens are read in both orders") {
  CHECK(said("3/5/2031") == "2031-05-03 or 2031-03-05");
  CHECK(said("3/5/31") == "2031-05-03 or 2031-03-05");
  CHECK(said("03-05-2031") == "2031-05-03 or 2031-03-05");
  CHECK(said("3 / 5 / 2031") == "2031-05-03 or 2031-03-05");
  CHECK(said("5/3/2031 12:00:00 AM") == "2031-03-05 or 2031-05-03");
  CHECK(said("Sat 3/5/2031") == "2031-05-03 or 2031-03-05");
  CHECK(said("13/5/2031") == "2031-05-13 or -");
  CHECK(said("5/13/2031") == "- or 2031-05-13");
  CHECK(said("3/3/2031") == "2031-03-03");
  CHECK(read("3/5/2031")->order_matters());
  CHECK_FALSE(read("13/5/2031")->order_matters());
  CHECK_FALSE(read("3/3/2031")->order_matters());
  CHECK_FALSE(read("3.5.2031")->order_matters());
  CHECK(iso_date(*read("3/5/2031")->in(DateOrder::day_first)) == "2031-05-03");
  CHECK(iso_date(*read("3/5/2031")->in(DateOrder::month_first)) == "2031-03-05");
  CHECK_FALSE(read("13/5/2031")->in(DateOrder::month_first));
}

TEST_CASE("Numbers parted by dots are day first") {
  CHECK(said("03.05.31") == "2031-05-03");
  CHECK(said("3.5.2031") == "2031-05-03");
  CHECK(said("3. 5. 2031") == "2031-05-03");
  CHECK(said("5.13.2031") == "nothing");
}

TEST_CASE("Two digits of a year are 2000 to 2079 or 1980 to 1999") {
  CHECK(said("3 May 00") == "2000-05-03");
  CHECK(said("3 May 79") == "2079-05-03");
  CHECK(said("3 May 80") == "1980-05-03");
  CHECK(said("3 May 99") == "1999-05-03");
  CHECK(said("3.5.80") == "1980-05-03");
}

TEST_CASE("What is no date, or has no year, is not understood") {
  for (const char* text : {"",
                           "3 May",
                           "May 2031",
                           "3/5",
                           "2031",
                           "52000",
                           "31/4/2031",
                           "30 Feb 2031",
                           "0/5/2031",
                           "2031-13-01",
                           "2031-00-10",
                           "3/5-2031",
                           "3,5,2031",
                           "3 5 2031",
                           "3/5/031",
                           "3/5/20311",
                           "003/05/2031",
                           "3/005/2031",
                           "1899-12-31",
                           "2201-01-01",
                           "3 Mey 2031",
                           "3 May May 2031",
                           "before 3 May 2031",
                           "3 May 2031?",
                           "3-5 May 2031",
                           "day 14",
                           "-3/5/2031",
                           "3/5/2031-",
                           "3 May 2031 25:00",
                           "3 May 2031 10:61",
                           "10:30",
                           "Sat",
                           "3/257/31",
                           "may",
                           "2031-05-03T",
                           "3 May 2031, 4 May 2031"})
    CHECK(said(text) == "nothing");
  CHECK(said("1900-01-01") == "1900-01-01");
  CHECK(said("2200-12-31") == "2200-12-31");
  CHECK(said(fmt::format("{:3>200}/5/2031", "")) == "nothing");
}

TEST_CASE("Real days alone are dates, as Python's calendar has them") {
  // Python 3: datetime.date(year, month, day) for months 0 to 14 and days 0 to 32, those without
  // ValueError.
  const auto dates_in = [](int year) {
    int dates = 0;
    for (int month = 0; month <= 14; ++month)
      for (int day = 0; day <= 32; ++day)
        dates += read(fmt::format("{}.{}.{}", day, month, year)).has_value() ? 1 : 0;
    return dates;
  };
  CHECK(dates_in(2031) == 365);
  CHECK(dates_in(2032) == 366);
  CHECK(dates_in(1900) == 365);
  CHECK(dates_in(2000) == 366);
  CHECK(dates_in(2100) == 365);
}

TEST_CASE("Of pairs of numbers, as many are dates in either order as Python says") {
  // Python 3, a and b from 1 to 31: date(2031, b, a) and date(2031, a, b), both, a != b; the one
  // alone; the other alone.
  int both = 0;
  int day_first_alone = 0;
  int month_first_alone = 0;
  for (int a = 1; a <= 31; ++a)
    for (int b = 1; b <= 31; ++b)
      if (const auto date = read(fmt::format("{}/{}/2031", a, b))) {
        both += date->order_matters() ? 1 : 0;
        day_first_alone += date->month_first ? 0 : 1;
        month_first_alone += date->day_first ? 0 : 1;
      }
  CHECK(both == 132);
  CHECK(day_first_alone == 221);
  CHECK(month_first_alone == 221);
}

namespace {

DateOrders orders_of(const std::vector<std::string>& texts) {
  DateOrders orders;
  for (std::size_t i = 0; i < texts.size(); ++i)
    orders.add(*read(texts[i]), texts[i], fmt::format("t.csv:{}", i + 2));
  return orders;
}

} // namespace

TEST_CASE("The dates of a table agree on an order") {
  const DateOrders day_first = orders_of({"3/5/2031", "17/5/2031", "4/5/2031"});
  CHECK(day_first.agreed() == DateOrder::day_first);
  CHECK(day_first.undecided() == nullptr);
  CHECK_FALSE(day_first.contradiction());
  CHECK(orders_of({"5/3/2031", "5/17/2031"}).agreed() == DateOrder::month_first);
}

TEST_CASE("Where the order matters to no date, any will do") {
  for (const std::vector<std::string>& texts :
       {std::vector<std::string>{}, {"2031-05-03", "3 May 2031", "3.5.2031", "3/3/2031"}}) {
    const DateOrders orders = orders_of(texts);
    CHECK(orders.agreed() == DateOrder::day_first);
    CHECK(orders.undecided() == nullptr);
    CHECK_FALSE(orders.contradiction());
  }
}

TEST_CASE("Dates that allow both orders are undecided, with the first to show") {
  const DateOrders orders = orders_of({"2031-05-03", "3/5/2031", "4/5/2031"});
  CHECK_FALSE(orders.agreed());
  REQUIRE(orders.undecided() != nullptr);
  CHECK(orders.undecided()->text == "3/5/2031");
  CHECK(orders.undecided()->place == "t.csv:3");
  CHECK_FALSE(orders.contradiction());
}

TEST_CASE("Dates that contradict one another are shown, the first of each order") {
  const DateOrders orders = orders_of({"3/5/2031", "17/5/2031", "18/5/2031", "5/17/2031"});
  CHECK_FALSE(orders.agreed());
  CHECK(orders.undecided() == nullptr);
  REQUIRE(orders.contradiction());
  CHECK(orders.contradiction()->first.place == "t.csv:3");
  CHECK(orders.contradiction()->second.place == "t.csv:5");
}

TEST_CASE("Orders have names") {
  CHECK(to_string(DateOrder::day_first) == "day first");
  CHECK(to_string(DateOrder::month_first) == "month first");
}

TEST_CASE("Eight digits are a date with the year first") {
  CHECK(said("20310503") == "2031-05-03");
  for (const char* text : {"20311503", "20310532", "18990101", "2031050", "203105030", "2031 0503"})
    CHECK(said(text) == "nothing");
}

namespace {

/// "5-3" for the third of May; "5-3 or 3-5" where the order matters, "-" for no day.
std::string yearless(const std::string& text) {
  const auto date = yearless_date(text, TableWords::known());
  if (!date)
    return "nothing";
  const auto shown = [](const auto& day) {
    return day ? fmt::format("{}-{}", static_cast<unsigned>(day->month()),
                             static_cast<unsigned>(day->day()))
               : "-";
  };
  return date->day_first == date->month_first
             ? shown(date->day_first)
             : shown(date->day_first) + " or " + shown(date->month_first);
}

std::vector<int> days(const std::string& from, const std::string& to,
                      std::optional<DateOrder> said = std::nullopt) {
  return days_from_to(*yearless_date(from, TableWords::known()),
                      *yearless_date(to, TableWords::known()), said);
}

} // namespace

TEST_CASE("A date without its year is known by a month, a stroke or dots") {
  for (const char* text :
       {"30 April", "30 Apr", "30Apr", "April 30", "Apr 30th", "30th of April", "30. April",
        "30 avril", "30 de abril", "le 30 avril", "Fri 30 April", "30-Apr"}) {
    INFO(text);
    CHECK(yearless(text) == "4-30");
  }
  CHECK(yearless("3/5") == "5-3 or 3-5");
  CHECK(yearless("5/30") == "- or 5-30");
  CHECK(yearless("30.4.") == "4-30 or -");
  CHECK(yearless("30.04") == "4-30 or -");
  CHECK(yearless("5-30") == "- or 5-30");
  CHECK(yearless("1 May 30") == "5-1 or 5-30");
  CHECK(yearless("29 Feb") == "2-29");
  for (const char* text : {"", "30", "April", "12.5", "1-2", "31 April", "30/13", "0/5", "3/5/2031",
                           "30 April 2031", "day 14", "3,5", "3 5", "T 14"}) {
    INFO(text);
    CHECK(yearless(text) == "nothing");
  }
}

TEST_CASE("Days between dates without a year go over its turn, by each order that fits both") {
  CHECK(days("30 April", "14 May") == std::vector<int>{14});
  CHECK(days("28 Feb", "14 Mar") == std::vector<int>{14});
  CHECK(days("29 Feb", "14 Mar") == std::vector<int>{14});
  CHECK(days("28 Dec", "11 Jan") == std::vector<int>{14});
  CHECK(days("14 May", "30 April") == std::vector<int>{351});
  CHECK(days("5/30", "6/14") == std::vector<int>{15});
  CHECK(days("5/6", "8/6") == std::vector<int>{3, 92});
  CHECK(days("5/6", "8/6", DateOrder::day_first) == std::vector<int>{3});
  CHECK(days("5/30", "14/6").empty());
}

TEST_CASE("A date is found among the words of a head, and no number that is another's") {
  const auto in = [](const std::string& head) {
    return std::string(date_within(head, TableWords::known()));
  };
  CHECK(in("EPG 28 Feb 2031") == "28 Feb 2031");
  CHECK(in("EPG (28 Feb 2031)") == "28 Feb 2031");
  CHECK(in("EPG Feb 28, 2031") == "Feb 28, 2031");
  CHECK(in("EpG 28. M\xC3\xA4rz 2031 Hof") == "28. M\xC3\xA4rz 2031");
  CHECK(in("HPG 28 de febrero de 2031") == "28 de febrero de 2031");
  CHECK(in("EPG 28-Feb-31") == "28-Feb-31");
  CHECK(in("EPG 3/5/2031") == "3/5/2031");
  CHECK(in("Count 1 (28 Feb 2031)") == "28 Feb 2031");
  CHECK(in("EPG 1 May 30").empty()); // whose 1 may number the count
  CHECK(in("EPG 3-5 May 2031").empty());
  CHECK(in("EPG 30 April").empty());
  const auto without_year = [](const std::string& head) {
    return std::string(yearless_within(head, TableWords::known()));
  };
  CHECK(without_year("EPG 30 April") == "30 April");
  CHECK(without_year("FEC 30Apr") == "30Apr");
  CHECK(without_year("EPG (5/30)") == "5/30");
  CHECK(without_year("EPG 30.4.") == "30.4.");
  CHECK(without_year("EPG 2").empty());
  CHECK(without_year("EPG x12.5").empty());
  CHECK(names_month("EPG May", TableWords::known()));
  CHECK_FALSE(names_month("EPG 5", TableWords::known()));
}
