#include "report/farmer_words.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "judgement/decide_standing.hpp"
#include "report/farmer_part.hpp"
#include "support/invented_trials.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

/// A paired fall with limits, that was found to be failing.
GroupAnalysis fallen_by(double fall, std::optional<std::pair<double, double>> limits = {},
                        Design design = Design::paired) {
  GroupAnalysis group;
  group.evidence.design = design;
  group.evidence.reduction = fall;
  if (limits) {
    group.evidence.headline.lower = limits->first;
    group.evidence.headline.upper = limits->second;
  }
  group.judgement.standing.verdict_class = VerdictClass::resistant;
  group.judgement.standing.sign = DrenchSign::failing;
  return group;
}

/// How many eggs were left, how sure that is and what that means.
std::string words(const GroupAnalysis& group) {
  return farmer_sentences(group);
}

std::string meaning(DrenchSign sign, VerdictClass verdict_class,
                    std::vector<WormAnalysis> worms = {}) {
  GroupAnalysis group = fallen_by(0.92, {{0.85, 0.96}});
  group.judgement.standing.verdict_class = verdict_class;
  group.judgement.standing.sign = sign;
  group.judgement.worms = std::move(worms);
  const std::string text = words(group);
  const std::string start = "Of every 100 worm eggs before the drench, about 8 were left after it. "
                            "Allowing for luck, it may be 4 to 15. ";
  REQUIRE(text.starts_with(start));
  return text.substr(start.size());
}

GroupAnalysis judged_by(std::optional<double> expected, std::optional<double> lower) {
  GroupAnalysis group;
  Verdict verdict;
  verdict.criteria_title = "Valley 2030";
  verdict.expected = expected;
  verdict.lower = lower;
  group.judgement.verdicts = {verdict};
  return group;
}

TrialAnalysis trial_of(std::vector<GroupAnalysis> groups) {
  TrialAnalysis trial;
  trial.groups = std::move(groups);
  return trial;
}

} // namespace

TEST_CASE("Each sign has its own few words") {
  CHECK(sign_words(DrenchSign::works) == "Works");
  CHECK(sign_words(DrenchSign::works_with_care) == "Works, but take care");
  CHECK(sign_words(DrenchSign::some_survive) == "Some worms live on");
  CHECK(sign_words(DrenchSign::may_fail) == "May be failing");
  CHECK(sign_words(DrenchSign::failing) == "Failing");
  CHECK(sign_words(DrenchSign::cannot_tell) == "Can't tell yet");
}

TEST_CASE("Signs are drawings of 24 by 24 units, named by their words and told apart by shape") {
  std::set<std::string> shapes;
  for (const DrenchSign sign : all_drench_signs) {
    pugi::xml_document drawing;
    REQUIRE(drawing.load_string(sign_drawing(sign).c_str()));
    pugi::xml_node svg = drawing.child("svg");
    CHECK(std::string(svg.attribute("viewBox").value()) == "0 0 24 24");
    CHECK(std::string(svg.child("title").text().get()) == sign_words(sign));
    svg.remove_child("title");
    std::ostringstream shape;
    for (const pugi::xml_node child : svg.children())
      child.print(shape);
    shapes.insert(shape.str());
  }
  // Some that live on and some that may are drawn alike.
  CHECK(shapes.size() == all_drench_signs.size() - 1);
}

TEST_CASE("Eggs left are told in the words of the design") {
  const auto first_sentence = [](Design design) {
    const std::string text = words(fallen_by(0.92, {}, design));
    return text.substr(0, text.find(". ") + 1);
  };
  CHECK(first_sentence(Design::paired) ==
        "Of every 100 worm eggs before the drench, about 8 were left after it.");
  const std::string untreated =
      "For every 100 worm eggs in untreated animals, the treated ones had about 8.";
  CHECK(first_sentence(Design::two_group) == untreated);
  CHECK(first_sentence(Design::baseline) == untreated);
  CHECK(first_sentence(Design::controlled) ==
        "Set against the untreated animals, about 8 of every 100 worm eggs were left after the "
        "drench.");
}

