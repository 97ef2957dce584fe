#include "judgement/advise.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "judgement/decide_standing.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

GroupAnalysis analysed(const Group& group, const std::string& criteria = {}) {
  AnalysisSettings settings;
  settings.criteria = criteria;
  return analyse({"t", {group}}, published_cut_offs(), settings).groups.front();
}

/// Twelve lambs of which half the eggs are left.
Group poor() {
  std::vector<std::uint32_t> after = trial_a::before;
  for (std::uint32_t& eggs : after)
    eggs = (eggs + 1) / 2;
  Group group = support::group("T", trial_a::before, after, 15, 15);
  group.classes = {DrugClass::bz};
  return group;
}

/// Fifteen lambs without an egg left of 40 each.
Group good() {
  Group group = support::group("T", std::vector<std::uint32_t>(15, 40),
                               std::vector<std::uint32_t>(15, 0), 15, 15);
  group.classes = {DrugClass::bz};
  return group;
}

/// Sampled on `day` after treatment, all of 40 kg and given `dose_ml` where 8 mL are needed.
Group carried_out(Group group, int day, double dose_ml) {
  const std::chrono::sys_days treated = std::chrono::year(2031) / std::chrono::June / 2;
  for (Animal& animal : group.animals) {
    animal.date_before = animal.date_treated = treated;
    animal.date_after = treated + std::chrono::days(day);
    animal.weight_kg = 40;
    animal.dose_ml = dose_ml;
    animal.label_ml_per_kg = 0.2;
  }
  return group;
}

/// The advice on a result as it now is.
std::string next_step(GroupAnalysis group) {
  group.judgement.standing =
      standing_of(group.judgement, group.caveats, group.judgement.standing.bars);
  return advise(group.evidence, group.field, group.judgement, group.caveats, group.course)
      .next_step.text();
}

} // namespace

TEST_CASE("A poor result beside a wrong dose or day: mend that before blaming the drench") {
  const std::string unmended = next_step(analysed(carried_out(poor(), 9, 8)));
  CHECK(unmended.starts_with("Do not rely on this drench alone here."));
  CHECK(next_step(analysed(carried_out(poor(), 9, 6))) ==
        "Weigh the animals and give each the label's dose for its own weight (or draft them by "
        "weight, and set the gun for the heaviest of each draft as far as the label allows), and "
        "test again. Until the test is repeated, do not rely on this drench alone.");
  // A sample some days late or early makes no good drench look poor, and is no excuse for one.
  for (const int day : {7, 14, 21})
    CHECK(next_step(analysed(carried_out(poor(), day, 8))) == unmended);
  // But a test that is repeated is to be on the right day.
  GroupAnalysis open = analysed(carried_out(poor(), 14, 8));
  open.judgement.first_verdict().verdict_class = VerdictClass::inconclusive;
  CHECK(next_step(open).find("put right the day of the second sample (day 8 to 10), and ") !=
        std::string::npos);
  // Beyond the last day of practice, on which a bar mostly says so, newly picked-up worms lay.
  GroupAnalysis later = analysed(carried_out(poor(), 22, 8));
  later.judgement.standing.bars.clear();
  CHECK(next_step(later).starts_with("Put right the day of the second sample (day 8 to 10), and "
                                     "repeat the test before blaming the drench. Until then "));
  // Those given enough did no better: 4 of 8 mL, for the first lamb alone. Its 14 and 7 eggs apart,
  // 174 eggs fell to 90, by 48.3%.
  Group one = carried_out(poor(), 9, 8);
  one.animals[0].dose_ml = 4;
  CHECK(next_step(analysed(one))
            .starts_with("Put right the dose of the animals that got too little, and repeat the "
                         "test. But the dose is not the whole reason: the counts of those given "
                         "enough fell by only 48.3%. Until then do not rely"));
  Group both = carried_out(poor(), 4, 6);
  both.animals[0].dose_ml = 8;
  CHECK(next_step(analysed(both)) == "Test again, with the second sample on day 8 to 10. Until the "
                                     "test is repeated, do not rely on "
                                     "this drench alone.");
}

