#include "intake/settle_attributes.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <deque>

using namespace eggfall;
using support::Lines;

namespace {

/// An animal with one attribute, under a head, as it is settled.
struct Settled {
  std::string text; ///< Of that attribute; empty if it is gone.
  std::string role;
  Lines told;
  Lines all;
};

Settled settled(const std::string& name, const std::string& text, const std::string& head = {},
                std::optional<DateOrder> order = std::nullopt, const std::string& role = {}) {
  std::vector<RawAnimal> animals(1);
  animals[0].attributes[name] = {text, "t.csv", 2, 4, head};
  if (!role.empty())
    animals[0].attributes["role"] = {role, "t.csv", 2, 5, "Status"};
  Problems problems;
  ReadingLog log;
  settle_attributes(animals, {}, order, problems, log);
  problems.throw_if_any();
  const auto attribute = [&](const std::string& key) {
    const auto found = animals[0].attributes.find(key);
    return found == animals[0].attributes.end() ? std::string() : found->second.text;
  };
  return {attribute(name), attribute("role"), texts_of(log.told()), texts_of(log.all())};
}

std::string refusal(const std::string& name, const std::string& text, const std::string& head,
                    const std::string& role = {}) {
  return support::input_error([&] { settled(name, text, head, std::nullopt, role); });
}

std::optional<DateOrder> order_of(const std::vector<std::string>& texts,
                                  const Layout& layout = {}) {
  Problems problems;
  ReadingLog log;
  std::deque<RawBook> books;
  std::vector<SheetReading> sheets;
  for (const std::string& text : texts) {
    books.push_back(read_raw(text, "t.csv"));
    sheets.push_back(read_sheet_columns(books.back().sheets.at(0), layout, problems, log).value());
  }
  return date_order_of(sheets, layout, log);
}

} // namespace

TEST_CASE("Dates are written as a counts table has them") {
  CHECK(settled("date_before", "3 May 2031").text == "2031-05-03");
  CHECK(settled("date_treated", "3.5.31").text == "2031-05-03");
  CHECK(settled("date_after", "3/5/2031", "", DateOrder::day_first).text == "2031-05-03");
  CHECK(settled("date_after", "3/5/2031", "", DateOrder::month_first).text == "2031-03-05");
  CHECK(refusal("date_before", "3 May", "Sampled") ==
        "t.csv:2: column 4 (Sampled): found \"3 May\"; expected a date with its year, such as "
        "2031-04-27, 27/4/2031 or 27 April 2031");
}

TEST_CASE("Roles are called treated and control, and words for them are told") {
  CHECK(settled("role", "Untreated").text == "control");
  CHECK(settled("role", "Drenched").text == "treated");
  CHECK(settled("role", "T\xC3\xA9moin").text == "control");
  CHECK(settled("role", "Untreated").all == Lines{"\"Untreated\" is taken for the role control"});
  CHECK(settled("role", "control").all.empty());
  // What is neither is left for the reader of counts tables to refuse.
  CHECK(settled("role", "sick").text == "sick");
}

TEST_CASE("A drench that is none makes its group the control, and is told") {
  const Settled none = settled("drench", "not drenched");
  CHECK(none.text.empty());
  CHECK(none.role == "control");
  CHECK(none.told ==
        Lines{"groups whose drench is \"not drenched\" are taken for the untreated control"});
  CHECK(settled("drench", "white").role.empty());
  CHECK(settled("drench", "none", "Drench", std::nullopt, "untreated").role == "control");
}

TEST_CASE("A treated animal without a drench contradicts itself") {
  CHECK(refusal("drench", "none", "Drench", "treated") ==
        "t.csv:2: column 4 (Drench): found \"none\" for a treated animal; expected the drench it "
        "was given, or the role control");
  CHECK_FALSE(refusal("drench", "untreated", "Drench", "Drenched").empty());
}

TEST_CASE("Hosts are called as in English") {
  CHECK(settled("host", "L\xC3\xA4mmer").text == "sheep");
  CHECK(settled("host", "Ponys").text == "horses");
  CHECK(settled("host", "yak").text == "yak");
}

TEST_CASE("Weights are in kilograms, and pounds are turned into them and told") {
  CHECK(settled("weight_kg", "40", "Weight").text == "40");
  CHECK(settled("weight_kg", "40.5 kg", "Weight").text == "40.5");
  CHECK(settled("weight_kg", "40kg", "Weight (kg)").text == "40");
  // 100 lb are 45.359237 kg by definition.
  CHECK(settled("weight_kg", "100 lb", "Weight").text == "45.36");
  CHECK(settled("weight_kg", "100", "Weight (lbs)").text == "45.36");
  CHECK(settled("weight_kg", "1000", "Weight (lb)").text == "453.6");
  CHECK(settled("weight_kg", "100", "Weight (lb)").told ==
        Lines{"1 weight in pounds is turned into kilograms"});
  CHECK(settled("weight_kg", "45 kg", "Weight (lb)").text == "45");
  CHECK(settled("weight_kg", "45 kg", "Weight (lb)").told.empty());
  CHECK(refusal("weight_kg", "45000 gm", "Weight") ==
        "t.csv:2: column 4 (Weight): found \"45000 gm\" in gm; expected a weight in kg");
  CHECK(settled("weight_kg", "heavy", "Weight").text == "heavy"); // left to be refused
}

