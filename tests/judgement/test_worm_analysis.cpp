#include "judgement/worm_analysis.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "judgement/advise.hpp"
#include "judgement/decide_standing.hpp"
#include "support/support.hpp"
#include "trial/egg_kinds.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

using namespace eggfall;

namespace {

/// 15 lambs, 600 eggs before and 12 after: 98% in all.
Group mixed_infection() {
  Group group = support::group("white", {40, 55, 12, 80, 31, 22, 64, 18, 47, 39, 25, 71, 9, 36, 51},
                               {1, 1, 0, 2, 0, 0, 2, 0, 1, 1, 0, 2, 0, 1, 1});
  group.culture_before = {{"haemonchus", 6}, {"teladorsagia", 64}, {"trichostrongylus", 30}};
  group.culture_after = {{"haemonchus", 95}, {"teladorsagia", 3}, {"trichostrongylus", 2}};
  return group;
}

GroupAnalysis analysed(const Group& group) {
  AnalysisSettings settings;
  settings.simulations = 0;
  return analyse({"t", {group}}, published_cut_offs(), settings).groups.front();
}

const Caveat* find(const std::vector<Caveat>& caveats, CaveatCode code) {
  const auto found = std::ranges::find(caveats, code, &Caveat::code);
  return found == caveats.end() ? nullptr : &*found;
}

/// The advice on a result as it now is.
std::string next_step(GroupAnalysis group) {
  group.judgement.standing =
      standing_of(group.judgement, group.caveats, group.judgement.standing.bars);
  return advise(group.evidence, group.field, group.judgement, group.caveats, group.course)
      .next_step.text();
}

} // namespace

TEST_CASE("A worm that survives is shown behind a total that passes") {
  // The situation of McKenna 1997, New Zealand Veterinary Journal 45:244-246; the counts are
  // invented.
  const GroupAnalysis group = analysed(mixed_infection());
  CHECK(group.judgement.first_verdict().verdict_class == VerdictClass::susceptible);
  REQUIRE(group.judgement.worms.size() == 3);
  const WormAnalysis& haemonchus = group.judgement.worms[0];
  // 1 - (12/600)(95/100)/(6/100)
  CHECK_THAT(*haemonchus.evidence.reduction, support::close_to(1 - 0.02 * 0.95 / 0.06));
  CHECK(haemonchus.judgement.first_verdict().verdict_class == VerdictClass::resistant);
  CHECK(survives(haemonchus));
  CHECK(group.judgement.worms[1].judgement.first_verdict().verdict_class ==
        VerdictClass::susceptible);
  REQUIRE(find(group.caveats, CaveatCode::worm_survives) != nullptr);
  CHECK(find(group.caveats, CaveatCode::worm_survives)->severity == Severity::serious);
  CHECK_THAT(find(group.caveats, CaveatCode::worm_survives)->text,
             Catch::StartsWith("haemonchus survives this drench, whatever the counts of all worms "
                               "together say: 6 of 100 larvae were of this worm before treatment, "
                               "and 95 of 100 after treatment; its own fall is "));
  CHECK_THAT(next_step(group), Catch::StartsWith("Do not count on this drench against haemonchus"));

  // Not judged by a criterion that demands an interval of its own.
  const std::vector<Verdict>& verdicts = haemonchus.judgement.verdicts;
  const auto of_1992 = std::ranges::find(verdicts, "waavp-1992", &Verdict::criteria);
  REQUIRE(of_1992 != verdicts.end());
  CHECK(of_1992->verdict_class == VerdictClass::not_applicable);
  CHECK_THAT(of_1992->reason, Catch::Contains("it makes no use of larvae"));
  const std::string screen = analysis_summary(
      analyse({"t", {mixed_infection()}}, published_cut_offs(), {}), Verbosity::brief);
  CHECK_THAT(screen, Catch::Contains("RESISTANT: HAEMONCHUS\n") && Catch::Contains("6/100"));
}