TEST_CASE(
    "A bar over counts that look good leaves the drench untested, and says no more otherwise") {
  GroupAnalysis analysis = analysed(carried_out(good(), 4, 8));
  VerdictClass& by_counts = analysis.judgement.first_verdict().verdict_class;
  REQUIRE(by_counts == VerdictClass::susceptible);
  by_counts = VerdictClass::inconclusive;
  CHECK(next_step(analysis) == "Test again, with the second sample on day 8 to 10.");
  by_counts = VerdictClass::susceptible;
  // Nothing was wrong with the test where no rule covers it, and units must be looked at first.
  for (const BarCode code : {BarCode::not_covered, BarCode::units_in_doubt}) {
    analysis.judgement.standing.bars = {{code, "for the vet", "plain", "Do this."}};
    CHECK(next_step(analysis) == "Do this.");
  }
  Bar control{BarCode::control, "for the vet", "plain", "Go by its own fall."};
  control.own_verdict = VerdictClass::inconclusive;
  analysis.judgement.standing.bars = {control};
  CHECK(next_step(analysis) == "Go by its own fall.");
}

TEST_CASE("A true fall that is likely lower is said to be so by its chance") {
  GroupAnalysis analysis = analysed(carried_out(good(), 9, 8));
  analysis.judgement.probabilities = EfficacyProbabilities{0.6, 0.01, 0.59, 0.4};
  CHECK(next_step(analysis).starts_with(
      "The rule is met, but the true fall is more likely than not below what is expected."));
  analysis.judgement.probabilities = EfficacyProbabilities{0.5, 0.01, 0.49, 0.5};
  CHECK(next_step(analysis).starts_with(
      "The rule is met, but the true fall may well be below what is expected."));
}

TEST_CASE("A larval culture is advised where it can tell worms apart, and only there") {
  const auto advises = [](std::string host, std::string worm) {
    Group group = poor();
    group.host = std::move(host);
    group.worm = std::move(worm);
    return next_step(analysed(group)).find("larvae cultured") != std::string::npos;
  };
  CHECK(advises("sheep", ""));
  CHECK(advises("cattle", ""));
  CHECK_FALSE(advises("sheep", "haemonchus"));
  CHECK_FALSE(advises("horses", "strongyles"));
}

TEST_CASE("Without a verdict the advice names the empty column, or says that no rule exists") {
  const auto advice = [](const std::string& host, std::vector<DrugClass> classes,
                         const std::string& worm, const std::string& criteria = {}) {
    Group group = poor();
    group.host = host;
    group.classes = std::move(classes);
    group.worm = worm;
    return next_step(analysed(group, criteria));
  };
  const auto empty = [](const std::string& column) {
    return "There is no verdict: the column " + column +
           " of the table is missing or empty, and the rules differ by it. Fill it in and run it "
           "again, or go over the numbers with your veterinarian.";
  };
  CHECK(advice("", {DrugClass::bz}, "") == empty("host"));
  CHECK(advice("horses", {}, "strongyles") == empty("class"));
  CHECK(advice("horses", {DrugClass::bz}, "", "waavp-2023-clinical") == empty("worm"));
  const std::string none = ". No published rule known to this program covers what was given; go "
                           "over the numbers with your veterinarian.";
  CHECK(advice("alpaca", {DrugClass::bz}, "") ==
        "Go over the numbers with your veterinarian; a rule of your own can be given by the "
        "setting cut-offs.");
  CHECK(advice("reindeer", {DrugClass::bz}, "") ==
        "There is no verdict by WAAVP 2023, clinical: it has no cut-off for reindeer" + none);
  CHECK(advice("horses", {DrugClass::ml, DrugClass::pyr}, "strongyles") ==
        "There is no verdict by WAAVP 2023, clinical: it has no cut-off for horses and class "
        "ML+PYR" +
            none);
  CHECK(advice("cattle", {DrugClass::bz}, "", "waavp-1992") ==
        "There is no verdict by WAAVP 1992: it has no cut-off for cattle. It is judged by WAAVP "
        "2023, clinical, WAAVP 2023, research and WAAVP 2006; go over the numbers with your "
        "veterinarian.");
  // The log ratio that the 1992 rule demands does not exist where no egg is left.
  CHECK(next_step(analysed(good(), "waavp-1992")) ==
        "There is no verdict by WAAVP 1992: it needs limits that these counts do not give. Go over "
        "the numbers with your veterinarian.");
}

