#include "teach/slider/slider_page.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/svg_drawing.hpp"
#include "formats/json_values.hpp"
#include "judgement/provenance_words.hpp"
#include "report/safety_note.hpp"
#include "teach/slider/slider_texts.hpp"
#include "teach/students/line_up.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace eggfall {
namespace {

/// The sliders stay in sight while their figures are, on a phone in less than half of its height.
constexpr std::string_view slider_page_style = R"css(
body { max-width: 62rem; }
.sliders { display: grid; grid-template-columns: repeat(4, 1fr); gap: 0.2rem 1.5rem;
  position: sticky; top: 0; z-index: 1; margin: 1rem -0.5rem; padding: 0.4rem 0.5rem;
  background: var(--paper); border-bottom: 1px solid var(--line); line-height: 1.25; }
.slider { display: flex; flex-direction: column; justify-content: flex-end; }
.sliders output { font-weight: bold; }
.sliders input { display: block; width: 100%; height: 2.75rem; margin: 0;
  accent-color: var(--deep); }
.stops { display: flex; justify-content: space-between; padding: 0 8px; margin-top: -0.4rem;
  font: 0.75rem/1.2 Arial, "Liberation Sans", sans-serif; color: var(--quiet); }
.stops span { display: flex; justify-content: center; width: 0; white-space: nowrap; }
.setting { border: 1px solid var(--line); padding: 0.4rem 0.6rem; }
.pair { display: flex; flex-wrap: wrap; gap: 1rem 2rem; }
.half { flex: 1 1 19rem; min-width: 0; }
.half h2 { border-bottom: 0; margin-top: 0.8rem; }
.half table { width: 100%; } .half tbody th { font-weight: normal; width: 38%; }
.half td, .half th { text-align: left; }
.bar { border-bottom: 0.4rem solid var(--line); white-space: nowrap;
  box-shadow: 0 1px 0 var(--line); }
[hidden].sliders { display: none; }
@media (max-width: 50rem) { .sliders { grid-template-columns: repeat(2, 1fr); font-size: 0.85rem; } }
@media (max-height: 30rem) { .sliders { position: static; } }
@media print { .pair { flex-wrap: nowrap; gap: 8mm; } .half { flex: 1 1 0; }
  .sliders { display: none; } .half svg { max-width: 82mm; } .try { break-before: page; } }
)css";

/// What a slider chooses by.
struct Slider {
  std::string id;
  std::string label;
  double (*value_of)(const AuditFarm&);
  double wanted = 0; ///< The page opens with the value closest to it.
  std::vector<double> values{};
  std::vector<std::string> words{}; ///< Of each value.
  std::size_t start = 0;
};

/// One way to work out the tests, with the criterion that goes with it.
struct Panel {
  Method method;
  std::string heading;
  std::string_view criterion_name;
  std::size_t criterion = 0;            ///< In AuditSettings::criteria.
  std::vector<VerdictClass> verdicts{}; ///< Those ever given.
};

/// What a panel shows of one farm.
struct PanelResult {
  /// In tenths of a percent or of a point of percent: intervals that held the truth, tests without
  /// one, mean width (empty: no interval at all), and then each of Panel::verdicts.
  std::vector<std::optional<long>> numbers;
  std::string words; ///< How many examples held the truth.
  std::vector<DrawnTest> tests;
};

constexpr std::size_t held_number = 0;
constexpr std::size_t none_number = 1;
constexpr std::size_t width_number = 2;
constexpr std::size_t first_verdict_number = 3;

struct SliderSetting {
  LineUp line_up; ///< Of the examples.
  std::vector<PanelResult> panels;
};

struct SliderBoard {
  std::vector<Slider> sliders;
  std::vector<Panel> panels;
  std::vector<SliderSetting> settings; ///< Every combination, the last slider's running fastest.
  std::size_t start = 0;
  std::size_t examples = 0; ///< Of a farm.
};

void require_of_audit(bool right, const char* what) {
  if (!right)
    throw CalculationError(fmt::format("an audit that is none for the lesson page: {}", what));
}

// --- what goes into it ---

std::string uneven_words(double k) {
  return k < 0.5 ? "very uneven" : k < 1 ? "uneven" : "fairly even";
}

