#include "teach/slider/slider_page.hpp"

#include "eggfall/simulation/audit_summary.hpp"
#include "support/support.hpp"
#include "teach/slider/slider_audit.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

using Examples = std::vector<std::vector<AuditExample>>;

/// Every test of so many the same: a fall of 93% with an interval that holds it, and no interval.
std::vector<AuditExample> plain_examples(std::size_t count) {
  AuditExample example;
  example.reduction = 0.93;
  example.intervals = {
      reduction_interval(Method::guarded_posterior, 0.95, RatioLimits{0.01, 0.5}),
      reduction_interval(Method::log_ratio_1992, 0.95, WhyNot{"no egg after treatment"})};
  return std::vector<AuditExample>(count, example);
}

Examples plain_examples(const AuditResult& audit, std::size_t count) {
  return Examples(audit.farms.size(), plain_examples(count));
}

/// What the page's script looks settings up in.
nlohmann::json data_of(const std::string& page) {
  const std::string before = "const lesson = ";
  const std::size_t from = page.find(before) + before.size();
  const std::size_t to = page.find(";\n</script>", from);
  REQUIRE(to != std::string::npos);
  return nlohmann::json::parse(page.substr(from, to - from));
}

pugi::xml_document parsed(const std::string& page) {
  // The scripts are no XML.
  std::string text = page;
  for (std::size_t from; (from = text.find("<script>")) != std::string::npos;)
    text.erase(from, text.find("</script>", from) + 9 - from);
  pugi::xml_document document;
  const auto result = document.load_string(text.c_str(), pugi::parse_full);
  REQUIRE(result.status == pugi::status_ok);
  return document;
}

double tenths(double proportion) {
  return std::round(1000 * proportion);
}

} // namespace

TEST_CASE("Examples are the trials that an audit counts first", "[lesson]") {
  AuditResult audit = slider_audit();
  constexpr std::size_t trials = 30;
  bool some_missed = false;
  bool some_without = false;
  for (const AuditedFarm& audited : audit.farms) {
    const CountModel& model = audited.farm.model;
    if (model.animals != 5 || model.factor_before.value() != 50 || model.k != 0.3)
      continue;
    CAPTURE(farm_key(audited.farm));
    const FarmTally tally = audit_trials(audited.farm, audit.settings, 0, trials);
    const auto examples = audit_examples(audited.farm, audit.settings, trials);
    REQUIRE(examples.size() == trials);
    CHECK(static_cast<std::uint64_t>(std::ranges::count_if(examples, [](const AuditExample& each) {
            return !each.reduction;
          })) == tally.without_estimate);
    for (std::size_t m = 0; m < tally.methods.size(); ++m) {
      const auto counted = [&](Outcome wanted) {
        return static_cast<std::uint64_t>(
            std::ranges::count_if(examples, [&](const AuditExample& each) {
              return each.reduction &&
                     outcome(each.intervals.at(m), true_efficacy(model)) == wanted;
            }));
      };
      const MethodTally& method = tally.methods[m];
      CHECK(counted(Outcome::held) == method.held);
      CHECK(counted(Outcome::truth_above) == method.truth_above);
      CHECK(counted(Outcome::truth_below) == method.truth_below);
      CHECK(counted(Outcome::unusable) == method.unusable);
      some_missed = some_missed || method.truth_above + method.truth_below > 0;
      some_without = some_without || method.unusable > 0;
    }
  }
  CHECK(some_missed);
  CHECK(some_without);
}

TEST_CASE("The lesson page holds every cell of its audit", "[lesson]") {
  const AuditResult audit = slider_audit();
  const auto data = data_of(slider_page(audit, plain_examples(audit, 2)));
  const auto& steps = data["steps"];
  REQUIRE(steps.size() == 4);
  CHECK(steps[0].size() * steps[1].size() * steps[2].size() * steps[3].size() ==
        audit.farms.size());
  const auto step = [&](std::size_t slider, const std::string& start) {
    for (std::size_t i = 0; i < steps[slider].size(); ++i)
      if (steps[slider][i].get<std::string>() == start ||
          steps[slider][i].get<std::string>().starts_with(start + ",") ||
          steps[slider][i].get<std::string>().starts_with(start + " EPG") ||
          steps[slider][i].get<std::string>().starts_with(start + "%"))
        return i;
    FAIL("no step " << start << " of slider " << slider);
    return std::size_t{0};
  };
  for (const AuditedFarm& audited : audit.farms) {
    const CountModel& model = audited.farm.model;
    CAPTURE(farm_key(audited.farm));
    const auto& panels = data["cells"][step(0, fmt::format("{}", model.animals))][step(
        1, fmt::format("{:g}", model.factor_before.value()))][step(2, fmt::format("{:g}", model.k))]
                             [step(3, fmt::format("{:g}", 100 * model.efficacy))];
    REQUIRE(panels.size() == 2);
    const Method methods[] = {Method::log_ratio_1992, Method::guarded_posterior};
    for (std::size_t p = 0; p < 2; ++p) {
      const MethodTally& tally = *tally_of(audited.tally, methods[p]);
      const auto& numbers = panels[p]["numbers"];
      CHECK(numbers[0] == tenths(coverage(audited.tally, tally).value));
      CHECK(numbers[1] == tenths(share(tally.unusable, estimable(audited.tally)).value));
      CHECK(numbers[2] == std::round(10 * *mean_width(tally)));
      double verdicts = 0;
      for (std::size_t i = 3; i < numbers.size(); ++i)
        verdicts += numbers[i].get<double>();
      CHECK(verdicts == Approx(1000).margin(0.5 * static_cast<double>(numbers.size() - 3)));
      CHECK(panels[p]["tests"].size() == 2);
    }
    CHECK(panels[0]["words"] == "0 of 2 hold the truth; 2 do not exist.");
    CHECK(panels[0]["tests"][0][0] == "");
    CHECK(panels[0]["tests"][0][2] == "none");
    CHECK(panels[1]["words"] == "2 of 2 hold the truth.");
    CHECK(panels[1]["tests"][0][2] == "");
  }
}