TEST_CASE("A finer count is advised only where eggs are few") {
  // Inconclusive whatever its counts, of which the advice looks at the eggs before alone.
  const auto advice = [](std::size_t animals, std::uint32_t eggs) {
    std::vector<std::uint32_t> after(animals, 0);
    after.front() = 1;
    GroupAnalysis analysis =
        analysed(support::group("T", std::vector<std::uint32_t>(animals, eggs), after, 15, 15));
    analysis.judgement.first_verdict().verdict_class = VerdictClass::inconclusive;
    analysis.evidence.disagreement.fall_outside_posterior = false;
    return next_step(analysis);
  };
  CHECK_THAT(advice(10, 50), Catch::Contains("repeat the test with more animals. ")); // 500 eggs
  CHECK_THAT(advice(10, 20), Catch::Contains("repeat the test with more animals. ")); // 200 eggs
  CHECK_THAT(advice(11, 18), Catch::Contains("or a finer count after treatment"));    // 198 eggs
  CHECK_THAT(advice(10, 1), Catch::Contains("with a finer count (a lower factor"));   // 10 eggs
  CHECK_THAT(advice(4, 2), Catch::Contains("and a finer count (a lower factor)"));    // 8 eggs
}

TEST_CASE("Any sign of few eggs asks for a finer count, and few animals for more of them as well") {
  GroupAnalysis analysis = analysed(support::group("T", std::vector<std::uint32_t>(12, 10),
                                                   {3, 0, 2, 0, 0, 1, 0, 0, 2, 0, 0, 1}, 15, 15));
  analysis.judgement.first_verdict().verdict_class = VerdictClass::inconclusive;
  analysis.judgement.probabilities.reset();
  analysis.evidence.disagreement.fall_outside_posterior = false;
  const auto advice = [&](const std::vector<CaveatCode>& codes) {
    analysis.caveats.clear();
    for (const CaveatCode code : codes)
      analysis.caveats.push_back({code, "for the vet", Severity::serious});
    return next_step(analysis);
  };
  const auto repeat = [](const std::string& how) {
    return "Draw no conclusion either way: repeat the test with " + how +
           ". Until then, check counts after each use of this drench.";
  };
  CHECK(advice({}) == repeat("more animals, or a finer count after treatment"));
  CHECK(advice({CaveatCode::few_animals}) == repeat("more animals"));
  for (const CaveatCode sign :
       {CaveatCode::few_eggs_counted, CaveatCode::none_after, CaveatCode::detection_limit}) {
    CHECK(advice({sign}) ==
          repeat("a finer count (a lower factor, or more chambers of each sample)"));
    CHECK(advice({CaveatCode::few_animals, sign}) ==
          repeat("more animals and a finer count (a lower factor)"));
  }
}

TEST_CASE("Those given enough that did no better are named only where they fall short") {
  GroupAnalysis analysis = analysed(carried_out(poor(), 9, 6));
  analysis.judgement.standing.bars.clear();
  const double threshold = *lowest_threshold(analysis.judgement.first_verdict());
  const auto advice = [&](std::optional<double> others) {
    analysis.field.doses.reduction_without_under = others;
    return next_step(analysis);
  };
  const std::string why = "But the dose is not the whole reason: the counts of those given enough ";
  CHECK(advice({}).find("before blaming the drench") != std::string::npos);
  CHECK(advice(threshold).find("before blaming the drench") != std::string::npos);
  CHECK(advice(threshold - 0.1).find(why + "fell by only 80.0%. ") != std::string::npos);
  CHECK(advice(0.0).find(why + "fell by only 0.0%. ") != std::string::npos);
  CHECK(advice(-0.1).find(why + "did not fall. ") != std::string::npos);
  analysis.evidence.design = Design::two_group; // whose animals before treatment are no measure
  CHECK(advice(-0.1).find("before blaming the drench") != std::string::npos);
}

