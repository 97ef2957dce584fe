#include "report/result_words.hpp"

#include "judgement/decide_standing.hpp"
#include "support/support.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

using enum VerdictClass;

Verdict verdict(VerdictClass verdict_class, const std::string& title = "Valley 2030") {
  Verdict result;
  result.criteria = title;
  result.criteria_title = title;
  result.verdict_class = verdict_class;
  result.reason = "because";
  result.design = Design::paired;
  result.expected = 0.95;
  result.lower = 0.9;
  result.interval.emplace();
  result.interval->level = 0.9;
  result.interval->lower = 0.85;
  result.interval->upper = 0.97;
  return result;
}

Interval limits(double lower, double upper) {
  Interval interval;
  interval.lower = lower;
  interval.upper = upper;
  return interval;
}

/// A worm told by its eggs, 8 of 100 of which are left.
WormAnalysis worm(const std::string& name, VerdictClass verdict_class) {
  WormAnalysis result;
  result.worm = name;
  result.source = WormSource::eggs_told_apart;
  result.evidence.before = summarise(support::counts({100}, 1));
  result.evidence.after = summarise(support::counts({8}, 1));
  result.evidence.reduction = 0.92;
  result.judgement.verdicts = {verdict(verdict_class)};
  result.judgement.standing = standing_of(result, {});
  return result;
}

GroupAnalysis group(VerdictClass verdict_class, std::vector<WormAnalysis> worms = {}) {
  GroupAnalysis result;
  result.evidence.design = Design::paired;
  result.judgement.verdicts = {verdict(verdict_class)};
  result.judgement.worms = std::move(worms);
  result.judgement.standing = standing_of(result.judgement, {}, {});
  return result;
}

GroupAnalysis fallen_by(std::optional<double> reduction, Design design = Design::paired) {
  GroupAnalysis result = group(resistant);
  result.evidence.design = design;
  result.evidence.reduction = reduction;
  return result;
}

} // namespace

TEST_CASE("A group is described by what is known of it beside its name") {
  Group known;
  known.name = "white";
  CHECK(group_description(known).empty());
  known.drench = "White"; // The same as the name, but for its capital.
  known.classes = {DrugClass::bz, DrugClass::lv};
  known.host = "sheep";
  CHECK(group_description(known) == "BZ+LV, sheep");
  known.drench = "Ivory";
  known.worm = "haemonchus";
  CHECK(group_description(known) == "Ivory, BZ+LV, sheep, haemonchus");
}

TEST_CASE("The standing in words names the worms that survive behind a good total") {
  CHECK(verdict_words(group(susceptible)) == "susceptible");
  CHECK(verdict_words(group(low_resistant)) == "low resistant");
  CHECK(verdict_words(group(susceptible, {worm("haemonchus", resistant)})) ==
        "resistant: haemonchus");
  CHECK(verdict_words(group(susceptible, {worm("haemonchus", inconclusive)})) ==
        "susceptible, haemonchus in doubt");
  // Of both kinds those that survive are named.
  CHECK(verdict_words(
            group(susceptible, {worm("cooperia", inconclusive), worm("haemonchus", resistant)})) ==
        "resistant: haemonchus");
  CHECK(verdict_words(group(susceptible, {worm("haemonchus", susceptible)})) == "susceptible");
  // A poor total hides nothing.
  CHECK(verdict_words(group(resistant, {worm("haemonchus", resistant)})) == "resistant");
}

