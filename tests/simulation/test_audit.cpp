#include "eggfall/simulation/audit.hpp"

#include "eggfall/simulation/audit_summary.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <utility>

using namespace eggfall;

namespace {

Group sheep() {
  Group group;
  group.host = "sheep";
  return group;
}

AuditSettings settings(std::vector<Method> methods = {}) {
  AuditSettings result;
  result.seed = 11;
  result.methods = std::move(methods);
  result.criteria = audit_criteria(published_cut_offs().criteria, sheep());
  return result;
}

/// So few eggs that some trials have none before, and some none after.
AuditFarm poor_cell(Design design) {
  AuditFarm farm;
  farm.design = design;
  farm.model.animals = 4;
  farm.model.control_animals = design == Design::paired ? 0 : 4;
  farm.model.mean_eggs = 0.8;
  farm.model.efficacy = 0.6;
  return farm;
}

std::uint64_t sum(const VerdictTally& verdicts) {
  return std::accumulate(verdicts.begin(), verdicts.end(), std::uint64_t{0});
}

const MethodTally& tally_by(const FarmTally& tally, Method method) {
  const auto found = std::ranges::find(tally.methods, method, &MethodTally::method);
  REQUIRE(found != tally.methods.end());
  return *found;
}

} // namespace

TEST_CASE("Audit tallies do not depend on how the trials are split") {
  const AuditFarm farm = poor_cell(Design::paired);
  const AuditSettings chosen = settings();
  const FarmTally whole = audit_trials(farm, chosen, 0, 60);
  const auto added = [&](const std::vector<std::size_t>& firsts) {
    FarmTally tally = empty_result({farm}, chosen, {}).farms.front().tally;
    for (const std::size_t first : firsts)
      add(tally, audit_trials(farm, chosen, first, 20));
    return tally;
  };
  CHECK(added({0, 20, 40}) == whole);
  CHECK(added({40, 0, 20}) == whole);
  CHECK_FALSE(added({0, 20, 60}) == whole); // other trials
}

TEST_CASE("Every trial of an audit is counted once") {
  for (const Design design : all_designs) {
    CAPTURE(to_string(design));
    const AuditSettings chosen = settings();
    REQUIRE(chosen.criteria.size() > 1);
    const FarmTally tally = audit_trials(poor_cell(design), chosen, 0, 30);
    CHECK(tally.trials == 30);
    CHECK(tally.without_estimate > 0); // else the farm tests less than it should
    CHECK(tally.none_after > 0);
    REQUIRE(tally.methods.size() == methods_for(design).size());
    for (std::size_t m = 0; m < tally.methods.size(); ++m) {
      const MethodTally& method = tally.methods[m];
      CHECK(method.method == methods_for(design)[m]);
      CHECK(method.held + method.truth_above + method.truth_below + method.unusable +
                tally.without_estimate ==
            tally.trials);
      REQUIRE(method.verdicts.size() == chosen.criteria.size());
      for (const VerdictTally& verdicts : method.verdicts)
        CHECK(sum(verdicts) == tally.trials);
    }
  }
}