TEST_CASE("Worms that survive are told apart again as they were, and the rest is named if judged") {
  GroupAnalysis analysis = analysed(carried_out(good(), 9, 8));
  const auto worm = [](std::string name, WormSource source, VerdictClass verdict_class) {
    WormAnalysis made;
    made.worm = std::move(name);
    made.source = source;
    made.evidence.design = Design::paired;
    Verdict verdict;
    verdict.verdict_class = verdict_class;
    made.judgement.verdicts = {verdict};
    made.judgement.standing.verdict_class = made.judgement.standing.by_counts_alone = verdict_class;
    return made;
  };
  Bar survivor{BarCode::surviving_worm, "for the vet", "plain", "Tell worms apart."};
  const auto advice = [&](WormSource of_survivor, WormSource of_the_other,
                          VerdictClass of_all_together) {
    analysis.judgement.worms = {worm("haemonchus", of_survivor, VerdictClass::resistant),
                                worm("nematodirus", of_the_other, VerdictClass::susceptible)};
    analysis.judgement.first_verdict().verdict_class = of_all_together;
    analysis.judgement.standing.bars = {survivor};
    return next_step(analysis);
  };
  const std::string first = "First rule out a wrong weight, dose, or setting of the gun or "
                            "syringe; then choose with your veterinarian what still kills it, and ";
  const auto larvae = WormSource::larval_culture;
  const auto eggs = WormSource::eggs_told_apart;
  for (const WormSource other : {larvae, eggs}) {
    CHECK(advice(larvae, other, VerdictClass::susceptible) ==
          "Do not count on this drench against haemonchus, whatever the verdict on all worms "
          "together. " +
              first + "have larvae cultured again after its use.");
    CHECK(advice(eggs, other, VerdictClass::susceptible) ==
          "Do not count on this drench against haemonchus, whatever the verdict on all worms "
          "together. " +
              first + "tell the eggs or larvae apart again after its use.");
  }
  // Without a verdict on all together there is none to set it against. The standing of a bar goes
  // by the counts.
  analysis.judgement.verdicts = {analysis.judgement.first_verdict()};
  CHECK(advice(larvae, larvae, VerdictClass::not_applicable) ==
        "Do not count on this drench against haemonchus. " + first +
            "have larvae cultured again after its use.");
}

TEST_CASE(
    "Where worms may survive, what lifts their bars is told, and more larvae for the others") {
  GroupAnalysis analysis = analysed(carried_out(good(), 9, 8));
  const auto doubtful = [](std::string name, bool barred) {
    WormAnalysis made;
    made.worm = std::move(name);
    made.evidence.design = Design::paired;
    made.evidence.larvae = WormShares{{{5, 100}}, {{40, 100}}};
    Verdict verdict;
    verdict.verdict_class = VerdictClass::inconclusive;
    made.judgement.verdicts = {verdict};
    made.judgement.standing.verdict_class = VerdictClass::inconclusive;
    if (barred)
      made.judgement.standing.bars = {{BarCode::dose, "for the vet", "plain", "Mend the dose."}};
    return made;
  };
  analysis.judgement.standing.care = Care::worm_may_survive;
  const auto advice = [&](std::vector<WormAnalysis> worms) {
    analysis.judgement.worms = std::move(worms);
    return advise(analysis.evidence, analysis.field, analysis.judgement, analysis.caveats,
                  analysis.course)
        .next_step.text();
  };
  const std::string rule = "The rule is met by all worms together, but do not count on this drench "
                           "against ";
  const std::string check = "Check counts after each use.";
  CHECK(advice({doubtful("haemonchus", false)}) ==
        rule + "haemonchus until a test with more larvae or eggs told apart has shown it. " +
            check);
  CHECK(advice({doubtful("haemonchus", true), doubtful("cooperia", true)}) ==
        rule + "haemonchus and cooperia yet. Mend the dose. " + check); // told once
  CHECK(advice({doubtful("haemonchus", true), doubtful("cooperia", false)}) ==
        rule +
            "haemonchus and cooperia yet. Mend the dose. Have more larvae or eggs told apart, "
            "too. " +
            check);
}

TEST_CASE("A good result says what was not looked at") {
  const auto advice = [](const std::string& worm, bool with_control) {
    Group treated = good();
    treated.worm = worm;
    Trial trial{"t", {treated}};
    if (with_control) {
      Group control = support::group("C", std::vector<std::uint32_t>(15, 40),
                                     std::vector<std::uint32_t>(15, 40), 15, 15);
      control.role = Role::control;
      trial.groups.push_back(control);
    }
    return next_step(analyse(trial, published_cut_offs(), {}).groups.front());
  };
  const std::string go_on = " Go on checking: a count on day 8 to 10 after a drench shows early "
                            "when that changes.";
  CHECK(advice("haemonchus", true) ==
        "In these counts nothing speaks against this drench." + go_on);
  CHECK(advice("haemonchus", false) ==
        "In these counts nothing speaks against this drench. Not looked at: what the season did "
        "(none was left untreated)." +
            go_on);
  CHECK(advice("", false) ==
        "In these counts nothing speaks against this drench. Not looked at: whether one kind of "
        "worm lives on (no larvae were told apart) and what the season did (none was left "
        "untreated)." +
            go_on);
}