TEST_CASE("The first verdict is told by the counts alone where a bar decides, and with its ifs") {
  GroupAnalysis one = group(susceptible);
  CHECK(first_verdict_text(one) == verdict_text(one.judgement.first_verdict(), one));
  one.judgement.standing.provided = "the sky was blue";
  CHECK_THAT(first_verdict_text(one), Catch::StartsWith("if the sky was blue: susceptible by "));
  one.judgement.standing = standing_of(
      one.judgement, {}, {{BarCode::day, "a", "b", "c"}, {BarCode::dose, "a", "b", "c"}});
  CHECK_THAT(first_verdict_text(one),
             Catch::StartsWith("none; by the counts alone, which prove nothing here, it would "
                               "be susceptible by "));
  GroupAnalysis poor = group(resistant);
  poor.judgement.standing = standing_of(poor.judgement, {}, {{BarCode::day, "a", "b", "c"}});
  CHECK_THAT(first_verdict_text(poor), Catch::StartsWith("by the counts alone resistant by "));
  CHECK(verdict_words(one) == "not applicable");
  CHECK(bar_codes(one.judgement.standing) == "day+dose");
  CHECK(bar_codes({}).empty());
}

TEST_CASE("Worms whose names are too long for a heading are counted") {
  CHECK(verdict_words(
            group(susceptible, {worm("haemonchus", resistant), worm("teladorsagia", resistant),
                                worm("trichostrongylus", resistant)})) == "resistant: 3 worms");
  CHECK(verdict_words(group(susceptible, {worm(std::string(40, 'x'), inconclusive)})) ==
        "susceptible, 1 worm in doubt");
}

TEST_CASE("A fall is told with its interval, and a rise in the words of its design") {
  GroupAnalysis fell = fallen_by(0.92);
  CHECK(fall_text(fell) == "92.0%; no interval");
  fell.evidence.headline = limits(0.852, 0.959);
  CHECK(interval_text(fell.evidence.headline) ==
        "90% interval 85.2% to 95.9% (posterior, guarded)");
  CHECK(fall_text(fell) == "92.0%, 90% interval 85.2% to 95.9% (posterior, guarded)");
  CHECK(fall_text(fallen_by(std::nullopt)) == "not available");
  CHECK(fall_text(fallen_by(0)) == "0.0%; no interval");

  GroupAnalysis rose = fallen_by(-0.5);
  rose.evidence.headline = limits(-0.8, -0.1);
  CHECK(fall_text(rose) == "none: counts rose by 50.0%; fall, 90% interval -80.0% to -10.0% "
                           "(posterior, guarded)");
  CHECK(fall_text(fallen_by(-0.5, Design::two_group)) ==
        "none: counts were 50.0% above the control's; no interval");
  CHECK(fall_text(fallen_by(-0.5, Design::baseline)) ==
        "none: counts were 50.0% above the control's; no interval");
  CHECK(fall_text(fallen_by(-0.5, Design::controlled)) ==
        "none: against the control's, counts rose by 50.0%; no interval");
}

TEST_CASE("A mean in EPG has a decimal below 10") {
  CHECK(mean_text(9.94) == "9.9");
  CHECK(mean_text(10.4) == "10");
  CHECK(mean_text(0) == "0.0");
  CHECK(mean_text(1234.5678) == "1235");
  CHECK(mean_text(std::nullopt) == "not available");
}

TEST_CASE("Counts are told of both sides that the design compares") {
  GroupAnalysis analysis = group(resistant);
  analysis.evidence.before = summarise(support::counts({10, 20}, 50));
  analysis.evidence.after = summarise(support::counts({0, 1}, 50));
  analysis.evidence.control = summarise(support::counts({4, 5, 6}, 50));
  CHECK(counts_text(analysis) ==
        "mean EPG 750 before (30 eggs seen), 25 after (1 egg seen); 2 animals");
  analysis.evidence.design = Design::two_group;
  CHECK(counts_text(analysis) == "mean EPG 250 after (15 eggs seen) in 3 control animals, 25 after "
                                 "(1 egg seen) in 2 treated animals");
  analysis.evidence.design = Design::baseline;
  CHECK(counts_text(analysis).starts_with("mean EPG 250 before (15 eggs seen) in 3 control "));
}

