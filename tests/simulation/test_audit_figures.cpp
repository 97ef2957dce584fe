#include "simulation/audit_figures.hpp"

#include "eggfall/simulation/audit_summary.hpp"
#include "formats/drawing/inks.hpp"
#include "simulation/coverage_scale.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <map>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// Coordinates are printed with two decimals; a difference of two of them is off by this at most.
constexpr double printed = 0.011;

constexpr std::uint64_t trials = 100;

AuditFarm farm(Design design, std::size_t animals, double efficacy) {
  AuditFarm made;
  made.design = design;
  made.model.animals = animals;
  made.model.control_animals = design == Design::paired ? 0 : animals;
  made.model.efficacy = efficacy;
  return made;
}

AuditCriterion criterion(const std::string& title, Rule rule, double expected,
                         std::optional<double> lower) {
  AuditCriterion made;
  made.name = "invented";
  made.title = title;
  made.rule = rule;
  made.cut_off.expected = expected;
  made.cut_off.lower = lower;
  return made;
}

AuditSettings bca_settings() {
  AuditSettings settings;
  settings.methods = {Method::bootstrap_bca};
  settings.criteria = {criterion("Invented", Rule::two_one_sided, 0.95, 0.90)};
  return settings;
}

/// Every method held the truth, and gave the class "inconclusive", in every trial.
AuditResult result_of(const std::vector<AuditFarm>& farms, const AuditSettings& settings) {
  AuditResult result = empty_result(farms, settings, {});
  for (AuditedFarm& each : result.farms) {
    each.tally.trials = trials;
    for (MethodTally& method : each.tally.methods) {
      method.held = trials;
      for (VerdictTally& verdicts : method.verdicts)
        verdicts[static_cast<std::size_t>(VerdictClass::inconclusive)] = trials;
    }
  }
  return result;
}

void classify_all(AuditedFarm& each, const std::map<VerdictClass, std::uint64_t>& given) {
  for (MethodTally& method : each.tally.methods)
    for (VerdictTally& verdicts : method.verdicts) {
      verdicts = {};
      for (const auto& [verdict_class, number] : given)
        verdicts[static_cast<std::size_t>(verdict_class)] = number;
    }
}

void without_estimate(AuditedFarm& each) {
  each.tally.without_estimate = trials;
  for (MethodTally& method : each.tally.methods)
    method.held = 0;
  classify_all(each, {{VerdictClass::not_applicable, trials}});
}

pugi::xml_document parsed(const std::string& svg) {
  pugi::xml_document document;
  REQUIRE(document.load_string(svg.c_str()));
  return document;
}

std::size_t number_of(const pugi::xml_document& document, const char* path) {
  return document.select_nodes(path).size();
}

std::vector<double> values(const pugi::xml_document& document, const char* path) {
  std::vector<double> found;
  for (const auto& match : document.select_nodes(path))
    found.push_back(match.attribute().as_double());
  return found;
}

std::vector<std::string> texts(const pugi::xml_document& document, const char* path) {
  std::vector<std::string> found;
  for (const auto& match : document.select_nodes(path))
    found.emplace_back(match.node() ? match.node().text().get() : match.attribute().value());
  return found;
}

/// The fill of the legend's key of this label.
std::string key_fill(const pugi::xml_document& document, const std::string& label) {
  for (const auto& key : document.select_nodes("//g[@class='key']"))
    if (key.node().child("text").text().get() == label)
      return key.node().child("rect").attribute("fill").value();
  FAIL("no key " + label);
  return {};
}

const std::vector<AuditFarm> every_sort{
    farm(Design::paired, 7, 0.90),      farm(Design::paired, 15, 0.90),
    farm(Design::paired, 40, 0.99),     farm(Design::two_group, 7, 1.0),
    farm(Design::controlled, 15, -0.5), farm(Design::baseline, 40, 0.0),
};

} // namespace

TEST_CASE("Both figures are SVG with words for a reader who cannot see", "[audit_figures]") {
  AuditSettings settings;
  settings.criteria = bca_settings().criteria;
  const AuditResult result = result_of(every_sort, settings);
  for (const std::string& svg : {coverage_figure(result), verdict_figure(result, Design::paired)}) {
    const auto document = parsed(svg);
    const auto root = document.document_element();
    CHECK(root.name() == std::string("svg"));
    CHECK(root.attribute("xmlns").value() == std::string("http://www.w3.org/2000/svg"));
    CHECK(root.attribute("width").as_double() == 760);
    CHECK_FALSE(std::string(root.child("title").text().get()).empty());
    CHECK_FALSE(std::string(root.child("desc").text().get()).empty());
    const auto sizes = values(document, "//@font-size");
    CHECK(*std::ranges::min_element(sizes) >= 11);
  }
}