TEST_CASE("A worm that may survive keeps a total that passes from being trusted") {
  Group group = mixed_infection();
  // 1 - 0.02 (25/100)/(6/100) = 91.7%, from few larvae.
  group.culture_after = {{"haemonchus", 25}, {"teladorsagia", 55}, {"trichostrongylus", 20}};
  const GroupAnalysis analysis = analysed(group);
  const WormAnalysis& haemonchus = analysis.judgement.worms.front();
  CHECK_THAT(*haemonchus.evidence.reduction, support::close_to(1 - 0.02 * 0.25 / 0.06));
  CHECK(haemonchus.judgement.first_verdict().verdict_class == VerdictClass::inconclusive);
  CHECK(may_survive(haemonchus));
  CHECK_FALSE(survives(haemonchus));
  REQUIRE(find(analysis.caveats, CaveatCode::worm_in_doubt) != nullptr);
  CHECK_THAT(find(analysis.caveats, CaveatCode::worm_in_doubt)->text,
             Catch::StartsWith("haemonchus may survive, though all worms together fall far enough: "
                               "its own fall is 91.7%, but anything from "));
  CHECK_THAT(next_step(analysis),
             Catch::StartsWith("The rule is met by all worms together, but do not count on this "
                               "drench against haemonchus until"));
}

TEST_CASE("A worm whose class a bar took away is told with the bar, and what lifts it") {
  Group group = mixed_infection();
  for (std::size_t i = 0; i < group.animals.size(); ++i) {
    group.animals[i].weight_kg = 40;
    group.animals[i].label_ml_per_kg = 0.2;
    group.animals[i].dose_ml = i < 4 ? 8 : 4; // enough in four alone
  }
  AnalysisSettings settings;
  settings.simulations = 0;
  const TrialAnalysis trial = analyse({"t", {group}}, published_cut_offs(), settings);
  const GroupAnalysis& analysis = trial.groups.front();
  const WormAnalysis& haemonchus = analysis.judgement.worms.front();
  CHECK(analysis.judgement.standing.bars.empty());
  REQUIRE(haemonchus.judgement.standing.bars.size() == 1);
  const Bar& bar = haemonchus.judgement.standing.bars.front();
  CHECK(bar.code == BarCode::dose);
  CHECK(analysis.advice.next_step.text() ==
        "The rule is met by all worms together, but do not count on this drench against haemonchus "
        "yet. Give each animal the label's dose for its weight, and test again. Check counts after "
        "each "
        "use.");
  CHECK_THAT(find(analysis.caveats, CaveatCode::worm_in_doubt)->text,
             Catch::EndsWith("11 animals got too little of the drench, which may be the whole "
                             "reason."));
  CHECK_THAT(analysis_summary(trial, Verbosity::brief),
             Catch::Contains("- haemonchus: 11 animals got less than 90% of the label's dose"));
  const std::string page = analysis_report({trial}, {}, {});
  CHECK_THAT(page, Catch::Contains("Haemonchus: 11 animals got less than 90% of the label"));
  CHECK_THAT(page, Catch::Contains("11 animals got too little of the drench, which may be the"));
}

TEST_CASE("The places of drenches say which worms they hide") {
  Group other = mixed_infection();
  other.name = "yellow";
  other.culture_after = {{"teladorsagia", 60}, {"trichostrongylus", 40}};
  CHECK_THAT(analysis_summary(analyse({"t", {mixed_infection(), other}}, published_cut_offs(), {}),
                              Verbosity::brief),
             Catch::Contains("haemonchus survives white."));
}