TEST_CASE("A verdict tells what it rests on only where that is not shown first") {
  const GroupAnalysis analysis = group(resistant);
  Verdict given = verdict(resistant);
  CHECK(verdict_text(given, analysis) == "resistant by Valley 2030: because");
  given.interval = limits(0.8, 0.9);
  CHECK(verdict_text(given, analysis) == "resistant by Valley 2030: because");
  given.interval->level = 0.95;
  given.interval->method = Method::log_ratio_1992;
  CHECK(verdict_text(given, analysis) ==
        "resistant by Valley 2030: because (95% interval by log ratio, 1992)");
  given.design = Design::two_group;
  CHECK(verdict_text(given, analysis) ==
        "resistant by Valley 2030: because (two-group design, 95% interval by log ratio, 1992)");
  given.verdict_class = not_applicable;
  CHECK(verdict_text(given, analysis) == "not applicable by Valley 2030: because");
}

TEST_CASE("Other verdicts are those after the first that apply") {
  CHECK(other_verdicts({verdict(resistant, "A")}).empty());
  CHECK(other_verdicts({verdict(resistant, "A"), verdict(not_applicable, "B")}).empty());
  CHECK(other_verdicts({verdict(resistant, "A"), verdict(suspected, "B"),
                        verdict(not_applicable, "C"), verdict(inconclusive, "D")}) ==
        "suspected by B; inconclusive by D");
}

TEST_CASE("Chances are told of 100 farms, and are never none or all") {
  GroupAnalysis analysis = group(low_resistant);
  analysis.judgement.first_verdict().interval->lower = 0.91;
  analysis.judgement.first_verdict().interval->upper = 0.94;
  const auto words = [&](double below_expected, double below_lower) {
    analysis.judgement.probabilities = EfficacyProbabilities{below_expected, below_lower, 0, 0};
    return chance_text(analysis);
  };
  CHECK(words(0.83, 0.412) ==
        "of 100 farms with counts like these, at least about 83 would have a true efficacy below "
        "95%, and up to about 41 below 90%, by the most doubtful of three ways to reckon");
  CHECK(words(0.996, 0.004) ==
        "of 100 farms with counts like these, more than 99 would have a true efficacy below 95%, "
        "and fewer than 1 below 90%, by the most doubtful of three ways to reckon");
  CHECK(words(0.995, 0.005) == words(0.996, 0.004)); // and what would be rounded to them
  CHECK(words(0.5, 0.1) ==
        "of 100 farms with counts like these, perhaps more than half, perhaps fewer (the three "
        "ways differ), would have a true efficacy below 95%, and up to about 10 below 90%, by the "
        "most doubtful of three ways to "
        "reckon");
}

TEST_CASE("Chances that look at odds with the verdict are explained") {
  const auto words = [](VerdictClass verdict_class, double lower, double upper,
                        const EfficacyProbabilities& chances) {
    GroupAnalysis analysis = group(verdict_class);
    analysis.judgement.first_verdict().interval->lower = lower;
    analysis.judgement.first_verdict().interval->upper = upper;
    analysis.judgement.probabilities = chances;
    return chance_text(analysis);
  };
  const std::string not_reached =
      "; the rule asks that it is not below 90%, not that it reaches 95%";
  CHECK(words(susceptible, 0.91, 0.96, {0.94, 0.02, 0.92, 0.06}).ends_with(not_reached));
  CHECK(words(susceptible, 0.91, 0.96, {0.5, 0.02, 0.48, 0.5}).ends_with(" ways to reckon"));
  CHECK(words(inconclusive, 0.85, 0.97, {0.94, 0.4, 0.54, 0.06}).ends_with(" ways to reckon"));
}

