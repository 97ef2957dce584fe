#include "posterior_checks.hpp"

#include "interval_checks.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "statistics/count_luck.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

using namespace eggfall;

namespace {

const std::vector<double> levels{0.5, 0.9, 0.95, 0.99};
constexpr double level = 0.95; ///< Where one will do.

bool encloses(const Interval& outer, const Interval& inner) {
  return *outer.lower <= *inner.lower && *outer.upper >= *inner.upper;
}

std::string two(const Interval& a, const Interval& b) {
  const auto shown = [](const Interval& interval) {
    return interval.usable() ? fmt::format("{} to {}", *interval.lower, *interval.upper)
                             : "none: " + interval.why_not;
  };
  return shown(a) + " and " + shown(b);
}

class PosteriorChecks {
public:
  PosteriorChecks(Tally& tally, const SweptTrial& trial)
      : tally_(tally), trial_(trial), evidence_(*trial.comparison, {}) {}

  void run() {
    const Method own = posterior_method(trial_.design);
    const auto percentile = intervals(Method::bootstrap_percentile);
    const auto corrected = intervals(Method::bootstrap_bca);
    check_nested(tally_, trial_, percentile);
    check_nested(tally_, trial_, corrected);
    check_none_above_none(tally_, trial_, percentile);
    check_none_above_none(tally_, trial_, corrected);
    // Whether a posterior is precise enough at one level says nothing of another.
    check_nested(tally_, trial_, intervals(own));
    // Where the bootstrap gives limits at a level and none at a higher, the guard ends between them
    // (docs/reliability.md).
    const auto guarded = intervals(Method::guarded_posterior);
    if (corrected.front().usable() == corrected.back().usable())
      check_nested(tally_, trial_, guarded);
    check_guard(own);
    check_same_again(own);
    if (evidence_.posterior())
      check_density(*evidence_.posterior());
    check_analysis();
  }

private:
  template <typename What> void check(std::string_view invariant, bool holds, What&& what) {
    tally_.check(trial_, invariant, holds, std::forward<What>(what));
  }

  std::vector<Interval> intervals(Method method) {
    return check_intervals(tally_, trial_, evidence_, method, levels);
  }

  void check_guard(Method own) {
    const Interval guarded = evidence_.interval(Method::guarded_posterior, level);
    const Interval posterior = evidence_.interval(own, level);
    check("guarded-posterior: limits exactly if the posterior has them",
          guarded.usable() == posterior.usable(), [&] { return two(guarded, posterior); });
    if (!guarded.usable())
      return;
    check("guarded-posterior: encloses the posterior", encloses(guarded, posterior),
          [&] { return two(guarded, posterior); });
    // Of the animals as a witness: silent where they are under five, or resamples have no bound.
    const GuardedLaw& law = *evidence_.guarded();
    if (law.speaks(Witness::animals)) {
      const Interval animals =
          reduction_interval(Method::guarded_posterior, level, law.limits(Witness::animals, level));
      check("guarded-posterior: encloses what the animals say",
            !animals.usable() || encloses(guarded, animals), [&] { return two(guarded, animals); });
    }
    check_luck(guarded);
  }

  void check_luck(const Interval& guarded) {
    const OrReason<RatioLimits> luck = CountLuck(*trial_.comparison).limits(level);
    if (!luck)
      return;
    check("guarded-posterior: no narrower than the luck of counting",
          *guarded.lower <= 1 - luck->upper &&
              (luck->lower == 0 || *guarded.upper >= 1 - luck->lower),
          [&] { return two(guarded, reduction_interval(Method::guarded_posterior, level, luck)); });
  }

  void check_same_again(Method own) {
    const Evidence again(*trial_.comparison, {});
    for (const Method method :
         {Method::guarded_posterior, own, Method::bootstrap_bca, Method::bootstrap_percentile}) {
      const Interval first = evidence_.interval(method, level);
      const Interval second = again.interval(method, level);
      check(std::string(to_string(method)) + ": the same counts give the same numbers",
            first.lower == second.lower && first.upper == second.upper &&
                first.why_not == second.why_not && first.error == second.error,
            [&] { return two(first, second); });
    }
  }