TEST_CASE("An audit counts what the program says of each trial") {
  // The same trials judged one by one, through classify() as in an analysis, and counted here.
  const AuditFarm usual; // reductions of nearly 100%, and of 100%
  for (const AuditFarm& farm : {poor_cell(Design::paired), poor_cell(Design::two_group), usual}) {
    const Design design = farm.design;
    CAPTURE(farm_key(farm));
    const AuditSettings chosen = settings();
    constexpr std::size_t first = 3;
    constexpr std::size_t trials = 12;
    const FarmTally tally = audit_trials(farm, chosen, first, trials);
    const double truth = farm.model.efficacy; // every animal is dosed
    const std::vector<Criteria> criteria = published_cut_offs().criteria;

    std::uint64_t without = 0;
    std::uint64_t none_after = 0;
    double reductions = 0;
    struct Count {
      std::uint64_t held = 0, above = 0, below = 0, unusable = 0;
      double width = 0;
      std::vector<VerdictTally> verdicts;
    };
    std::vector<Count> counts(methods_for(design).size());
    for (Count& count : counts)
      count.verdicts.resize(chosen.criteria.size());
    const std::string name = farm_key(farm);
    for (std::uint32_t t = first; t < first + trials; ++t) {
      const Trial trial = simulate(farm.model, {chosen.seed, stream_group("audit", name), t}).trial;
      const Evidence evidence(*compare(design, trial.groups.front(), control_of(trial)),
                              chosen.priors);
      const auto reduction = evidence.reduction();
      without += reduction ? 0 : 1;
      none_after += reduction && *reduction == 1 ? 1 : 0;
      reductions += reduction ? std::max(*reduction, -1.0) : 0;
      for (std::size_t m = 0; m < counts.size(); ++m) {
        Count& count = counts[m];
        const Method method = methods_for(design)[m];
        if (reduction) {
          const Interval interval = evidence.interval(method, chosen.level);
          if (!interval.usable())
            ++count.unusable;
          else {
            count.above += *interval.upper < truth ? 1 : 0;
            count.below += *interval.lower > truth ? 1 : 0;
            count.held += *interval.lower <= truth && truth <= *interval.upper ? 1 : 0;
            count.width += std::max(*interval.upper, -1.0) - std::max(*interval.lower, -1.0);
          }
        }
        for (std::size_t c = 0; c < chosen.criteria.size(); ++c) {
          const auto judged = std::ranges::find(criteria, chosen.criteria[c].name, &Criteria::name);
          REQUIRE(judged != criteria.end());
          const Verdict verdict = classify(*judged, choose_cut_off(*judged, sheep()), reduction,
                                           evidence.interval(method, chosen.criteria[c].level));
          ++count.verdicts[c][static_cast<std::size_t>(verdict.verdict_class)];
        }
      }
    }

    CHECK(tally.without_estimate == without);
    CHECK(tally.none_after == none_after);
    // Each trial is rounded to a millionth of a point, 1e-8.
    constexpr double rounding = 0.5e-8 * trials;
    CHECK_THAT(static_cast<double>(tally.reduction) * 1e-8,
               Catch::Matchers::WithinAbs(reductions, rounding));
    REQUIRE(tally.methods.size() == counts.size());
    for (std::size_t m = 0; m < counts.size(); ++m) {
      const MethodTally& method = tally.methods[m];
      CAPTURE(to_string(method.method));
      CHECK(method.held == counts[m].held);
      CHECK(method.truth_above == counts[m].above);
      CHECK(method.truth_below == counts[m].below);
      CHECK(method.unusable == counts[m].unusable);
      CHECK_THAT(static_cast<double>(method.width) * 1e-8,
                 Catch::Matchers::WithinAbs(counts[m].width, rounding));
      CHECK(method.verdicts == counts[m].verdicts);
    }
  }
}

TEST_CASE("A truth of 100% is held by a limit of 100%") {
  AuditFarm farm;
  farm.model.efficacy = 1;
  const FarmTally tally =
      audit_trials(farm, settings({Method::egg_totals_exact, Method::paired_log_ratio}), 0, 40);
  // No egg is left: the reduction is 100% always, in whole millionths of a point.
  CHECK(tally.without_estimate == 0);
  CHECK(tally.none_after == 40);
  CHECK(tally.reduction == 40 * 100'000'000LL);
  // exact_limits() of nothing found starts at a ratio of 0; a logarithm of 0 there is none.
  CHECK(tally_by(tally, Method::egg_totals_exact).held == 40);
  CHECK(tally_by(tally, Method::paired_log_ratio).unusable == 40);
}

TEST_CASE("Shards of an audit are disjoint and together the whole") {
  AuditSettings chosen;
  chosen.trials = 130; // tasks of 50 trials, the last one shorter
  const auto trials_of = [](const std::vector<AuditTask>& tasks) {
    std::vector<std::pair<std::size_t, std::size_t>> trials;
    for (const AuditTask& task : tasks)
      for (std::size_t t = task.first; t < task.first + task.trials; ++t)
        trials.emplace_back(task.farm, t);
    std::ranges::sort(trials);
    return trials;
  };
  constexpr std::size_t farms = 5;
  const auto whole = trials_of(audit_tasks(farms, chosen, {1, 1}));
  REQUIRE(whole.size() == farms * 130);
  for (std::size_t i = 0; i < whole.size(); ++i)
    REQUIRE(whole[i] == std::pair(i / 130, i % 130)); // each once, none beyond
  std::vector<AuditTask> together;
  for (std::size_t index = 1; index <= 3; ++index) {
    const auto part = audit_tasks(farms, chosen, {index, 3});
    CHECK_FALSE(part.empty());
    together.insert(together.end(), part.begin(), part.end());
  }
  CHECK(trials_of(together) == whole);
}

TEST_CASE("The name of a cell tells every setting apart") {
  std::vector<AuditFarm> farms(17);
  farms[1].design = Design::controlled;
  farms[2].model.animals = 16;
  farms[3].model.control_animals = 15;
  farms[4].model.mean_eggs = 10.000001;
  farms[5].model.efficacy = 0.9500001;
  farms[6].model.shape = LevelShape::weibull;
  farms[7].model.k = 0.8;
  farms[8].model.k_after = 0.6;
  farms[9].model.within_cv = 0.4;
  farms[10].model.efficacy_cv = 0.1;
  farms[11].model.undosed = 0.1;
  farms[12].model.without_worms = 0.1;
  farms[13].model.missing_after = 0.1;
  farms[14].model.season_change = 1.1;
  farms[15].model.counts_a_sample = 2;
  farms[16].model.factor_after = MultiplicationFactor(5);
  std::set<std::string> names;
  for (const AuditFarm& farm : farms)
    names.insert(farm_key(farm));
  CHECK(names.size() == farms.size());
}