TEST_CASE("What a larger trial would have shown is told step by step") {
  GroupAnalysis analysis = group(inconclusive);
  analysis.evidence.after = summarise(support::counts({1, 2}, 50));
  const auto step = [](double volume, std::size_t animals, double clear) {
    LargerTrialOutcome outcome;
    outcome.extension = {volume, animals};
    outcome.simulations = 100;
    outcome.clear = clear;
    return outcome;
  };
  analysis.judgement.larger_trials = {step(2, 0, 0.35), step(4, 0, 0.45), step(1, 5, 0.3),
                                      step(1, 10, 0.4), step(1, 20, 0.55)};
  const std::string start =
      "had this trial been larger, the chance of a clear class, good or poor, "
      "would have been: 2 times the volume counted 35%, 4 times the volume "
      "counted 45%; ";
  const std::string rest = " 30%, 10 more 40%, 20 more 55% (100 simulations each)";
  CHECK(larger_trials_text(analysis) == start + "5 more animals" + rest);
  analysis.evidence.design = Design::controlled;
  CHECK(larger_trials_text(analysis) == start + "5 more animals in each group" + rest);
  analysis.evidence.design = Design::paired;
  analysis.evidence.after = summarise({{EggsSeen(1), MultiplicationFactor(50), 10}});
  CHECK(larger_trials_text(analysis) == start + "5 more pools" + rest);
}

TEST_CASE("Why intervals differ is told only where they do") {
  CHECK(disagreement_text({}).empty());
  MethodDisagreement further;
  further.bootstrap_reaches_further = true;
  CHECK(
      disagreement_text(further).starts_with("The posterior takes one efficacy for all animals;"));
  CHECK(disagreement_text(further).find("Much narrower") == std::string::npos);
  MethodDisagreement narrower;
  narrower.much_narrower = {Method::bootstrap_bca, Method::egg_totals_exact};
  CHECK(disagreement_text(narrower).starts_with(
      "Much narrower than the posterior: bootstrap, BCa; pooled count, exact. "));
}

TEST_CASE("What was found of a worm is larvae of all, eggs, or nothing known") {
  CHECK(found_text({WormShare{12, 100}, {}, {}}) == "12/100");
  CHECK(found_text({WormShare{0, 0}, {}, {}}) == "-");
  CHECK(found_text({WormShare{16.5, 50, OpenShare{{16.25, 16.75}, false}}, {}, {}}) == "33%");
  CHECK(found_text({{}, 31U, 465.0}) == "31 eggs");
  CHECK(found_text({{}, 1U, 15.0}) == "1 egg");
  CHECK(found_text({{}, 0U, 0.0}) == "0 eggs");
  CHECK(found_text({}) == "-");
}

TEST_CASE("It is said which criteria judge the worms, if not those of the group") {
  GroupAnalysis analysis = group(not_applicable, {worm("cooperia", resistant)});
  CHECK(judged_by_others(analysis).empty());
  const auto by_criteria = [](const std::string& name, const std::string& title) {
    WormAnalysis result = worm(name, resistant);
    result.judgement.verdicts = {verdict(not_applicable), verdict(resistant, title)};
    return result;
  };
  analysis.judgement.worms = {by_criteria("cooperia", "Hill 2031"),
                              by_criteria("haemonchus", "Hill 2031"),
                              by_criteria("teladorsagia", "Moor 2032")};
  CHECK(judged_by_others(analysis) ==
        " Worms are judged by Hill 2031 and Moor 2032: Valley 2030 cannot judge them all.");
}

TEST_CASE("Beside the table of worms it is said what their numbers are of") {
  GroupAnalysis analysis = group(susceptible, {worm("nematodirus", susceptible)});
  CHECK(worms_note(analysis).empty());
  WormAnalysis cultured = worm("haemonchus", susceptible);
  cultured.source = WormSource::larval_culture;
  analysis.judgement.worms.push_back(cultured);
  const std::string larvae =
      "Larvae of this worm, of all told apart in each culture. The falls hold "
      "if all kinds hatch alike on both days.";
  CHECK(worms_note(analysis) == larvae);
  Animal animal;
  animal.kinds["nematodirus"] = {};
  analysis.evidence.group.animals = {animal};
  CHECK(worms_note(analysis) ==
        larvae + " Eggs of nematodirus were counted apart; fall and verdict above are of all other "
                 "worms.");
}