  void check_density(const LogRatioDensity& density) {
    const std::string name(to_string(posterior_method(trial_.design)));
    constexpr std::array probabilities{0.001, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 0.999};
    double before = -INFINITY;
    for (const double p : probabilities) {
      const Quadrature quantile = density.quantile(p);
      const double back = density.probability_below(std::exp(quantile.value)).value;
      const auto shown = [&] {
        return fmt::format("quantile {} is {} (error {}), below which is {}", p, quantile.value,
                           quantile.error, back);
      };
      check(name + ": quantiles are numbers and rise",
            std::isfinite(quantile.value) && std::isfinite(quantile.error) && quantile.error >= 0 &&
                quantile.value > before,
            shown);
      check(name + ": the probability below a quantile is its own", ::close(back, p, 1e-6), shown);
      before = quantile.value;
    }
    const std::vector<double>& values = density.density();
    check(name + ": a density of numbers, none below 0",
          std::ranges::all_of(values, [](double v) { return std::isfinite(v) && v >= 0; }),
          [] { return std::string("another"); });
    const Quadrature mean = density.mean_log_ratio();
    check(name + ": means are numbers",
          std::isfinite(mean.value) && std::isfinite(mean.error) &&
              std::isfinite(density.mean_ratio().value),
          [&] { return fmt::format("{}", mean.value); });
    check_alike(name + ": the order of animals does not matter", density,
                reordered(*trial_.comparison, trial_.number));
    if (pairs_animals(trial_.design)) // the prior of a mean is one of eggs seen, at its factors
      check_alike(name + ": the unit does not matter", density,
                  in_another_unit(*trial_.comparison));
  }

  /// Whether the posterior of `other` has the same quantiles as `density`, in its own widths.
  void check_alike(const std::string& invariant, const LogRatioDensity& density,
                   const Comparison& other) {
    const OrReason<LogRatioDensity> again = posterior(other, {});
    const double width = density.quantile(0.95).value - density.quantile(0.05).value;
    double most = again ? 0 : INFINITY;
    if (again)
      for (const double p : {0.05, 0.5, 0.95})
        most =
            std::max(most, std::abs(density.quantile(p).value - again->quantile(p).value) / width);
    // The same sums in another order, over many steps, in widths of the interval.
    check(invariant, most <= 1e-6, [&] { return fmt::format("{} widths apart", most); });
  }

  void check_analysis() {
    static const CutOffs cut_offs = published_cut_offs();
    constexpr std::size_t most_animals = 60;
    if (std::ranges::any_of(trial_.trial.groups,
                            [](const Group& group) { return group.animals.size() > most_animals; }))
      return;
    Trial trial = trial_.trial;
    for (Group& group : trial.groups)
      group.host = "sheep";
    AnalysisSettings settings;
    settings.simulations = 1;
    const TrialAnalysis analysis = analyse(trial, cut_offs, settings);
    for (const std::string& text :
         {analysis_summary(analysis, Verbosity::full), analysis_csv({analysis}),
          analysis_report({analysis}, settings)}) {
      const std::size_t position =
          std::min({text.find("nan%"), text.find("inf%"), text.find(",nan"), text.find(",inf"),
                    text.find("-inf"), text.find("\"nan"), text.find(" nan")});
      check("analysis: no text shows what is no number", position == std::string::npos,
            [&] { return text.substr(position > 60 ? position - 60 : 0, 100); });
    }
  }

  Tally& tally_;
  const SweptTrial& trial_;
  Evidence evidence_;
};

} // namespace

void check_posterior(Tally& tally, const SweptTrial& trial) {
  PosteriorChecks(tally, trial).run();
}