TEST_CASE("What few or missing larvae leave unknown is said") {
  Group group = mixed_infection();
  const auto after = support::counts({8, 9, 2, 13, 5, 4, 11, 3, 8, 6, 4, 12, 2, 6, 7}, 1);
  for (std::size_t i = 0; i < after.size(); ++i)
    group.animals[i].after = after[i];
  group.culture_before = {{"haemonchus", 1}, {"teladorsagia", 30}};
  group.culture_after = {{"haemonchus", 0}, {"teladorsagia", 40}, {"cooperia", 3}};
  const GroupAnalysis analysis = analysed(group);
  REQUIRE(analysis.judgement.worms.size() == 3);
  const Caveat* few = find(analysis.judgement.worms[0].caveats, CaveatCode::few_larvae);
  REQUIRE(few != nullptr);
  CHECK(few->severity == Severity::serious);
  CHECK_THAT(few->text, Catch::StartsWith("1 of 31 larvae before treatment were haemonchus: had "
                                          "none been found after treatment, its lower limit would "
                                          "be no more than "));
  // 1 - 0.05^(1/43) = 6.7%: Hanley & Lippman-Hand 1983, without the rule's rounding to 3/n.
  REQUIRE(find(analysis.judgement.worms[0].caveats, CaveatCode::worm_absent_after) != nullptr);
  CHECK_THAT(find(analysis.judgement.worms[0].caveats, CaveatCode::worm_absent_after)->text,
             Catch::Contains("6.7%"));
  CHECK(find(analysis.judgement.worms[1].caveats, CaveatCode::few_larvae)->severity ==
        Severity::warning);
  REQUIRE(find(analysis.judgement.worms[2].caveats, CaveatCode::worm_absent_before) != nullptr);
  CHECK_FALSE(analysis.judgement.worms[2].evidence.reduction);
  // All that is known of it is a limit that is too high to show anything.
  CHECK(analysis.judgement.worms[2].evidence.headline.has_one_limit());
  CHECK(analysis.judgement.worms[2].judgement.first_verdict().verdict_class ==
        VerdictClass::inconclusive);

  group.culture_after = {};
  const GroupAnalysis none_after = analysed(group);
  CHECK_THAT(find(none_after.judgement.worms[0].caveats, CaveatCode::no_larvae)->text,
             Catch::StartsWith("No larvae were told apart after treatment"));
}

TEST_CASE("In a controlled trial few larvae are those of the treated group") {
  // Before this was mended the control's larvae before were set to 0 as well, so that the best
  // lower limit was far too high and the caveat never came.
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.design = Design::controlled;
  Group group = mixed_infection();
  const auto after = support::counts({8, 9, 2, 13, 5, 4, 11, 3, 8, 6, 4, 12, 2, 6, 7}, 1);
  for (std::size_t i = 0; i < after.size(); ++i)
    group.animals[i].after = after[i];
  group.culture_before = {{"haemonchus", 1}, {"teladorsagia", 30}};
  group.culture_after = {{"haemonchus", 0}, {"teladorsagia", 40}};
  Group control = mixed_infection();
  control.name = "control";
  control.role = Role::control;
  for (Animal& animal : control.animals)
    animal.after = animal.before;
  control.culture_before = {{"haemonchus", 10}, {"teladorsagia", 90}};
  control.culture_after = {{"haemonchus", 10}, {"teladorsagia", 90}};
  const auto worms = [&] {
    return analyse({"t", {group, control}}, published_cut_offs(), settings)
        .groups.front()
        .judgement.worms;
  };
  REQUIRE(find(worms()[0].caveats, CaveatCode::few_larvae) != nullptr);
  CHECK_THAT(find(worms()[0].caveats, CaveatCode::few_larvae)->text,
             Catch::StartsWith("1 of 31 larvae before treatment were haemonchus"));
  control.culture_before = {};
  CHECK(find(worms()[0].caveats, CaveatCode::no_larvae) == nullptr);
  CHECK(worms()[0].evidence.larvae->stand_in->place == "in the control group after treatment");
}

TEST_CASE("Larvae that hatched where no egg was counted refute a fall of 100%") {
  Group group = mixed_infection();
  for (Animal& animal : group.animals)
    animal.after->eggs = EggsSeen(0);
  group.culture_after = {{"teladorsagia", 12}, {"haemonchus", 0}};
  const GroupAnalysis analysis = analysed(group);
  REQUIRE(find(analysis.caveats, CaveatCode::larvae_without_eggs) != nullptr);
  CHECK(find(analysis.caveats, CaveatCode::larvae_without_eggs)->severity == Severity::serious);
  CHECK_THAT(find(analysis.caveats, CaveatCode::larvae_without_eggs)->text,
             Catch::StartsWith("No egg was counted after treatment, yet 12 larvae hatched"));
  CHECK_THAT(next_step(analysis),
             Catch::StartsWith("The rule is met, but larvae hatched where no egg was counted"));
  CHECK(find(analysis.judgement.worms[0].caveats, CaveatCode::worm_absent_after) ==
        nullptr); // of which eggs?
  group.culture_after = {};
  CHECK(find(analysed(group).caveats, CaveatCode::larvae_without_eggs) == nullptr);
}