TEST_CASE("A dot stands for each cell and method with an estimable trial", "[audit_figures]") {
  AuditResult result = result_of(every_sort, AuditSettings());
  without_estimate(result.farms[1]);
  result.farms.push_back(empty_result({every_sort[0]}, result.settings, {}).farms[0]); // no trial
  std::size_t expected = 0;
  for (const AuditedFarm& each : result.farms)
    expected += estimable(each.tally) > 0 ? each.tally.methods.size() : 0;
  const auto document = parsed(coverage_figure(result));
  CHECK(number_of(document, "//g[@class='dots']/circle") == expected);
  // Some designs lack a method, and have no panel for it.
  std::size_t panels = 0;
  for (const Design design : all_designs)
    panels += audited_methods(result.settings, design).size();
  CHECK(number_of(document, "//g[@class='panel']") == panels);
}

TEST_CASE("A dot is as high as its coverage", "[audit_figures]") {
  AuditResult result = result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9),
                                  farm(Design::paired, 15, 0.95)},
                                 bca_settings());
  result.farms[0].tally.methods[0].held = 0;
  result.farms[1].tally.methods[0].held = 37;
  const auto document = parsed(coverage_figure(result));
  const auto y = values(document, "//g[@class='dots']/circle/@cy");
  REQUIRE(y.size() == 3);
  CHECK(y[0] > y[2]);
  CHECK(y[1] == Approx(y[0] + stretched_coverage(0.37) * (y[2] - y[0])).margin(2 * printed));
  const auto x = values(document, "//g[@class='dots']/circle/@cx");
  CHECK(x[1] - x[0] == Approx(x[2] - x[1]).margin(printed)); // places, not a scale
  CHECK(texts(document, "//g[@class='x-labels']/text") ==
        std::vector<std::string>{"80", "90", "95"});
}

TEST_CASE("The mean at an efficacy counts each cell the same", "[audit_figures]") {
  AuditResult result =
      result_of({farm(Design::paired, 7, 0.9), farm(Design::paired, 40, 0.9)}, bca_settings());
  result.farms[0].tally.trials = 1000;
  result.farms[0].tally.methods[0].held = 0;
  const auto document = parsed(coverage_figure(result));
  const auto dots = values(document, "//g[@class='dots']/circle/@cy");
  const auto means = values(document, "//g[@class='means']/line/@y1");
  REQUIRE(means.size() == 1);
  // None of the trials of one farm held it and all of the other's: half of them, farm by farm.
  const double top = std::min(dots[0], dots[1]);
  const double bottom = std::max(dots[0], dots[1]);
  CHECK(means[0] == Approx(bottom + stretched_coverage(0.5) * (top - bottom)).margin(2 * printed));
}

TEST_CASE("A dot below the goal is hollow, and the goal is a line", "[audit_figures]") {
  AuditResult result = result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9),
                                  farm(Design::paired, 15, 0.95)},
                                 bca_settings());
  result.farms[0].tally.methods[0].held = 87;
  result.farms[1].tally.methods[0].held = 88; // coverage_target(0.9)
  const auto document = parsed(coverage_figure(result));
  CHECK(texts(document, "//g[@class='dots']/circle/@fill") ==
        std::vector<std::string>{std::string(paper_colour), std::string(deep_colour),
                                 std::string(deep_colour)});
  CHECK(texts(document, "//g[@class='dots']/circle/@stroke").front() == miss_colour);
  // The band above the goal ends where a line of its own stands, and the lowest full dot on it.
  const auto y = values(document, "//g[@class='dots']/circle/@cy");
  const auto band = document.select_node("//g[@class='panel']/rect").node();
  const double end = band.attribute("y").as_double() + band.attribute("height").as_double();
  CHECK(band.attribute("fill").value() == std::string(zone_colour));
  CHECK(end == Approx(y[1]).margin(2 * printed));
  CHECK(values(document, "//g[@class='panel']/line/@y1").front() == Approx(end).margin(printed));
}

TEST_CASE("The axis of coverages is marked where misses halve, and named so", "[audit_figures]") {
  const AuditResult result = result_of({farm(Design::paired, 15, 0.8)}, bca_settings());
  const auto document = parsed(coverage_figure(result));
  CHECK(
      texts(document, "(//g[@class='y-labels'])[1]/text") ==
      std::vector<std::string>{"0", "50", "80", "90", "95", "99", "100", "coverage, %, stretched"});
  const auto y = values(document, "(//g[@class='y-labels'])[1]/text/@y");
  CHECK(y[3] - y[4] > 12); // 90 and 95: a line of text has room between them
  CHECK(y[3] - y[4] == Approx(y[0] - y[1]).margin(2 * printed)); // both halve the misses
  CHECK_THAT(coverage_panels(result).how_to_read,
             Catch::Contains("stretched by the logarithm of the misses"));
}