std::string truth_words(double truth, const CutOff& cut_off) {
  return truth >= cut_off.expected ? "works" : truth < *cut_off.lower ? "fails" : "slipping";
}

std::vector<Slider> sliders_of(const AuditResult& audit, const CutOff& cut_off) {
  std::vector<Slider> sliders{
      {"animals", "Animals in each group",
       [](const AuditFarm& farm) { return static_cast<double>(farm.model.animals); }, 10},
      {"factor", "One egg seen stands for (EPG)",
       [](const AuditFarm& farm) { return farm.model.factor_before.value(); }, 50},
      {"k", "How uneven the worms are (k)", [](const AuditFarm& farm) { return farm.model.k; },
       0.7},
      {"truth", "What the drench truly removes",
       [](const AuditFarm& farm) { return true_efficacy(farm.model); }, 0.93}};
  for (const AuditedFarm& each : audit.farms) {
    const std::array words{
        fmt::format("{}", each.farm.model.animals),
        fmt::format("{:g} EPG, {:g} eggs a head", each.farm.model.factor_before.value(),
                    each.farm.model.mean_eggs),
        fmt::format("{:g}, {}", each.farm.model.k, uneven_words(each.farm.model.k)),
        fmt::format("{:g}%, {}", in_percent(true_efficacy(each.farm.model)),
                    truth_words(true_efficacy(each.farm.model), cut_off))};
    for (std::size_t s = 0; s < sliders.size(); ++s)
      if (const double value = sliders[s].value_of(each.farm);
          std::ranges::find(sliders[s].values, value) == sliders[s].values.end()) {
        sliders[s].values.push_back(value);
        sliders[s].words.push_back(words[s]);
      }
  }
  for (Slider& slider : sliders)
    slider.start = static_cast<std::size_t>(std::distance(
        slider.values.begin(), std::ranges::min_element(slider.values, {}, [&](double value) {
          return std::abs(value - slider.wanted);
        })));
  return sliders;
}

const MethodTally& tally_by(const AuditedFarm& audited, const Panel& panel) {
  const MethodTally* tally = tally_of(audited.tally, panel.method);
  require_of_audit(tally != nullptr, "a method is missing");
  return *tally;
}

std::vector<Panel> panels_of(const AuditResult& audit) {
  const double percent = 100 * audit.settings.level;
  std::vector<Panel> panels{
      {Method::log_ratio_1992, fmt::format("Formula of 1992, {:g}%", percent), "waavp-1992"},
      {Method::guarded_posterior, fmt::format("Posterior, guarded, {:g}%", percent),
       "waavp-2023-clinical"}};
  for (Panel& panel : panels) {
    const auto& criteria = audit.settings.criteria;
    const auto found = std::ranges::find(criteria, panel.criterion_name, &AuditCriterion::name);
    require_of_audit(found != criteria.end() && found->cut_off.lower, "a criterion is missing");
    panel.criterion = static_cast<std::size_t>(std::distance(criteria.begin(), found));
    constexpr std::array in_order{VerdictClass::susceptible,  VerdictClass::low_resistant,
                                  VerdictClass::suspected,    VerdictClass::resistant,
                                  VerdictClass::inconclusive, VerdictClass::not_applicable};
    for (const VerdictClass each : in_order)
      if (std::ranges::any_of(audit.farms, [&](const AuditedFarm& audited) {
            return tally_by(audited, panel)
                       .verdicts[panel.criterion][static_cast<std::size_t>(each)] > 0;
          }))
        panel.verdicts.push_back(each);
  }
  return panels;
}