TEST_CASE("Worms are judged by the first criterion that can") {
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.criteria = "waavp-1992";
  const TrialAnalysis trial = analyse({"t", {mixed_infection()}}, published_cut_offs(), settings);
  const WormAnalysis& haemonchus = trial.groups.front().judgement.worms.front();
  CHECK(haemonchus.judgement.first_verdict().verdict_class == VerdictClass::not_applicable);
  CHECK(verdict_of(haemonchus).criteria == "waavp-2023-clinical");
  CHECK(verdict_of(haemonchus).design == Design::paired);
  CHECK(survives(haemonchus));
  CHECK_THAT(analysis_summary(trial, Verbosity::brief),
             Catch::Contains("Worms are judged by\n            WAAVP 2023, clinical: WAAVP 1992 "
                             "cannot judge them all."));
}

TEST_CASE("A worm found after treatment only has survived if all eggs left are its") {
  Group group = mixed_infection();
  const auto after = support::counts({8, 9, 2, 13, 5, 4, 11, 3, 8, 6, 4, 12, 2, 6, 7}, 1);
  for (std::size_t i = 0; i < after.size(); ++i)
    group.animals[i].after = after[i];
  group.culture_before = {{"teladorsagia", 100}};
  group.culture_after = {{"cooperia", 100}};
  const GroupAnalysis analysis = analysed(group);
  REQUIRE(analysis.judgement.first_verdict().verdict_class == VerdictClass::resistant);
  CHECK_THAT(next_step(analysis), Catch::EndsWith("What survived was cooperia."));
  CHECK_THAT(find(analysis.judgement.worms[1].caveats, CaveatCode::worm_absent_before)->text,
             Catch::Contains("; but 100 of 100 after treatment were: it survives. Had all eggs "
                             "before treatment been its own, it would be at most "));
  group.culture_after = {{"cooperia", 4}, {"teladorsagia", 96}};
  const GroupAnalysis in_doubt = analysed(group);
  CHECK_THAT(next_step(in_doubt), Catch::EndsWith("What survived was teladorsagia; cooperia may "
                                                  "have, too."));
  CHECK_THAT(find(in_doubt.judgement.worms[1].caveats, CaveatCode::worm_absent_before)->text,
             Catch::Contains("; but 4 of 100 after treatment were: it may survive. Had all eggs "));
  group.culture_before = {};
  for (const char* worm : {"a", "b", "c", "d", "e", "f"})
    group.culture_before.worms.push_back({worm, 20});
  group.culture_after = group.culture_before;
  CHECK_THAT(next_step(analysed(group)), Catch::EndsWith("What survived was a, b, c and 3 more."));
}

TEST_CASE("Larvae of a worm whose eggs are counted apart split no other eggs") {
  Group group = mixed_infection();
  const GroupAnalysis plain = analysed(group);
  for (Animal& animal : group.animals)
    animal.kinds["nematodirus"] = {Count{EggsSeen(0), MultiplicationFactor(1)},
                                   Count{EggsSeen(32), MultiplicationFactor(1)}};
  group.culture_before.worms.push_back({"nematodirus", 50});
  group.culture_after.worms.push_back({"nematodirus", 100});
  const GroupAnalysis analysis = analysed(group);
  REQUIRE(analysis.judgement.worms.size() == 4);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(analysis.judgement.worms[i].evidence.reduction ==
          plain.judgement.worms[i].evidence.reduction);
    CHECK(analysis.judgement.worms[i].evidence.headline.lower ==
          plain.judgement.worms[i].evidence.headline.lower);
  }
  CHECK(analysis.judgement.worms[3].source == WormSource::eggs_told_apart);
  REQUIRE(find(analysis.caveats, CaveatCode::larvae_left_out) != nullptr);
  CHECK_THAT(find(analysis.caveats, CaveatCode::larvae_left_out)->text,
             Catch::StartsWith("Larvae of nematodirus are left out of the cultures"));
}