TEST_CASE("A design without its control is refused") {
  for (const Design design : {Design::two_group, Design::controlled, Design::baseline}) {
    AuditFarm farm;
    farm.design = design;
    CHECK(support::input_error([&] { audit_trials(farm, settings(), 0, 1); }) ==
          fmt::format("the design {}: found no control animals; expected 1 or more",
                      to_string(design)));
  }
  AuditFarm farm;
  farm.model.k = -1;
  CHECK_THROWS_AS(check(farm), InputError);
}

TEST_CASE("The methods and criteria audited are those asked for that suit") {
  const AuditSettings chosen =
      settings({Method::egg_totals_exact, Method::paired_log_ratio, Method::paired_posterior});
  CHECK(audited_methods(chosen, Design::paired) ==
        std::vector{Method::paired_posterior, Method::egg_totals_exact,
                    Method::paired_log_ratio}); // in the order of methods_for()
  CHECK(audited_methods(chosen, Design::two_group) == std::vector{Method::egg_totals_exact});
  CHECK(audited_methods(settings(), Design::baseline) == methods_for(Design::baseline));
  // Without a host the published criteria with rows by host do not apply.
  CHECK(audit_criteria(published_cut_offs().criteria, Group()).size() < chosen.criteria.size());
}

TEST_CASE("Tallies of different methods are not added, and stay as they were") {
  const AuditFarm farm = poor_cell(Design::paired);
  const AuditSettings exact = settings({Method::egg_totals_exact});
  FarmTally tally = audit_trials(farm, exact, 0, 3);
  const FarmTally before = tally;
  AuditSettings fewer_criteria = exact;
  fewer_criteria.criteria.pop_back();
  for (const AuditSettings& other :
       {settings({Method::egg_totals_jeffreys}),
        settings({Method::egg_totals_exact, Method::egg_totals_jeffreys}), fewer_criteria}) {
    CHECK_THROWS_AS(add(tally, audit_trials(farm, other, 0, 3)), CalculationError);
    CHECK(tally == before);
  }
}

TEST_CASE("Audited coverage is that of theory where a method's model is true") {
  constexpr std::size_t trials = 1'000;
  // sqrt(0.9 x 0.1 / 1,000): one Monte Carlo error of a coverage of 90%.
  const double error = std::sqrt(0.9 * 0.1 / trials);
  SECTION("pooled count, exact: never below its level") {
    // Without variation within animals the totals of eggs are Poisson variables of the true
    // ratio, given the levels, so that an exact interval (Clopper & Pearson 1934, Biometrika
    // 26:404-413) holds the truth at least as often as its level, for k = 0.5 as well.
    for (const double k : {1'000.0, 0.5}) {
      AuditFarm farm;
      farm.model.k = k;
      farm.model.within_cv = 0;
      farm.model.efficacy = 0.8;
      const FarmTally tally = audit_trials(farm, settings({Method::egg_totals_exact}), 0, trials);
      const MethodTally& exact = tally_by(tally, Method::egg_totals_exact);
      CHECK(coverage(tally, exact).value >= 0.9 - 3 * error);
      // Each one-sided limit errs in at most 5%.
      const double one_sided = 0.05 + 3 * std::sqrt(0.05 * 0.95 / trials);
      CHECK(share(exact.truth_above, trials).value <= one_sided);
      CHECK(share(exact.truth_below, trials).value <= one_sided);
    }
  }
  SECTION("log ratio, paired: at its level for many animals and eggs") {
    AuditFarm farm;
    farm.model.animals = 40;
    farm.model.mean_eggs = 60;
    farm.model.k = 3;
    farm.model.within_cv = 0.2;
    farm.model.efficacy = 0.5;
    const FarmTally tally = audit_trials(
        farm, settings({Method::paired_log_ratio, Method::egg_totals_exact}), 0, trials);
    // Three Monte Carlo errors are 0.0285.
    CHECK(std::abs(coverage(tally, tally_by(tally, Method::paired_log_ratio)).value - 0.9) <= 0.03);
    // The luck of counting alone is too little where animals vary within: the audit sees it.
    CHECK(coverage(tally, tally_by(tally, Method::egg_totals_exact)).value < 0.85);
  }
}