TEST_CASE("What luck leaves open is told in whole eggs, and never as none") {
  // Eggs left of 100 are 100 less the fall in percent, so limits change places.
  CHECK(words(fallen_by(0.97, {{0.95, 0.998}})) ==
        "Of every 100 worm eggs before the drench, about 3 were left after it. Allowing for luck, "
        "it may be anything up to 5. That is too many.");
  CHECK(words(fallen_by(0.998, {{0.996, 0.999}})) ==
        "Of every 100 worm eggs before the drench, fewer than 1 was left after it. Allowing for "
        "luck, it is still fewer than 1. That is too many.");
  CHECK(words(fallen_by(0.92, {{0.92, 0.92}})) ==
        "Of every 100 worm eggs before the drench, about 8 were left after it. Luck can hardly "
        "have changed that. That is too many.");
  CHECK(words(fallen_by(1, {{0.98, 1}})) ==
        "No worm egg was found after the drench. Allowing for luck, up to 2 of every 100 may be "
        "left. That is too many.");
  CHECK(words(fallen_by(1, {{0.998, 1}}, Design::two_group)) ==
        "No worm egg was found in the treated animals. Allowing for luck, fewer than 1 of every "
        "100 may be left. That is too many.");
}

TEST_CASE("More eggs than before is told as such") {
  CHECK(words(fallen_by(-0.5, {{-1, -0.2}})) ==
        "There were more worm eggs after the drench than before: 150 for every 100. Allowing for "
        "luck, it may be 120 to 200. That is too many.");
  CHECK(words(fallen_by(-0.5, {}, Design::two_group)) ==
        "The treated animals had more worm eggs than the untreated: 150 for every 100. How sure "
        "that is cannot be worked out. That is too many.");
}

TEST_CASE("Without a fall the test says nothing") {
  CHECK(farmer_sentences({}) ==
        "Nothing could be compared, so this test says nothing of the drench.");
}

TEST_CASE("What a result means is told by its sign") {
  using enum VerdictClass;
  CHECK(meaning(DrenchSign::works, susceptible) == "That is what a drench that works does.");
  CHECK(meaning(DrenchSign::works_with_care, susceptible) ==
        "That is enough for the rule, but there is a reason for care.");
  CHECK(meaning(DrenchSign::some_survive, low_resistant) ==
        "Most worms die, but more live on than should.");
  CHECK(meaning(DrenchSign::may_fail, suspected) == "That may be too many.");
  CHECK(meaning(DrenchSign::failing, resistant) == "That is too many.");
  CHECK(meaning(DrenchSign::cannot_tell, inconclusive) ==
        "A drench that works could give this, and so could one that fails.");
  CHECK(meaning(DrenchSign::cannot_tell, not_applicable) ==
        "No rule at hand says if that is enough.");
}

TEST_CASE("The farmer reads the first bar in plain words, and no class behind it") {
  GroupAnalysis group = fallen_by(0.92, {{0.85, 0.96}});
  const auto barred_by = [&](BarCode code, const std::string& plain) {
    Judgement judgement;
    judgement.verdicts.emplace_back();
    judgement.first_verdict().verdict_class = VerdictClass::susceptible;
    group.judgement.standing = standing_of(judgement, {}, {{code, "for the vet", plain, "next"}});
    return words(group);
  };
  CHECK_THAT(
      barred_by(BarCode::day, "The second sample was taken too late, on day 42."),
      Catch::StartsWith("The second sample was taken too late, on day 42. So this test cannot "
                        "tell if the drench works. The counts alone, which do not decide here: of "
                        "every 100 worm eggs") &&
          Catch::EndsWith("it may be 4 to 15."));
  CHECK(standing_words(group.judgement.standing) == "Can't tell yet");
  CHECK_THAT(barred_by(BarCode::surviving_worm, "It fails against haemonchus."),
             Catch::StartsWith("It fails against haemonchus. Of the worms that were counted "
                               "together: of every 100 worm eggs") &&
                 Catch::EndsWith("it may be 4 to 15."));
  CHECK(standing_words(group.judgement.standing) == "Fails against haemonchus");
  group.judgement.standing = {};
  group.judgement.standing.provided = "it rained";
  CHECK_THAT(words(group), Catch::EndsWith(" This holds if it rained."));
}