long tenths_of_percent(double proportion) {
  return std::lround(1'000 * proportion);
}

/// The examples against the truth.
LineUp line_up_of(const AuditedFarm& audited, const AuditSettings& settings,
                  const std::vector<AuditExample>& examples) {
  LineUp line_up;
  line_up.truth = true_efficacy(audited.farm.model);
  for (std::size_t i = 0; i < examples.size(); ++i) {
    LineUpRow row{fmt::format("{}", i + 1), examples[i].reduction, examples[i].intervals};
    if (!row.reduction)
      for (const Method method : audited_methods(settings, audited.farm))
        row.intervals.push_back(
            reduction_interval(method, settings.level, WhyNot{"no egg to compare with"}));
    line_up.rows.push_back(std::move(row));
  }
  return line_up;
}

PanelResult panel_result(const Panel& panel, const AuditedFarm& audited, const LineUp& line_up) {
  const MethodTally& tally = tally_by(audited, panel);
  PanelResult result;
  result.numbers = {tenths_of_percent(coverage(audited.tally, tally).value),
                    tenths_of_percent(share(tally.unusable, estimable(audited.tally)).value)};
  const std::optional<double> width = mean_width(tally);
  result.numbers.emplace_back(width ? std::optional(std::lround(10 * *width)) : std::nullopt);
  for (const VerdictClass each : panel.verdicts)
    result.numbers.push_back(tenths_of_percent(
        verdict_share(audited.tally, tally.verdicts[panel.criterion], each).value));
  for (std::size_t row = 0; row < line_up.rows.size(); ++row)
    result.tests.push_back(drawn_test(line_up, row, panel.method));
  result.words = tally_words(line_up, panel.method);
  return result;
}

/// Where the farms of all combinations stand in the audit.
std::vector<std::size_t> in_order(const AuditResult& audit, const std::vector<Slider>& sliders) {
  std::size_t combinations = 1;
  for (const Slider& slider : sliders)
    combinations *= slider.values.size();
  require_of_audit(audit.farms.size() == combinations, "not every combination once");
  std::vector<std::size_t> places(combinations, combinations);
  for (std::size_t c = 0; c < combinations; ++c) {
    std::size_t place = 0;
    for (const Slider& slider : sliders)
      place = place * slider.values.size() +
              static_cast<std::size_t>(
                  std::ranges::find(slider.values, slider.value_of(audit.farms[c].farm)) -
                  slider.values.begin());
    require_of_audit(places[place] == combinations, "a combination twice");
    places[place] = c;
  }
  return places;
}

SliderBoard board_of(const AuditResult& audit,
                     const std::vector<std::vector<AuditExample>>& examples) {
  require_of_audit(!audit.farms.empty() && examples.size() == audit.farms.size(),
                   "no examples of each cell");
  SliderBoard board;
  board.panels = panels_of(audit);
  board.sliders =
      sliders_of(audit, audit.settings.criteria[board.panels.front().criterion].cut_off);
  board.examples = examples.front().size();
  for (const std::size_t c : in_order(audit, board.sliders)) {
    require_of_audit(examples[c].size() == board.examples, "other numbers of examples");
    const AuditedFarm& audited = audit.farms[c];
    SliderSetting setting{line_up_of(audited, audit.settings, examples[c]), {}};
    for (const Panel& panel : board.panels)
      setting.panels.push_back(panel_result(panel, audited, setting.line_up));
    board.settings.push_back(std::move(setting));
  }
  for (const Slider& slider : board.sliders)
    board.start = board.start * slider.values.size() + slider.start;
  return board;
}

// --- what the script takes its settings from ---

Json to_json(const PanelResult& result) {
  Json numbers = Json::array();
  for (const auto& number : result.numbers)
    numbers.push_back(number ? Json(*number) : Json(nullptr));
  Json tests = Json::array();
  for (const DrawnTest& test : result.tests)
    tests.push_back(
        Json::array({test.outline, test.fall ? Json(svg_number(*test.fall)) : Json(nullptr),
                     test.mark, test.beyond ? 1 : 0}));
  return {{"numbers", numbers}, {"words", result.words}, {"tests", tests}};
}

/// The farms from the one at `next` on, in as many levels as there are sliders from this one on.
Json nested_results(const SliderBoard& board, std::size_t slider, std::size_t& next) {
  Json json = Json::array();
  if (slider == board.sliders.size()) {
    for (const PanelResult& panel : board.settings[next++].panels)
      json.push_back(to_json(panel));
    return json;
  }
  for (std::size_t i = 0; i < board.sliders[slider].values.size(); ++i)
    json.push_back(nested_results(board, slider + 1, next));
  return json;
}

std::string data_script(const SliderBoard& board) {
  Json steps = Json::array();
  for (const Slider& slider : board.sliders)
    steps.push_back(slider.words);
  Json truths = Json::array();
  for (std::size_t i = 0; i < board.sliders.back().values.size(); ++i) { // they run fastest
    const DrawnTruth drawn = drawn_truth(board.settings[i].line_up);
    truths.push_back(
        {{"x", svg_number(drawn.x)}, {"anchor", drawn.anchor}, {"words", drawn.words}});
  }
  std::size_t next = 0;
  const Json json{{"steps", steps}, {"truths", truths}, {"cells", nested_results(board, 0, next)}};
  return "const lesson = " + json.dump() + ";\n";
}

// --- the page ---

std::string written_tenths(const std::optional<long>& tenths) {
  return tenths ? fmt::format("{:.1f}", static_cast<double>(*tenths) / 10) : "none";
}

/// A number of a panel's farm; the script puts another farm's in its place.
void add_number(pugi::xml_node parent, const PanelResult& result, std::size_t number) {
  set(add_element(parent, "span", written_tenths(result.numbers[number])), "data-number",
      fmt::format("{}", number));
}

/// Where the slider can stand: "50" of "50 EPG, 8 eggs a head". Screen readers say it with the
/// slider.
void add_stops(pugi::xml_node parent, const Slider& slider) {
  pugi::xml_node stops = add_element(parent, "div", "", "stops");
  set(stops, "aria-hidden", "true");
  for (const std::string& words : slider.words)
    add_element(stops, "span", words.substr(0, words.find_first_of(", ")));
}

void add_sliders(pugi::xml_node body, const SliderBoard& board) {
  pugi::xml_node form = add_element(body, "form", "", "sliders");
  set(form, "hidden", "hidden"); // until the script runs
  for (std::size_t s = 0; s < board.sliders.size(); ++s) {
    const Slider& slider = board.sliders[s];
    pugi::xml_node part = add_element(form, "div", "", "slider");
    pugi::xml_node label = add_element(part, "label", slider.label + ": ");
    set(label, "for", slider.id);
    pugi::xml_node output = add_element(part, "output", slider.words[slider.start]);
    set(output, "for", slider.id);
    set(output, "data-step", fmt::format("{}", s));
    pugi::xml_node input = add_element(part, "input");
    set(input, "type", "range");
    set(input, "id", slider.id);
    set(input, "data-slider", "");
    set(input, "min", "0");
    set(input, "max", fmt::format("{}", slider.values.size() - 1));
    set(input, "step", "1");
    set(input, "value", fmt::format("{}", slider.start));
    set(input, "aria-valuetext", slider.words[slider.start]);
    add_stops(part, slider);
  }
  add_element(add_element(body, "noscript"), "p",
              "The sliders need JavaScript, which is off. This is one setting of many.");
}

/// What the setting chosen gives, in a line that screen readers say again when it changes.
void add_setting(pugi::xml_node body, const SliderBoard& board) {
  pugi::xml_node line = add_element(body, "p", "", "setting");
  set(line, "aria-live", "polite");
  set(line, "aria-atomic", "true");
  constexpr std::array before{"Animals in each group: ", "; one egg seen stands for ", "; k ",
                              "; the drench removes "};
  for (std::size_t s = 0; s < board.sliders.size(); ++s) {
    append_words(line, before[s]);
    const Slider& slider = board.sliders[s];
    set(add_element(line, "b", slider.words[slider.start]), "data-step", fmt::format("{}", s));
  }
  append_words(line, ". Of 100 such tests the formula of 1992 held the truth in ");
  const auto add_held = [&](std::size_t p) {
    pugi::xml_node part = add_element(line, "b");
    set(part, "data-panel", fmt::format("{}", p));
    add_number(part, board.settings[board.start].panels[p], held_number);
  };
  add_held(0);
  append_words(line, ", the posterior in ");
  add_held(1);
  append_words(line, ". Both should in 95.");
}

/// As classes are drawn wherever many are stacked.
std::string verdict_ink(VerdictClass verdict_class) {
  switch (verdict_class) {
  case VerdictClass::susceptible:
    return ink_property(susceptible_colour);
  case VerdictClass::low_resistant:
    return ink_property(low_resistant_colour);
  case VerdictClass::suspected:
    return ink_property(suspected_colour);
  case VerdictClass::resistant:
    return ink_property(resistant_colour);
  case VerdictClass::inconclusive:
    return ink_property(inconclusive_colour);
  case VerdictClass::not_applicable:
    break;
  }
  return ink_property(line_colour);
}

void add_verdicts(pugi::xml_node parent, const Panel& panel, const PanelResult& result,
                  const AuditCriterion& criterion) {
  HtmlTable table{fmt::format("{} would have said, by the {:g}% interval", criterion.title,
                              100 * criterion.level),
                  {"Verdict", "Of 100 tests"},
                  {}};
  for (const VerdictClass each : panel.verdicts)
    table.rows.push_back(
        {each == VerdictClass::not_applicable ? "no verdict" : std::string(to_string(each)), ""});
  std::size_t number = first_verdict_number;
  for (pugi::xml_node row : add_table(parent, table).child("tbody").children("tr")) {
    pugi::xml_node bar = add_element(row.child("td"), "div", "", "bar");
    set(bar, "data-bar", fmt::format("{}", number));
    set(bar, "style",
        fmt::format("width: {}%; border-color: {}", written_tenths(result.numbers[number]),
                    verdict_ink(panel.verdicts[number - first_verdict_number])));
    add_number(bar, result, number);
    ++number;
  }
}

void add_panel(pugi::xml_node parent, const SliderBoard& board, std::size_t p,
               const AuditSettings& settings) {
  const Panel& panel = board.panels[p];
  const SliderSetting& start = board.settings[board.start];
  const PanelResult& result = start.panels[p];
  pugi::xml_node part = add_element(parent, "section", "", "half");
  set(part, "data-panel", fmt::format("{}", p));
  add_element(part, "h2", panel.heading);
  pugi::xml_node figure = add_figure(
      part, {result.words, line_up_figure(start.line_up, panel.method), std::string(line_up_key)});
  set(figure.child("p"), "data-words", "");
  figure.child("svg").child("desc").text().set( // of any setting
      "A line for each test, its fall as a dot and its interval as a bar, and the truth as an "
      "upright line. The sentence above says how many hold the truth.");
  pugi::xml_node audited = add_element(part, "p");
  append_words(audited, fmt::format("Of {} audited tests ", settings.trials));
  add_number(audited, result, held_number);
  append_words(audited,
               fmt::format("% had an interval that held the truth (it should be {:g}%), and ",
                           100 * settings.level));
  add_number(audited, result, none_number);
  append_words(audited, "% had none. Mean width, in points of percent: ");
  add_number(audited, result, width_number);
  append_words(audited, ".");
  add_verdicts(part, panel, result, settings.criteria[panel.criterion]);
}

void add_prompts(pugi::xml_node body) {
  add_element(body, "h2", "Try this", "try");
  pugi::xml_node list = add_element(body, "ol");
  for (
      const char* prompt :
      {"Set 5 animals and 50 EPG, and move the truth from 80% to 99%. How often is the drench that "
       "fails called susceptible? How often is the one that works? Why does the formula of 1992 "
       "lose its interval just where the drench is good?",
       "Set 10 animals, 50 EPG, k 0.3 and 99%. Halve what one egg stands for; go back and double "
       "the animals instead. Which makes the posterior's intervals narrower? Try both again with k "
       "2 and 93%.",
       "Set the truth to 95%, the edge of a drench that works, and all else as good as it gets. Is "
       "any verdict sure? Should it be?",
       "Set 10 animals, 50 EPG and k 0.7, and compare 93% with 99%. When is \"inconclusive\" the "
       "honest answer, and what would you do next on that farm?"})
    add_element(list, "li", prompt);
}

std::string command_words(const AuditSettings& settings) {
  std::vector<std::string_view> methods;
  for (const Method method : settings.methods)
    methods.push_back(to_string(method));
  std::vector<std::string_view> criteria;
  for (const AuditCriterion& criterion : settings.criteria)
    criteria.emplace_back(criterion.name);
  return fmt::format("eggfall audit --grid lesson --level {:g} --method {} --criteria {} --trials "
                     "{} --seed {}",
                     100 * settings.level, fmt::join(methods, ","), fmt::join(criteria, ","),
                     settings.trials, settings.seed);
}

void add_notes(pugi::xml_node body, const AuditResult& audit, const SliderBoard& board) {
  const AuditSettings& settings = audit.settings;
  const CutOff& cut_off = settings.criteria[board.panels.front().criterion].cut_off;
  const CountModel& model = audit.farms.front().farm.model;
  add_element(body, "h2", "What lies behind it");
  add_element(body, "p",
              fmt::format("Works: the drench removes {:g}% or more. Fails: it removes less than "
                          "{:g}%. Slipping: between the two. Susceptible is the verdict on worms "
                          "that the drench kills, resistant on worms that it does not.",
                          100 * cut_off.expected, 100 * *cut_off.lower));
  add_element(
      body, "p",
      "The formula of 1992 takes the log of the ratio of the two groups' means, with the "
      "variance that their counts show; it has no interval where no egg is seen. The "
      "posterior weighs every fall by how well it explains the counts; guarded means that "
      "its limits are moved out to those of a bootstrap, and to what the luck of counting allows "
      "by itself, where these lie outside.");
  add_element(
      body, "p",
      fmt::format("k says how evenly the worms are spread over the flock: the smaller, the more of "
                  "them sit in a few animals. After treatment it is half as large in the drenched "
                  "ones here. Egg counts of one animal vary from sample to sample besides "
                  "(coefficient of variation {:g}), and by the luck of counting.",
                  model.within_cv));
  add_element(body, "p",
              "A test in which the untreated show no egg has no fall: it has no interval and no "
              "verdict, and is left out of the share that held the truth. A limit below -100% is "
              "taken as -100% in the mean width.");
  add_element(
      body, "p",
      fmt::format("Each setting was simulated {} times, and so a share near 50 can be off by "
                  "{:.0f} either way and one near 95 by {:.1f} (two standard errors).",
                  settings.trials, 200 * share(settings.trials / 2, settings.trials).error,
                  200 * share(settings.trials * 95 / 100, settings.trials).error));
  for (const Panel& panel : board.panels) {
    const AuditCriterion& criterion = settings.criteria[panel.criterion];
    add_element(body, "p",
                fmt::format("Cut-offs of {}: {}.", criterion.title,
                            provenance_text(criterion.cut_off.citation)),
                "note");
  }
  pugi::xml_node made = add_element(body, "p", "The audit was made by ", "note");
  add_element(made, "code", command_words(settings));
  append_words(
      made,
      fmt::format(" with eggfall {}. The tests drawn are its first {} of each setting, worked "
                  "out again for this page by eggfall {}.",
                  audit.version, board.examples, version()));
  add_element(body, "p", "The flocks are invented. " + cautions(), "note");
}

} // namespace

std::string slider_page(const AuditResult& audit,
                        const std::vector<std::vector<AuditExample>>& examples) {
  const SliderBoard board = board_of(audit, examples);
  const CountModel& model = audit.farms.front().farm.model;
  const std::string title = "What a drench test can tell, and what it cannot";
  HtmlPage page(title, std::string(slider_page_style) + paper_foot(title));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_element(
      body, "p",
      fmt::format("An invented flock of {:g} EPG. One group is drenched, as many sheep are "
                  "not, and all are counted once, some days later. Here the truth is known: "
                  "what the drench removes. Choose a setting, and see what tests of just "
                  "that drench on just that flock would have told you.",
                  model.mean_eggs * model.factor_before.value()));
  pugi::xml_node in_sight = add_element(body, "div"); // as far as the sliders go along
  add_sliders(in_sight, board);
  add_setting(in_sight, board);
  pugi::xml_node both = add_element(in_sight, "div", "", "pair");
  for (std::size_t p = 0; p < board.panels.size(); ++p)
    add_panel(both, board, p, audit.settings);
  add_prompts(body);
  add_notes(body, audit, board);
  page.add_script(data_script(board));
  page.add_script(slider_page_script());
  return page.text();
}

} // namespace eggfall