TEST_CASE("Stones are turned into kilograms and told") {
  // 10 st are 63.5029318 kg by definition.
  CHECK(settled("weight_kg", "10", "Weight (st)").text == "63.5");
  CHECK(settled("weight_kg", "10 st", "Weight").text == "63.5");
  CHECK(settled("weight_kg", "10 stone", "Weight (kg)").text == "63.5");
  // 4 lb more are 1.81436948 kg.
  CHECK(settled("weight_kg", "10 st 4 lb", "Weight").text == "65.32");
  CHECK(settled("weight_kg", "10", "Weight (stones)").told ==
        Lines{"1 weight in stones is turned into kilograms"});
}

TEST_CASE("A column that its owner names is refused where its head says a unit that is not ours") {
  CHECK(
      refusal("weight_kg", "40", "Weight (cwt)") ==
      "t.csv:2: column 4 (Weight (cwt)): found \"cwt\" in the head; expected a weight in kg, lb or "
      "st, which the head says too");
  CHECK(refusal("weight_kg", "40", "Weight (kg or lb)") ==
        "t.csv:2: column 4 (Weight (kg or lb)): found \"two units\" in the head; expected a weight "
        "in kg, lb or st, which the head says too");
  CHECK(
      refusal("dose_ml", "6", "Dose (drops)") ==
      "t.csv:2: column 4 (Dose (drops)): found \"drops\" in the head; expected a dose in mL, which "
      "the head says too");
  CHECK(refusal("mg_per_ml", "1", "Strength (%)") ==
        "t.csv:2: column 4 (Strength (%)): found \"%\" in the head; expected a strength in mg/mL, "
        "which the head says too");
  CHECK(settled("weight_kg", "40", "W (hands)").text == "40"); // its owner knows
}

TEST_CASE("The label's rates are turned into mL and mg per kg, and told") {
  CHECK(settled("label_ml_per_kg", "0.2", "Label mL/kg").text == "0.2");
  CHECK(settled("label_ml_per_kg", "0.2", "Label mL/kg").told.empty());
  CHECK(settled("label_ml_per_kg", "2", "Label mL/10 kg").text == "0.2");
  CHECK(settled("label_ml_per_kg", "2 mL", "Label mL/10 kg").text == "0.2");
  CHECK(settled("label_ml_per_kg", "2", "Label mL/10 kg").told ==
        Lines{"the label's rates under \"Label mL/10 kg\" are turned into mL per kg: 2 ml/10 kg is "
              "0.2 mL/kg"});
  CHECK(settled("label_ml_per_kg", "1 ml/5 kg", "Label").text == "0.2");
  // 1 mL for 10 lb is 1 / 4.5359237 mL per kg.
  CHECK(settled("label_ml_per_kg", "1 ml/10 lb", "Label").text == "0.2204622622");
}

TEST_CASE("A label's rate that contradicts its head is refused") {
  CHECK(
      refusal("label_ml_per_kg", "1 mL/5 kg", "Label mL/10 kg") ==
      "t.csv:2: column 4 (Label mL/10 kg): found \"1 mL/5 kg\" below \"Label mL/10 kg\"; expected "
      "one rate in the head and in the cell");
  CHECK(
      refusal("label_ml_per_kg", "7.5", "Label mg/kg") ==
      "t.csv:2: column 4 (Label mg/kg): found a rate in mg; expected one in mL for label_ml_per_kg "
      "(a rate in mg is label_mg_per_kg)");
  CHECK(
      refusal("label_ml_per_kg", "2", "Label (mL per cwt)") ==
      "t.csv:2: column 4 (Label (mL per cwt)): found a head whose unit is not understood, \"Label "
      "(mL per cwt)\"; expected a head that says a rate, such as mL/kg or mL/10 kg");
  CHECK(refusal("label_ml_per_kg", "2", "Label 1 mL/5 kg") ==
        "t.csv:2: column 4 (Label 1 mL/5 kg): found \"2\" below a head with a whole rate; expected "
        "numbers below a head that says their unit alone, or no cells below it");
}

TEST_CASE("A rate that may be what was given is no label's where it differs within a group") {
  const auto rates = [](const std::string& second, const std::string& head) {
    std::vector<RawAnimal> animals(2);
    animals[0].attributes["label_ml_per_kg"] = {"2", "t.csv", 2, 4, head};
    animals[1].attributes["label_ml_per_kg"] = {second, "t.csv", 3, 4, head};
    Problems problems;
    ReadingLog log;
    settle_attributes(animals, {}, std::nullopt, problems, log);
    Lines lines = texts_of(log.told());
    lines.push_back(animals[0].attributes.contains("label_ml_per_kg") ? "used" : "left out");
    return lines;
  };
  CHECK(rates("2", "mL/10 kg").back() == "used");
  CHECK(rates("2", "mL/10 kg")[1] ==
        "\"mL/10 kg\" is taken for the label's rate, though it does not say whose it is (if it is "
        "what was given, doses were not checked)");
  CHECK(rates("3", "mL/10 kg").back() == "left out");
  CHECK(rates("3", "mL/10 kg")[1] ==
        "\"mL/10 kg\" is not used: its rates differ within a group, as what was given does and "
        "what a "
        "label says does not (the setting column \"label_ml_per_kg=mL/10 kg\", if it is the "
        "label's)");
  CHECK(rates("3", "Label mL/10 kg").back() == "used");
}