TEST_CASE("A drench that fails once the season is taken out is called failing, by its own eggs") {
  // Found by looking at a page: the sign said failing, and the words that the test cannot tell.
  GroupAnalysis group = fallen_by(0.954, {{0.929, 0.975}});
  OwnFall own;
  own.verdict.verdict_class = VerdictClass::resistant;
  own.verdict.reduction = 0.88;
  own.verdict.interval.emplace();
  own.verdict.interval->lower = 0.80;
  own.verdict.interval->upper = 0.94;
  group.judgement.own_fall = own;
  Bar bar{BarCode::control, "for the vet", "Untreated animals fell too.", "next"};
  bar.own_verdict = VerdictClass::resistant;
  Judgement judgement;
  judgement.verdicts.emplace_back();
  judgement.first_verdict().verdict_class = VerdictClass::susceptible;
  judgement.own_fall = own;
  group.judgement.standing = standing_of(judgement, {}, {bar});
  CHECK(words(group) ==
        "Set against the untreated animals, about 12 of every 100 worm eggs were left after the "
        "drench. Allowing for luck, it may be 6 to 20. That is too many. Untreated animals fell "
        "too.");
  CHECK(standing_words(group.judgement.standing) == "Failing");
}

TEST_CASE("The limits of the trays are named where all groups are judged by the same") {
  const std::string luck =
      "The range that allows for luck is made to hold the truth 90 times in 100.";
  CHECK(limits_words(trial_of({judged_by(0.95, 0.9), judged_by(0.95, 0.9)})) ==
        "The limits in the trays are those of Valley 2030. " + luck);
  GroupAnalysis other = judged_by(0.99, 0.95);
  other.judgement.verdicts.front().criteria_title = "Hill 2031";
  CHECK(limits_words(trial_of({judged_by(0.95, 0.9), other})) ==
        "The limits in the trays are those of the rules that each drench is judged by. " + luck);
  CHECK(limits_words(trial_of({judged_by({}, {})})) == luck);
  // 100 less 95 and 90: arithmetic.
  CHECK(good_words(0.95, 100) == "\u2190 good: up to 5");
  CHECK(too_many_words(0.9, 100) == "too many: over 10 \u2192");
}