TEST_CASE("The title of the coverage is what it shows", "[audit_figures]") {
  AuditResult result =
      result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9)}, AuditSettings());
  const auto found = [&](Method method, std::uint64_t held) {
    for (MethodTally& tally : result.farms[0].tally.methods)
      if (tally.method == method)
        tally.held = held;
  };
  found(Method::bootstrap_bca, 20);
  CHECK_THAT(coverage_panels(result).title,
             Catch::StartsWith("The 90% interval of the posterior, guarded held the truth often "
                               "enough, in 88 of 100 trials or more, in 2 of 2 settings; of the "
                               "others the best in 2 of 2 (") &&
                 Catch::EndsWith("the worst in 1 of 2 (bootstrap, BCa)."));
  found(Method::guarded_posterior, 87);
  CHECK_THAT(coverage_panels(result).title, Catch::Contains("in 1 of 2 settings; of the others"));
}

TEST_CASE("The title of the classes tells how often the deserved one was given",
          "[audit_figures]") {
  AuditSettings settings = bca_settings();
  settings.methods = {Method::guarded_posterior};
  AuditResult result = result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9),
                                  farm(Design::paired, 15, 0.99)},
                                 settings);
  classify_all(result.farms[0], {{VerdictClass::resistant, 70}, {VerdictClass::low_resistant, 30}});
  classify_all(result.farms[2],
               {{VerdictClass::susceptible, 61}, {VerdictClass::inconclusive, 39}});
  CHECK(verdict_panels(result, Design::paired).title ==
        "By Invented, paired design: 70 of 100 trials give a drench the class that it deserves "
        "where it removes 80% (resistant), and 61 of 100 trials where it removes 99% "
        "(susceptible).");
  // Without the interval that the criterion judges by nothing is claimed.
  CHECK(verdict_panels(result_of({every_sort[0]}, bca_settings()), Design::paired).title ==
        "Which class each criterion gave under the paired design.");
}

TEST_CASE("Designs without a trial to show, or without a method, are not drawn",
          "[audit_figures]") {
  AuditResult result = result_of(every_sort, AuditSettings());
  CHECK(designs_to_draw(result) == audited_designs(result));
  for (AuditedFarm& each : result.farms)
    if (each.farm.design == Design::controlled)
      without_estimate(each);
  CHECK(designs_to_draw(result) ==
        std::vector<Design>{Design::paired, Design::two_group, Design::baseline});
}

TEST_CASE("Dots of more animals stand further to the right", "[audit_figures]") {
  const AuditResult result = result_of(
      {farm(Design::paired, 40, 0.9), farm(Design::paired, 7, 0.9), farm(Design::paired, 7, 0.95)},
      bca_settings());
  const auto document = parsed(coverage_figure(result));
  const auto x = values(document, "//g[@class='dots']/circle/@cx"); // 7, 7, 40 animals
  CHECK(x[0] < x[2]);
  CHECK(x[2] < x[1]);
}

TEST_CASE("The bar of an efficacy adds up to the height of its panel", "[audit_figures]") {
  AuditResult result = result_of({farm(Design::paired, 7, -0.5), farm(Design::paired, 15, 0.9),
                                  farm(Design::paired, 40, 0.9), farm(Design::paired, 40, 1.0)},
                                 bca_settings());
  classify_all(result.farms[1], {{VerdictClass::resistant, 20}, {VerdictClass::inconclusive, 80}});
  classify_all(result.farms[2], {{VerdictClass::resistant, 60},
                                 {VerdictClass::low_resistant, 10},
                                 {VerdictClass::susceptible, 20},
                                 {VerdictClass::not_applicable, 10}});
  const auto document = parsed(verdict_figure(result, Design::paired));
  const double whole =
      document.select_node("//g[@class='panel']/rect/@height").attribute().as_double();
  const auto bars = document.select_nodes("//g[@class='bar']");
  REQUIRE(bars.size() == 3);
  for (const auto& bar : bars) {
    double sum = 0;
    for (const auto& segment : bar.node().children("rect"))
      sum += segment.attribute("height").as_double();
    CHECK(sum == Approx(whole).margin(verdict_classes * printed));
  }
  const auto lowest = bars[1].node().first_child(); // resistant, (20% + 60%) / 2
  CHECK(lowest.attribute("fill").value() == key_fill(document, "resistant"));
  CHECK(lowest.attribute("height").as_double() == Approx(0.4 * whole).margin(printed));
}