TEST_CASE("The spread of a sample is told as far as it is known") {
  CHECK(spread_text({}) == "not sampled");
  SampleSummary sample =
      summarise({{EggsSeen(3), MultiplicationFactor(50)}, {EggsSeen(4), MultiplicationFactor(15)}});
  CHECK(spread_text(sample) == "several factors, so eggs seen do not compare");
  // 3, 0 and 5 eggs: mean 8/3 and variance 19/3 by hand; k is put in.
  sample = summarise(support::counts({3, 0, 5}, 50));
  sample.spread.aggregation = Aggregation::clumped;
  sample.spread.k = 1.25;
  CHECK(spread_text(sample) ==
        "3 animals, 1 without eggs; eggs seen: mean 2.67, variance 6.33, k 1.25");
  sample.pools = 3;
  sample.animals_mixed = 30;
  CHECK(spread_text(sample).ends_with(", k 1.25 of samples, not of animals"));
  CHECK(spread_text(summarise(support::counts({5, 5, 5}, 50))) ==
        "3 animals, 0 without eggs; eggs seen: mean 5, variance 0, no clumping to be seen (k "
        "without limit)");
  CHECK(spread_text(summarise(support::counts({0, 0}, 50))).ends_with(", k not to be had"));
  CHECK(spread_text(summarise(support::counts({7}, 50))) ==
        "1 animal, 0 without eggs; eggs seen: mean 7, k not to be had");
}

TEST_CASE("What became of the untreated animals is a fall, a rise, or not known") {
  ControlAnalysis control;
  control.group = support::group("C", {10, 20}, {12, 12});
  control.before = summarise(support::counts({10, 20}, 1));
  control.after = summarise(support::counts({12, 12}, 1));
  CHECK(control_text(control) == "mean EPG 15 before, 12 after; 2 animals");
  control.sampled_twice = 2;
  control.reduction = 0.2;
  CHECK(control_text(control) == "mean EPG 15 before, 12 after; 2 animals; a fall of 20.0% without "
                                 "treatment in the 2 sampled twice");
  control.reduction = -0.25;
  CHECK(control_text(control).ends_with(
      "; a rise of 25.0% without treatment in the 2 sampled twice"));
  control.before = {};
  control.reduction.reset();
  CHECK(control_text(control) == "mean EPG not available before, 12 after; 2 animals");
}

TEST_CASE("Criteria noted from memory are named once, and only if they gave a verdict") {
  const auto noted = [](VerdictClass verdict_class, const std::string& title,
                        Provenance provenance) {
    Verdict result = verdict(verdict_class, title);
    result.citation.provenance = provenance;
    return result;
  };
  GroupAnalysis first = group(resistant);
  first.judgement.verdicts = {noted(resistant, "A", Provenance::memory),
                              noted(resistant, "B", Provenance::published),
                              noted(not_applicable, "C", Provenance::memory)};
  GroupAnalysis second = group(resistant);
  second.judgement.verdicts = {noted(susceptible, "D", Provenance::memory),
                               noted(inconclusive, "A", Provenance::memory)};
  TrialAnalysis trial;
  CHECK(titles_from_memory(trial).empty());
  trial.groups = {first, second};
  CHECK(titles_from_memory(trial) == std::vector<std::string>{"A", "D"});
}

TEST_CASE("The letters of classes are spelt out, each once, in their order") {
  TrialAnalysis trial;
  CHECK(drug_class_letters(trial).empty());
  trial.groups = {group(susceptible), group(resistant)};
  CHECK(drug_class_letters(trial).empty());
  trial.groups[0].evidence.group.classes = {DrugClass::bz, DrugClass::ml};
  trial.groups[1].evidence.group.classes = {DrugClass::bz};
  CHECK(drug_class_letters(trial) ==
        "BZ: benzimidazoles; ML: macrocyclic lactones (avermectins, moxidectin).");
}