TEST_CASE("The tray tells its three numbers, and what luck allows where no egg was found") {
  CHECK(tray_numbers({33, 28, 44}) == "about 33 of 100 left; could be 28 to 44");
  CHECK(tray_numbers({33, std::nullopt, std::nullopt}) == "about 33 of 100 left");
  CHECK(tray_numbers({2, 0.3, 6}) == "about 2 of 100 left; could be up to 6");
  // A limit is never rounded inward, and "fewer" is said only where that is all that is left.
  CHECK(tray_numbers({1.2, 0.2, 1.4}) == "about 1 of 100 left; could be up to 2");
  CHECK(tray_numbers({3.6, 0.5, 4}) == "about 4 of 100 left; could be fewer");
  CHECK(tray_numbers({33, 27.6, 44.2}) == "about 33 of 100 left; could be 27 to 45");
  CHECK(range_in_short({1.2, 0.2, 1.4}) == "up to 2");
  CHECK(tray_numbers({0.3, 0.1, 0.45}) == "fewer than 1 of 100 left");
  CHECK(tray_numbers({0, 0, 4.2}) == "no egg found; could be up to 5 of 100");
  CHECK(tray_numbers({0, 0, 0.3}) == "no egg found; could be fewer than 1 of 100");
  CHECK(tray_numbers({0, std::nullopt, std::nullopt}) == "no egg found");
  CHECK(tray_numbers({167, 120, 230}) == "167 for every 100; could be 120 to 230");
  CHECK(tray_numbers({167, 120, 2'300}) == "167 for every 100; could be 120 to over 999");
  CHECK(tray_numbers({33e3, 120, 230e9}) == "over 999 for every 100");
}

TEST_CASE("The short reason is the bar's or the care's where there is one, and else the numbers") {
  GroupAnalysis group = judged_by(0.95, 0.9);
  group.evidence.reduction = 0.97;
  group.evidence.headline.lower = 0.94;
  group.evidence.headline.upper = 0.99;
  group.judgement.standing.sign = DrenchSign::works;
  // Only of strongyles of ruminants would a culture tell more.
  group.evidence.group.host = "horses";
  group.evidence.group.worm = "strongyles";
  CHECK(short_reason(group) == "about 3 of 100 left; could be 1 to 6");
  group.evidence.group.host = "sheep";
  CHECK(short_reason(group) == "about 3 of 100 left; could be 1 to 6");
  group.evidence.group.worm.clear();
  CHECK(short_reason(group) == "about 3 of 100 left; could be 1 to 6; worm kinds not told apart");
  // What a class takes for granted is never left out.
  group.judgement.standing.provided = "the second sample was taken on day 8 to 10";
  CHECK(short_reason(group) ==
        "about 3 of 100 left; could be 1 to 6; worm kinds not told apart; holds with an if, see "
        "below");
  group.judgement.standing.care = Care::stricter_rule;
  CHECK(short_reason(group) == "a stricter rule calls it failing");
  // A drench that fails where doses were short is not called so without that word.
  group.judgement.standing = {};
  group.judgement.standing.sign = DrenchSign::failing;
  group.field.doses.under = {0};
  CHECK(short_reason(group) == "about 3 of 100 left; could be 1 to 6; some doses were short");
  std::set<std::string> reasons;
  for (const BarCode code : all_bar_codes) {
    Bar bar;
    bar.code = code;
    group.judgement.standing.bars = {bar};
    reasons.insert(short_reason(group));
  }
  CHECK(reasons.size() == all_bar_codes.size());
  for (const Care care : all_cares) {
    group.judgement.standing.bars.clear();
    group.judgement.standing.care = care;
    CHECK_FALSE(short_reason(group).empty());
  }
  group.judgement.standing = {};
  group.evidence.reduction.reset();
  CHECK(short_reason(group) == "nothing could be compared");
}

TEST_CASE("What farmers read of invented trials names no method") {
  AnalysisSettings settings;
  settings.simulations = 1;
  std::set<CaveatCode> serious;
  const auto check = [&](const Trial& trial) {
    const TrialAnalysis analysis = analyse(trial, published_cut_offs(), settings);
    pugi::xml_document page;
    add_farmer_part(page, analysis);
    std::string words = lower_case(support::words_of(page.first_child()));
    for (const GroupAnalysis& group : analysis.groups)
      for (const Caveat& caveat : group.caveats)
        if (caveat.severity == Severity::serious) { // the page shows two of them
          serious.insert(caveat.code);
          words += lower_case(caveat.text);
        }
    CAPTURE(trial.name, words);
    for (const char* method : {"posterior", "bootstrap", "logarithm", "prior"})
      CHECK(words.find(method) == std::string::npos);
  };
  for (const std::size_t animals : {2, 4, 8})
    for (const Trial& trial : read_trials(invented_trials(60, animals, animals), "t", {}).trials)
      check(trial);
  // Two of 14 untouched, nothing before, nothing to compare with by the rule of 1992.
  const auto invented = [](const std::vector<std::uint32_t>& before,
                           const std::vector<std::uint32_t>& after) {
    return Trial{"invented", {support::group("T", before, after, 15, 15)}};
  };
  check(invented({40, 25, 60, 33, 18, 52, 44, 29, 61, 37, 22, 48, 35, 50},
                 {0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 40, 55}));
  check(invented({0, 0, 0}, {1, 2, 3}));
  check(invented({}, {1, 2, 3}));
  settings.criteria = "waavp-1992";
  check(invented({40, 25, 60, 33}, {0, 0, 0, 0}));
  CHECK(serious.contains(CaveatCode::animals_differ));
  CHECK(serious.contains(CaveatCode::few_eggs_counted));
  CHECK(serious.contains(CaveatCode::detection_limit));
  CHECK(serious.contains(CaveatCode::no_estimate));
}

TEST_CASE("Untreated animals are told by what they had at the second sample") {
  ControlAnalysis control;
  CHECK(control_sentences(control) == "Some animals were left untreated, to compare with.");
  control.reduction = -0.28;
  CHECK(control_sentences(control) ==
        "Untreated animals had 128 eggs at the second sample for every 100 at the first: that is "
        "what season, feed and luck do without a drench.");
  control.reduction = 0.4;
  CHECK(control_sentences(control).starts_with("Untreated animals had 60 eggs "));
}

TEST_CASE("Where fewer than one egg of 100 is good, eggs are told of 1,000") {
  // Horses: 0.1 of 100 left is 1 of 1,000, and 96% is 40 of them: arithmetic.
  GroupAnalysis group = fallen_by(0.999, {{0.9962, 0.9999}});
  Verdict verdict;
  verdict.expected = 0.999;
  verdict.lower = 0.96;
  group.judgement.verdicts = {verdict};
  const auto left = eggs_left(group.evidence, group.judgement);
  REQUIRE(left);
  CHECK(left->told_of == 1000);
  CHECK(tray_numbers(*left) == "about 1 of 1,000 left; could be up to 4");
  CHECK(found_in_short(*left) == "about 1 of 1,000");
  CHECK(fall_sentences(group) ==
        "Of every 1,000 worm eggs before the drench, about 1 was left after it. Allowing for luck, "
        "it may be anything up to 4.");
  CHECK(good_words(0.999, 1000) == "\u2190 good: up to 1 of 1,000");
  CHECK(too_many_words(0.96, 1000) == "too many: over 40 of 1,000 \u2192");
  group.judgement.verdicts.front().expected = 0.99;
  CHECK(eggs_left(group.evidence, group.judgement)->told_of == 100);
}

TEST_CASE("A result that leans to failing is not told as one that says nothing") {
  GroupAnalysis group = fallen_by(0.88, {{0.7, 0.96}});
  group.judgement.standing.verdict_class = VerdictClass::inconclusive;
  group.judgement.standing.sign = DrenchSign::cannot_tell;
  CHECK(standing_words(group.judgement.standing) == "Can't tell yet");
  group.judgement.standing.leaning = Leaning::failing;
  CHECK(standing_words(group.judgement.standing) == "Can't tell yet, looks poor");
  CHECK_THAT(sign_sentence(group),
             Catch::EndsWith("one that does less than it should is likelier."));
}

TEST_CASE("A farmer is told of missing animals that could change the answer, once") {
  GroupAnalysis group = fallen_by(0.88, {{0.7, 0.96}});
  group.caveats = {{CaveatCode::missing_after, "long words", Severity::warning}};
  REQUIRE(caveats_for_farmer(group).size() == 1);
  CHECK(caveat_in_short(*caveats_for_farmer(group).front()) ==
        "Not every animal was found again, and what became of the missing could change this "
        "answer.");
  group.judgement.standing.care = Care::missing_after; // which says so already
  CHECK(caveats_for_farmer(group).empty());
  group.judgement.standing.care.reset();
  group.caveats.front().severity = Severity::note; // no class hangs on them
  CHECK(caveats_for_farmer(group).empty());
}