TEST_CASE("Without its script the lesson page shows the setting that it opens with", "[lesson]") {
  const AuditResult audit = slider_audit();
  const std::string page = slider_page(audit, plain_examples(audit, 3));
  const pugi::xml_document document = parsed(page);
  const auto start = std::ranges::find_if(audit.farms, [](const AuditedFarm& each) {
    const CountModel& model = each.farm.model;
    return model.animals == 10 && model.factor_before.value() == 50 && model.k == 0.7 &&
           model.efficacy == 0.93;
  });
  REQUIRE(start != audit.farms.end());
  const Method methods[] = {Method::log_ratio_1992, Method::guarded_posterior};
  for (std::size_t p = 0; p < 2; ++p) {
    const std::string panel = fmt::format("//section[@data-panel='{}']", p);
    CHECK(document.select_nodes((panel + "//g[starts-with(@class, 'test')]").c_str()).size() == 3);
    CHECK(document.select_node((panel + "//span[@data-number='0']").c_str()).node().text().get() ==
          fmt::format("{:.1f}",
                      100 * coverage(start->tally, *tally_of(start->tally, methods[p])).value));
  }
  std::vector<std::string> labels;
  for (const auto& label : document.select_nodes("//label")) {
    labels.emplace_back(label.node().text().get());
    const std::string input =
        fmt::format("//input[@type='range'][@id='{}']", label.node().attribute("for").value());
    CHECK(document.select_nodes(input.c_str()).size() == 1);
  }
  CHECK(labels == std::vector<std::string>{
                      "Animals in each group: ", "One egg seen stands for (EPG): ",
                      "How uneven the worms are (k): ", "What the drench truly removes: "});
  CHECK(document.select_nodes("//noscript").size() == 1);
}

TEST_CASE("Each slider's stops are labelled, and stay in sight with it", "[lesson]") {
  const AuditResult audit = slider_audit();
  const pugi::xml_document document = parsed(slider_page(audit, plain_examples(audit, 1)));
  std::vector<std::string> stops;
  for (const auto& slider : document.select_nodes("//form/div[@class='slider']")) {
    stops.emplace_back();
    for (const auto& stop : slider.node().select_nodes("div[@class='stops']/span"))
      stops.back() += std::string(stop.node().text().get()) + " ";
    // As many as the slider can stand at.
    const auto most = slider.node().child("input").attribute("max").as_uint();
    CHECK(std::ranges::count(stops.back(), ' ') == most + 1);
  }
  CHECK(stops ==
        std::vector<std::string>{"5 10 20 ", "50 25 10 ", "0.3 0.7 2 ", "80% 93% 95% 99% "});
  // The form sticks as far as what it steers goes along.
  CHECK(document.select_node("//form/../div[@class='pair']/section[@data-panel='1']"));
  CHECK_THAT(document.select_node("//style").node().text().get(),
             Catch::Contains("position: sticky"));
}

TEST_CASE("The lesson's figures are drawn in the page's inks, also by its script", "[lesson]") {
  const AuditResult audit = slider_audit();
  const std::string page = slider_page(audit, plain_examples(audit, 1));
  const pugi::xml_document document = parsed(page); // which its nodes must not outlive
  for (const auto& dot : document.select_nodes("//g[starts-with(@class, 'test')]/circle"))
    CHECK(std::string(dot.node().attribute("fill").value()) == "var(--deep)");
  const std::string script = page.substr(page.rfind("<script>"));
  CHECK(script.find('#') == std::string::npos);
  for (const char* ink : {"var(--miss)", "var(--ink)", "var(--deep)", "var(--paper)", "'13 4'"})
    CHECK_THAT(script, Catch::Contains(ink));
}

TEST_CASE("The lesson page refuses an audit that its sliders cannot choose from", "[lesson]") {
  const AuditResult audit = slider_audit();
  AuditResult holey = audit;
  holey.farms.pop_back();
  CHECK_THROWS_AS(slider_page(holey, plain_examples(holey, 1)), CalculationError);
  AuditResult doubled = audit;
  doubled.farms.back() = doubled.farms.front();
  CHECK_THROWS_AS(slider_page(doubled, plain_examples(doubled, 1)), CalculationError);
  AuditResult unjudged = audit;
  unjudged.settings.criteria.clear();
  CHECK_THROWS_AS(slider_page(unjudged, plain_examples(unjudged, 1)), CalculationError);
  Examples uneven = plain_examples(audit, 2);
  uneven.back().pop_back();
  CHECK_THROWS_AS(slider_page(audit, uneven), CalculationError);
  CHECK_THROWS_AS(slider_page(audit, {}), CalculationError);
}