TEST_CASE("Eggs that only came after treatment stand in the heading and no total hides them") {
  Group group = support::group("T", {40, 55, 32, 80, 31, 44, 25, 38}, {0, 0, 0, 0, 0, 0, 0, 0});
  for (Animal& animal : group.animals)
    animal.kinds["nematodirus"] = {Count{EggsSeen(0), MultiplicationFactor(1)},
                                   Count{EggsSeen(60), MultiplicationFactor(1)}};
  AnalysisSettings settings;
  settings.simulations = 0;
  const TrialAnalysis trial = analyse({"t", {group}}, published_cut_offs(), settings);
  const std::string screen = analysis_summary(trial, Verbosity::full);
  CHECK_THAT(screen, Catch::Contains("SUSCEPTIBLE, NEMATODIRUS IN DOUBT\n") &&
                         Catch::Contains("(nematodirus apart) was found after treatment") &&
                         !Catch::Contains("all worms together"));
  CHECK_THAT(next_step(trial.groups.front()),
             Catch::StartsWith("The rule is met by the other worms, but do not count on this "
                               "drench against nematodirus until"));
  // Nor where there is no fall of the others to judge.
  for (Animal& animal : group.animals)
    animal.before->eggs = EggsSeen(0);
  for (Animal& animal : group.animals)
    animal.kinds["nematodirus"].before = Count{EggsSeen(40), MultiplicationFactor(1)};
  CHECK(find(analysed(group).caveats, CaveatCode::worm_survives) != nullptr);
}

TEST_CASE("Eggs told apart on the slide are counted directly") {
  Group group = support::group("T", {40, 55, 32, 80, 31}, {0, 0, 1, 0, 0});
  const std::vector<std::uint32_t> before{10, 0, 25, 30, 5};
  const std::vector<std::uint32_t> after{6, 0, 20, 15, 4};
  for (std::size_t i = 0; i < before.size(); ++i)
    group.animals[i].kinds["nematodirus"] = {support::counts(before, 1)[i],
                                             support::counts(after, 1)[i]};
  CHECK(kinds_told_apart(group) == std::vector<std::string>{"nematodirus"});
  const GroupAnalysis analysis = analysed(group);
  CHECK_THAT(*analysis.evidence.reduction, support::close_to(1 - 1.0 / 238));
  REQUIRE(analysis.judgement.worms.size() == 1);
  const WormAnalysis& nematodirus = analysis.judgement.worms.front();
  CHECK(nematodirus.source == WormSource::eggs_told_apart);
  CHECK(found_before(nematodirus).eggs == 70);
  CHECK(found_after(nematodirus).eggs == 45);
  CHECK_THAT(*nematodirus.evidence.reduction, support::close_to(1 - 45.0 / 70));
  CHECK(survives(nematodirus));

  // The same numbers as a table of these eggs alone gives, but for the bootstrap's resamples.
  const GroupAnalysis alone = analysed(support::group("T", before, after));
  CHECK(nematodirus.evidence.headline.lower == alone.evidence.headline.lower);
  CHECK(nematodirus.evidence.headline.upper == alone.evidence.headline.upper);

  const nlohmann::json json =
      nlohmann::json::parse(analysis_json({analyse({"t", {group}}, published_cut_offs(), {})}, {}));
  const auto& worm = json["trials"][0]["groups"][0]["worms"][0];
  CHECK(worm["worm"] == "nematodirus");
  CHECK(worm["told_by"] == "eggs-told-apart");
  CHECK(worm["eggs_after"] == 45);
  CHECK(worm["larvae_before"].is_null());
  CHECK_THAT(analysis_csv({analyse({"t", {group}}, published_cut_offs(), {})}),
             Catch::Contains("T,paired,5,70,45,14,9,") && Catch::Contains(",nematodirus,"));
}

namespace {

/// 600 eggs before and 300 after: half of all are left.
Group half_left() {
  Group group = mixed_infection();
  for (Animal& animal : group.animals)
    animal.after->eggs = EggsSeen(animal.before->eggs.value() / 2);
  return group;
}

} // namespace