TEST_CASE("Every poor or unclear class says to mend the dose first") {
  GroupAnalysis analysis = analysed(carried_out(poor(), 9, 6));
  analysis.judgement.standing.bars.clear(); // enough were given enough
  for (const VerdictClass poor_verdict :
       {VerdictClass::resistant, VerdictClass::low_resistant, VerdictClass::suspected}) {
    analysis.judgement.first_verdict().verdict_class = poor_verdict;
    CHECK(next_step(analysis).starts_with("Put right the dose "));
    CHECK(next_step(analysis).find("repeat the test before blaming the drench") !=
          std::string::npos);
  }
  analysis.judgement.first_verdict().verdict_class = VerdictClass::inconclusive;
  CHECK(next_step(analysis).starts_with(
      "Draw no conclusion either way: put right the dose (weigh the animals, and give each the "
      "label's dose for its own weight), and repeat the test with more animals"));
  analysis.evidence.disagreement.fall_outside_posterior = true;
  CHECK(next_step(analysis).starts_with(
      "Draw no conclusion yet: put right the dose (weigh the animals, and give each the label's "
      "dose for its own weight); find out about the animals that did not respond"));
}

TEST_CASE("A result that leans to failing lets nobody go on as before") {
  GroupAnalysis analysis = analysed(poor());
  analysis.judgement.first_verdict().verdict_class = VerdictClass::inconclusive;
  const auto advice = [&](double below_expected, double below_lower) {
    analysis.judgement.probabilities = EfficacyProbabilities{
        below_expected, below_lower, below_expected - below_lower, 1 - below_expected};
    decide(analysis.judgement, analysis.caveats, {}, analysis.field);
    return advise(analysis.evidence, analysis.field, analysis.judgement, analysis.caveats,
                  analysis.course)
        .next_step.text();
  };
  CHECK(advice(0.94, 0.689)
            .starts_with(
                "More likely failing than not (at least about 69 of 100), but not proven: do "
                "not rely on it alone "
                "until the test is repeated with more animals"));
  CHECK(advice(0.94, 0.4).starts_with(
      "More likely below what is expected than not (at least about 94 of 100): do not rely on it "
      "alone until the test is repeated with more animals"));
  CHECK(advice(0.5, 0.1).starts_with("Draw no conclusion either way: "));
  CHECK(advice(0.999, 0.995).starts_with("More likely failing than not (more than 99 of 100)"));
  analysis.evidence.disagreement.fall_outside_posterior = true;
  CHECK(advice(0.999, 0.998)
            .starts_with("More likely failing than not (more than 99 of 100), but not proven: do "
                         "not rely on it alone "
                         "until that is settled: find out about the animals"));
}

TEST_CASE("Animals without eggs are no test, and no reason to treat") {
  const Group group = support::group("T", {0, 0, 0}, {0, 1, 0}, 15, 15);
  CHECK(next_step(analysed(group)) ==
        "Check the table; if it is right, choose animals that carry eggs for the next test: these "
        "have none to lose, and say nothing of this drench. Treat nobody on this.");
}

TEST_CASE("A good result is not trusted where the field work may have flattered it") {
  CHECK(next_step(analysed(carried_out(good(), 9, 8)))
            .starts_with("In these counts nothing speaks against this drench"));
  CHECK(next_step(analysed(carried_out(good(), 4, 8))) ==
        "Test again, with the second sample on day 8 to 10. Until then, take this drench as "
        "untested.");
  CHECK(next_step(analysed(carried_out(good(), 7, 8))) ==
        "The rule is met, but a second sample taken too early can hide resistance: put that right "
        "and test again before trusting this drench.");
  CHECK(next_step(analysed(carried_out(good(), 9, 12)))
            .starts_with("Ask the veterinarian how long meat and milk of these animals must be "
                         "withheld, and test again"));
  Group missing = carried_out(good(), 9, 8);
  missing.animals[3].after.reset(); // unchanged: 1 - 40/600 = 93.3%, below 95%
  CHECK(next_step(analysed(missing))
            .starts_with("The rule is met, but it hangs on the animals missing after treatment: "));
  // Under-dosing makes a drench look poor, not good.
  CHECK(next_step(analysed(carried_out(good(), 9, 7)))
            .starts_with("In these counts nothing speaks against this drench"));
}