TEST_CASE("Thresholds stand between the bars they part", "[audit_figures]") {
  AuditSettings settings = bca_settings();
  settings.criteria.push_back(criterion("One gap", Rule::two_one_sided, 0.94, 0.92));
  const AuditResult result =
      result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9),
                 farm(Design::paired, 15, 0.95)},
                settings);
  const auto document = parsed(verdict_figure(result, Design::paired));
  const auto lines = values(document, "//g[@class='thresholds']/line/@x1");
  const auto left = values(document, "//g[@class='bar']/rect/@x");
  const auto width = values(document, "//g[@class='bar']/rect/@width");
  REQUIRE(lines.size() == 4);
  REQUIRE(left.size() == 6);
  const auto between = [&](double x, std::size_t bar) {
    return left[bar] + width[bar] < x && x < left[bar + 1];
  };
  CHECK(between(lines[0], 0)); // 90%: an efficacy of 90% is not below it
  CHECK(between(lines[1], 1)); // 95%
  CHECK(between(lines[2], 4)); // 92%
  CHECK(between(lines[3], 4)); // 94%
  CHECK(lines[2] < lines[3]);
}

TEST_CASE("A strip tells the class of the true efficacy itself", "[audit_figures]") {
  AuditSettings settings = bca_settings();
  settings.criteria.push_back(criterion("1992", Rule::reduction_and_lower_limit, 0.95, 0.90));
  const AuditResult result =
      result_of({farm(Design::paired, 15, 0.8), farm(Design::paired, 15, 0.9),
                 farm(Design::paired, 15, 0.95)},
                settings);
  const auto document = parsed(verdict_figure(result, Design::paired));
  std::vector<std::string> expected;
  for (const char* verdict_class :
       {"resistant", "low resistant", "susceptible", "resistant", "suspected", "susceptible"})
    expected.push_back(key_fill(document, verdict_class));
  CHECK(texts(document, "//g[@class='deserved']/rect/@fill") == expected);
}

TEST_CASE("A criterion that needs no interval has one panel", "[audit_figures]") {
  AuditSettings settings;
  settings.criteria = {criterion("Alone", Rule::reduction_alone, 0.95, {})};
  const auto document =
      parsed(verdict_figure(result_of({every_sort[0]}, settings), Design::paired));
  CHECK(texts(document, "//g[@class='panel']/title") ==
        std::vector<std::string>{"Alone: any method"});
}

TEST_CASE("A method that a criterion demands is shown", "[audit_figures]") {
  AuditSettings settings;
  settings.criteria = {criterion("Invented", Rule::two_one_sided, 0.95, 0.90)};
  const auto panels = [&] {
    return texts(parsed(verdict_figure(result_of({every_sort[0]}, settings), Design::paired)),
                 "//g[@class='panel']/title");
  };
  CHECK(panels() ==
        std::vector<std::string>{"Invented: posterior, guarded", "Invented: posterior, paired",
                                 "Invented: bootstrap, BCa", "Invented: log ratio, paired",
                                 "Invented: log ratio, 1992"});
  settings.criteria[0].method = Method::egg_totals_exact;
  CHECK(std::ranges::count(panels(), "Invented: pooled count, exact") == 1);
}

TEST_CASE("A criterion's title is escaped", "[audit_figures]") {
  AuditSettings settings = bca_settings();
  settings.criteria[0].title = "Us & <them>";
  const std::string svg = verdict_figure(result_of({every_sort[0]}, settings), Design::paired);
  CHECK(svg.find("Us &amp; &lt;them") != std::string::npos);
  CHECK(std::ranges::count(texts(parsed(svg), "//text"), "Us & <them>") == 1);
}

TEST_CASE("A result with nothing to draw is refused", "[audit_figures]") {
  using Catch::Matchers::Contains;
  CHECK_THAT(support::input_error([] { coverage_figure(AuditResult()); }),
             Contains("no trial with a reduction"));
  AuditResult result = result_of({every_sort[0]}, bca_settings());
  CHECK_THAT(support::input_error([&] { verdict_figure(result, Design::controlled); }),
             Contains("controlled") && Contains("no trial with a reduction"));
  without_estimate(result.farms[0]);
  CHECK_THROWS_AS(coverage_figure(result), InputError);
  CHECK_THROWS_AS(verdict_figure(result, Design::paired), InputError);
  AuditSettings settings;
  CHECK_THAT(support::input_error(
                 [&] { verdict_figure(result_of({every_sort[0]}, settings), Design::paired); }),
             Contains("no criterion"));
  settings = bca_settings();
  settings.methods = {Method::egg_totals_exact};
  CHECK_NOTHROW(verdict_figure(result_of({every_sort[0]}, settings), Design::paired));
  settings.methods = {Method::controlled_posterior}; // not of this design
  CHECK_THAT(support::input_error(
                 [&] { verdict_figure(result_of({every_sort[0]}, settings), Design::paired); }),
             Contains("no method of this design"));
}