TEST_CASE("A culture after treatment alone can show that a worm survives, and nothing better") {
  Group group = half_left();
  group.culture_before = {};
  group.culture_after = {{"haemonchus", 80}, {"cooperia", 20}};
  const GroupAnalysis analysis = analysed(group);
  const WormAnalysis& haemonchus = analysis.judgement.worms.front();
  CHECK_FALSE(haemonchus.evidence.reduction);
  REQUIRE(haemonchus.evidence.headline.has_one_limit());
  // Half of the eggs are left, and four fifths of them are its: it falls by 60% at most.
  CHECK(*haemonchus.evidence.headline.upper > 0.6);
  CHECK(*haemonchus.evidence.headline.upper < 0.75);
  CHECK(survives(haemonchus));
  CHECK_THAT(
      haemonchus.judgement.first_verdict().reason,
      Catch::StartsWith("the upper limit, ") &&
          Catch::EndsWith("and there is no lower limit: no larvae were told apart to compare "
                          "with"));
  CHECK_THAT(find(haemonchus.caveats, CaveatCode::no_larvae)->text,
             Catch::EndsWith(" The limit shown holds even had all eggs before treatment been of "
                             "that worm."));
  CHECK_FALSE(analysis.judgement.worms[1].judgement.first_verdict().verdict_class ==
              VerdictClass::susceptible);

  // Of a total that falls by 98% it shows nothing: no class but that it cannot be told.
  group = mixed_infection();
  group.culture_before = {};
  const GroupAnalysis open = analysed(group);
  const WormAnalysis& unknown = open.judgement.worms.front();
  CHECK(unknown.judgement.standing.verdict_class == VerdictClass::inconclusive);
  CHECK(unknown.judgement.standing.sign == DrenchSign::cannot_tell);
  CHECK(may_survive(unknown));
  REQUIRE(find(open.caveats, CaveatCode::worm_in_doubt) != nullptr);
  CHECK_THAT(find(open.caveats, CaveatCode::worm_in_doubt)->text,
             Catch::Contains("all that is known of its own fall is that it is at most "));
  const std::string screen =
      analysis_summary(analyse({"t", {group}}, published_cut_offs(), {}), Verbosity::brief);
  CHECK_THAT(screen, Catch::Contains("SUSCEPTIBLE, 3 WORMS IN DOUBT") &&
                         Catch::Contains("-   95/100       -  at most 99.0%"));
}

TEST_CASE("A survivor that was cultured after treatment alone is told with its limit") {
  // The total passes by no rule that could hide it: its own limit is below what is expected.
  Group group = mixed_infection();
  for (Animal& animal : group.animals)
    animal.after->eggs = EggsSeen((animal.before->eggs.value() + 6) / 12);
  group.culture_before = {};
  group.culture_after = {{"haemonchus", 98}, {"cooperia", 2}};
  const GroupAnalysis analysis = analysed(group);
  const WormAnalysis& haemonchus = analysis.judgement.worms.front();
  REQUIRE(survives(haemonchus));
  if (const Caveat* told = find(analysis.caveats, CaveatCode::worm_survives))
    CHECK_THAT(told->text, Catch::Contains("98 of 100 larvae were of this worm after treatment, "
                                           "and none were told apart before treatment; were all "
                                           "eggs before treatment its, its own fall would still be "
                                           "at most "));
  else
    CHECK(analysis.judgement.first_verdict().verdict_class == VerdictClass::resistant);
}

TEST_CASE("A culture before treatment alone can show that a worm is killed") {
  Group group = mixed_infection();
  for (std::size_t i = 0; i < group.animals.size(); ++i)
    group.animals[i].after->eggs = EggsSeen(i == 0 ? 1 : 0);
  group.culture_after = {};
  const GroupAnalysis analysis = analysed(group);
  const WormAnalysis& teladorsagia = analysis.judgement.worms[1]; // 64 of 100
  CHECK(*teladorsagia.evidence.headline.lower > 0.95);
  CHECK(teladorsagia.judgement.first_verdict().verdict_class == VerdictClass::susceptible);
  CHECK_THAT(find(teladorsagia.caveats, CaveatCode::no_larvae)->text,
             Catch::EndsWith(" The limit shown holds even had all eggs after treatment been of "
                             "that worm."));
}