TEST_CASE("A label's rate in mg is used beside a strength whose unit is said") {
  const auto used = [](const std::string& strength, const std::string& head,
                       const std::string& rate_head = "Label mg/kg") {
    std::vector<RawAnimal> animals(1);
    animals[0].attributes["label_mg_per_kg"] = {"7.5", "t.csv", 2, 4, rate_head};
    if (!strength.empty())
      animals[0].attributes["mg_per_ml"] = {strength, "t.csv", 2, 5, head};
    Problems problems;
    ReadingLog log;
    settle_attributes(animals, {}, std::nullopt, problems, log);
    problems.throw_if_any();
    return animals[0].attributes.contains("label_mg_per_kg") ? "used" : texts_of(log.told()).at(0);
  };
  CHECK(used("37.5", "Strength mg/mL") == "used");
  CHECK(used("37.5 mg/mL", "Strength") == "used");
  CHECK(used("37.5", "Strength (g/L)") == "used");
  CHECK(used("", "", "label_mg_per_kg") == "used"); // in our own words, and left to be refused
  CHECK(used("3.75", "Strength") == "\"Label mg/kg\" is not used: a rate in mg needs the strength "
                                    "of the drench in mg/mL, and the "
                                    "one that is given says no unit (head it \"Strength mg/mL\")");
  CHECK(used("", "") ==
        "\"Label mg/kg\" is not used: a rate in mg needs the strength of the drench "
        "in mg/mL, in a column \"Strength mg/mL\"");
}

TEST_CASE("Doses are in mL, and one in another unit is left to be refused") {
  CHECK(settled("dose_ml", "6 ml", "Dose").text == "6");
  CHECK(settled("dose_ml", "6mL", "Dose").text == "6");
  CHECK(settled("dose_ml", "6.5 cc", "Dose").text == "6.5");
  CHECK(settled("dose_ml", "6", "Dose").text == "6");
  CHECK(settled("dose_ml", "225 mg", "Dose").text == "225 mg");
  CHECK(settled("dose_ml", "6 ml/10 kg", "Dose").text == "6 ml/10 kg");
}

TEST_CASE("The order of day and month is the one that all dates of all sheets allow") {
  const std::string first = "Tag,Date,EPG\n1,3/5/2031,450\n";
  CHECK(order_of({first, "Tag,Date,EPG\n1,17/5/2031,0\n"}) == DateOrder::day_first);
  CHECK(order_of({first, "Tag,Date,EPG\n1,5/17/2031,0\n"}) == DateOrder::month_first);
  CHECK(order_of({"Tag,EPG 3/5/2031,EPG 17/5/2031\n1,450,0\n"}) == DateOrder::day_first);
  CHECK(order_of({"Tag,Sampled before,EPG pre,EPG post\n1,17/5/2031,450,0\n"}) ==
        DateOrder::day_first);
}

TEST_CASE("Dates that may be read in two orders are asked about, whatever the country") {
  const std::string text = "Tag,Date before,Date after,EPG pre,EPG post\n"
                           "1,3/5/2031,10/5/2031,450,0\n";
  CHECK(support::input_error([&] { order_of({text}); }) ==
        "t.csv: found dates of which none tells day from month, such as \"3/5/2031\" on line 2; "
        "expected an answer: the setting dates day-first (Sat 3 May 2031), or the setting dates "
        "month-first (Wed 5 March 2031)");
  CHECK_THROWS_AS(order_of({text}), OpenQuestion);
  CHECK(order_of({text}, support::layout_of({{"dates", "month-first"}})) == DateOrder::month_first);
}

TEST_CASE("Dates in heads are asked about by their heads") {
  CHECK(support::input_error([] { order_of({"Tag,EPG 3/5/31,EPG 5/4/31\n1,450,0\n"}); }) ==
        "t.csv: found dates of which none tells day from month, such as \"3/5/31\" on line 1; "
        "expected an answer: the setting dates day-first (Sat 3 May 2031), or the setting dates "
        "month-first (Wed 5 March 2031)");
}

TEST_CASE("Dates in two orders are refused") {
  CHECK(support::input_error(
            [] { order_of({"Tag,Date,EPG\n1,17/5/2031,450\n2,5/18/2031,450\n"}); }) ==
        "t.csv: found \"5/18/2031\" on line 3, where the month is first, and \"17/5/2031\" on "
        "line 2, where the day is; expected dates in one order");
}