TEST_CASE("The season is taken out of a limit too") {
  Group group = half_left();
  group.culture_before = {};
  group.culture_after = {{"haemonchus", 80}, {"cooperia", 20}};
  // Untreated, the counts rose tenfold: the drench did better than the counts say.
  Group control = mixed_infection();
  control.name = "control";
  control.role = Role::control;
  control.culture_before = control.culture_after = {};
  for (Animal& animal : control.animals)
    animal.after->eggs = EggsSeen(animal.before->eggs.value() * 10);
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.design = Design::paired;
  const GroupAnalysis analysis =
      analyse({"t", {group, control}}, published_cut_offs(), settings).groups.front();
  const WormAnalysis& haemonchus = analysis.judgement.worms.front();
  CHECK(haemonchus.judgement.first_verdict().verdict_class == VerdictClass::resistant);
  REQUIRE(haemonchus.judgement.own_fall);
  CHECK(*haemonchus.judgement.own_fall->verdict.interval->upper >
        *haemonchus.evidence.headline.upper);
  CHECK_FALSE(haemonchus.judgement.own_fall->verdict.interval->lower);
  // No class that hangs on the season alone.
  if (haemonchus.judgement.own_fall->verdict.verdict_class == VerdictClass::inconclusive) {
    CHECK_FALSE(survives(haemonchus));
    CHECK_THAT(haemonchus.judgement.standing.bars.front().text,
               Catch::Contains("the drench's own fall is at most "));
  } else
    CHECK(survives(haemonchus));
}

TEST_CASE("What concerns all cultures alike is said once, of the group") {
  Group group = mixed_infection();
  const Culture before = group.culture_before;
  Group control = mixed_infection();
  control.name = "control";
  control.role = Role::control;
  AnalysisSettings settings;
  settings.simulations = 0;
  const auto caveats = [&] {
    return analyse({"t", {group, control}}, published_cut_offs(), settings).groups.front().caveats;
  };
  CHECK(find(caveats(), CaveatCode::culture_stands_in) == nullptr);
  group.culture_before = {};
  const std::vector<Caveat> stands_in = caveats();
  REQUIRE(find(stands_in, CaveatCode::culture_stands_in) != nullptr);
  CHECK_THAT(find(stands_in, CaveatCode::culture_stands_in)->text,
             Catch::StartsWith("No culture of its own before treatment: the one in the control "
                               "group before treatment stands in, as of the same mob."));

  group.culture_before = before;
  group.culture_before.mixed_groups = {"white", "yellow", "control"};
  const std::vector<Caveat> mixed = caveats();
  REQUIRE(find(mixed, CaveatCode::culture_of_several_groups) != nullptr);
  CHECK_THAT(find(mixed, CaveatCode::culture_of_several_groups)->text,
             Catch::Contains("together with those of yellow and control before treatment") &&
                 Catch::Contains("not independent"));

  group.culture_before = before;
  CHECK(find(caveats(), CaveatCode::larvae_in_percent) == nullptr);
  group.culture_before.percentages = PercentCulture{50, false, 5};
  const std::vector<Caveat> unnumbered = caveats();
  REQUIRE(find(unnumbered, CaveatCode::larvae_in_percent) != nullptr);
  CHECK(find(unnumbered, CaveatCode::larvae_in_percent)->severity == Severity::warning);
  CHECK_THAT(find(unnumbered, CaveatCode::larvae_in_percent)->text,
             Catch::Contains("taken to be of 50 larvae") && Catch::Contains("rounded to 5%"));
  group.culture_before.percentages->number_told = true;
  CHECK(find(caveats(), CaveatCode::larvae_in_percent)->severity == Severity::note);
}

TEST_CASE("Larvae told apart on one occasion, or none of a named worm, leave worms untold") {
  const auto told = [](Culture before, Culture after) {
    Group group = support::group("T", std::vector<std::uint32_t>(15, 40),
                                 {1, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0}, 15, 15);
    group.host = "sheep";
    group.classes = {DrugClass::ml};
    group.culture_before = std::move(before);
    group.culture_after = std::move(after);
    const GroupAnalysis analysis = analysed(group);
    const Caveat* caveat = find(analysis.caveats, CaveatCode::worms_not_told_apart);
    const bool in_advice =
        next_step(analysis).find("whether one kind of worm lives on") != std::string::npos;
    CHECK((caveat != nullptr) == in_advice);
    return caveat == nullptr ? std::string("told") : caveat->text.substr(0, 31);
  };
  CHECK(told({}, {}) == "No worms were told apart: one t");
  CHECK(told({{"haemonchus", 3}, {"teladorsagia", 97}}, {}) == "No worm was told apart both bef");
  CHECK(told({{"other", 100}}, {{"other", 100}}) == "No worm was told apart both bef");
  CHECK(told({{"haemonchus", 40}, {"teladorsagia", 60}},
             {{"haemonchus", 41}, {"teladorsagia", 59}}) == "told");
}
