#include "season_audit.hpp"

#include "simulated_cells.hpp"
#include "yard.hpp"

#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/survey/survey_row.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

using namespace eggfall;

namespace {

constexpr std::array seasons{0.25, 0.4, 0.7, 1.0, 1.5, 2.5};
constexpr std::array control_groups{std::size_t{0}, std::size_t{6}, std::size_t{10},
                                    std::size_t{15}};
constexpr std::array truths{0.80, 0.85, 0.88, 0.899, 0.901, 0.93, 0.949, 0.951, 0.97, 0.99};

// The goal: so many wrong claims of 100 at most, where there are controls enough.
constexpr std::size_t controls_enough = 10;
constexpr double allowed = 0.06;
constexpr double allowed_near = 0.10; ///< Within two points of a threshold, these included.
constexpr double near_points = 0.02;

struct Cell {
  double season;
  std::size_t controls;
  double truth;
};

std::vector<Cell> all_cells() {
  std::vector<Cell> cells;
  for (const double season : seasons)
    for (const std::size_t control : control_groups)
      for (const double truth : truths)
        cells.push_back({season, control, truth});
  return cells;
}

/// What one way to judge made of a cell's trials.
struct Answers {
  std::uint64_t wrong = 0;
  std::uint64_t clear = 0;
};

struct Tally {
  Answers counts;     ///< The class by the counts alone.
  Answers controlled; ///< The class of the controlled design alone.
  Answers standing;

  Tally& operator+=(const Tally& more) {
    for (Answers Tally::*each : {&Tally::counts, &Tally::controlled, &Tally::standing}) {
      (this->*each).wrong += (more.*each).wrong;
      (this->*each).clear += (more.*each).clear;
    }
    return *this;
  }
};

class SeasonAudit {
public:
  explicit SeasonAudit(const StandingAudit& audit) : audit_(audit) {
    const CutOffs cut_offs = published_cut_offs();
    settings_.criteria = cut_offs.criteria.front();
    settings_.windows = cut_offs.windows;
    Group sheep;
    sheep.host = "sheep";
    rule_ = *choose_cut_off(settings_.criteria, sheep).cut_off;
  }

  AuditedPart run() {
    tallies_ = tallies_of<Tally>(cells_.size(), audit_.trials,
                                 [this](Tally& tally, std::size_t cell, std::uint32_t number) {
                                   count(tally, cells_[cell], number);
                                 });
    check();
    return {heading() + wrong_table() + clear_table() + summary(), std::move(breaches_)};
  }

private:
  void count(Tally& tally, const Cell& cell, std::uint32_t number) const {
    const std::string name =
        fmt::format("x {} controls {} truth {}", cell.season, cell.controls, cell.truth);
    Scenario scenario = sound({cell.truth, 20, cell.controls, cell.season, 14});
    for (ScenarioGroup& group : scenario.groups) {
      group.model.k = 0.8;
      group.model.within_cv = 0.5;
    }
    const Trial trial =
        simulate(scenario, stream_group(fmt::format("season {}", audit_.seed), name), number).trial;
    const Standing standing = survey_rows(trial, number + 1, settings_).front().standing;
    add(tally.counts, standing.by_counts_alone, cell.truth);
    add(tally.standing, standing.verdict_class, cell.truth);
    if (cell.controls > 0)
      add(tally.controlled, controlled_class(trial), cell.truth);
  }

  VerdictClass controlled_class(const Trial& trial) const {
    auto comparison = compare(Design::controlled, trial.groups.front(), control_of(trial));
    if (!comparison)
      return VerdictClass::not_applicable;
    const Evidence evidence(std::move(*comparison), {});
    const Interval interval =
        evidence.interval(Method::guarded_posterior, settings_.criteria.level);
    return interval.usable()
               ? verdict_class_by(settings_.criteria.rule, rule_, *evidence.reduction(), interval)
               : VerdictClass::not_applicable;
  }

  /// Below the lower threshold it is wrong to call a drench good; at or above the expected
  /// efficacy, to find resistance or suspect it; in between, to call it resistant outright.
  bool is_wrong(VerdictClass verdict_class, double truth) const {
    if (truth < *rule_.lower)
      return verdict_class == VerdictClass::susceptible;
    if (truth >= rule_.expected)
      return finds_resistance(verdict_class);
    return verdict_class == VerdictClass::resistant;
  }

  void add(Answers& answers, VerdictClass verdict_class, double truth) const {
    answers.wrong += is_wrong(verdict_class, truth) ? 1 : 0;
    answers.clear +=
        verdict_class != VerdictClass::inconclusive && verdict_class != VerdictClass::not_applicable
            ? 1
            : 0;
  }

  double allowed_at(double truth) const {
    constexpr double rounding = 1e-9;
    const bool near = std::abs(truth - *rule_.lower) <= near_points + rounding ||
                      std::abs(truth - rule_.expected) <= near_points + rounding;
    return near ? allowed_near : allowed;
  }

  bool misses(const Cell& cell, const Answers& answers) const {
    return cell.controls >= controls_enough &&
           of_100(answers.wrong, audit_.trials) > 100 * allowed_at(cell.truth);
  }

  /// Between the thresholds the rule itself promises nothing: a drench that is resistant by it
  /// falls short of the expected efficacy, which is true there.
  bool is_between(double truth) const { return truth >= *rule_.lower && truth < rule_.expected; }

  /// What must hold whatever else the standing makes of seasons.
  void check() {
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      const Cell& cell = cells_[c];
      const Tally& tally = tallies_[c];
      const auto breach = [&](std::string_view what) {
        breaches_.push_back(fmt::format("season x {}, {} controls, truth {:.1f}%: {}", cell.season,
                                        cell.controls, 100 * cell.truth, what));
      };
      if (cell.controls == 0 && tally.standing.wrong > tally.counts.wrong)
        breach("without a control more standings are wrong than classes by the counts");
      if (is_between(cell.truth) ||
          !too_many(tally.standing.wrong, audit_.trials, allowed_at(cell.truth)))
        continue;
      if (cell.season == 1)
        breach("where nothing changed too many standings are wrong");
      if (cell.season < 1 && cell.truth >= rule_.expected)
        breach("a season that lowers counts makes a good drench look bad");
    }
    check_together();
  }

  /// A few trials of each cell show little by themselves: all cells far from a threshold in which
  /// nothing changed, with controls enough.
  void check_together() {
    std::uint64_t wrong = 0;
    std::uint32_t trials = 0;
    for (std::size_t c = 0; c < cells_.size(); ++c)
      if (cells_[c].season == 1 && cells_[c].controls >= controls_enough &&
          !is_between(cells_[c].truth) && allowed_at(cells_[c].truth) == allowed) {
        wrong += tallies_[c].standing.wrong;
        trials += audit_.trials;
      }
    if (too_many(wrong, trials, allowed))
      breaches_.push_back(
          fmt::format("where nothing changed {} of {} standings are wrong, far from "
                      "any threshold",
                      wrong, trials));
  }

  std::string heading() const {
    return fmt::format(
        "Judged by {} for sheep: lower threshold {:g}%, expected efficacy {:g}%. {} trials of each "
        "cell, seed {}.\n\n",
        settings_.criteria.title, 100 * *rule_.lower, 100 * rule_.expected, audit_.trials,
        audit_.seed);
  }

  /// "12.5 / 3.0 / **7.0**": counts alone, controlled design alone, standing.
  static std::string three(std::size_t controls, const std::array<double, 3>& of_100, bool marked) {
    return fmt::format(" {:.1f} / {} / {}{:.1f}{} |", of_100[0],
                       controls > 0 ? fmt::format("{:.1f}", of_100[1]) : "-", marked ? "**" : "",
                       of_100[2], marked ? "**" : "");
  }

  std::string start_of_row(std::size_t cell) const {
    return fmt::format("| x {:g} | {} |", cells_[cell].season, cells_[cell].controls);
  }

  std::string wrong_table() const {
    std::string out = "Wrong claims of 100, by the counts alone / by the controlled design alone / "
                      "by the standing (bold: misses the goal):\n\n| season | controls |";
    for (const double truth : truths)
      out += fmt::format(" {:g}% |", in_points(truth));
    out += "\n|---|---|" + repeated("---|", truths.size());
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      if (c % truths.size() == 0)
        out += '\n' + start_of_row(c);
      const Tally& tally = tallies_[c];
      out += three(cells_[c].controls,
                   {of_100(tally.counts.wrong, audit_.trials),
                    of_100(tally.controlled.wrong, audit_.trials),
                    of_100(tally.standing.wrong, audit_.trials)},
                   misses(cells_[c], tally.standing));
    }
    return out + "\n\n";
  }

  /// The mean over the truths of a row, from the first to before the last.
  std::array<double, 3> mean_clear(std::size_t row, std::size_t first, std::size_t last) const {
    Tally sum;
    for (std::size_t c = row + first; c < row + last; ++c)
      sum += tallies_[c];
    const auto mean = [&](const Answers& answers) {
      return of_100(answers.clear, audit_.trials) / static_cast<double>(last - first);
    };
    return {mean(sum.counts), mean(sum.controlled), mean(sum.standing)};
  }

  std::string clear_table() const {
    const auto first_at = [](double threshold) {
      return static_cast<std::size_t>(std::ranges::lower_bound(truths, threshold) - truths.begin());
    };
    const std::size_t middle = first_at(*rule_.lower);
    const std::size_t good = first_at(rule_.expected);
    std::string out = "Clear answers of 100, in the same order, the mean over truths:\n\n"
                      "| season | controls | failing | between | good |\n|---|---|---|---|---|\n";
    for (std::size_t row = 0; row < cells_.size(); row += truths.size()) {
      out += start_of_row(row);
      for (const auto& [from, to] : {std::pair{std::size_t{0}, middle}, std::pair{middle, good},
                                     std::pair{good, truths.size()}})
        out += three(cells_[row].controls, mean_clear(row, from, to), false);
      out += '\n';
    }
    return out + '\n';
  }

  static double in_points(double truth) { return std::round(1000 * truth) / 10; }

  static std::string repeated(std::string_view text, std::size_t times) {
    std::string out;
    for (std::size_t i = 0; i < times; ++i)
      out += text;
    return out;
  }

  /// How many cells miss the goal, by each way to judge, and the worst of them.
  std::string summary() const {
    std::string out =
        "With 10 controls or more:\n\n| | failing and good drenches: cells that miss the goal | "
        "most wrong claims | between the thresholds: cells | most |\n|---|---|---|---|---|\n";
    const std::array<std::pair<std::string_view, Answers Tally::*>, 3> judges{
        {{"counts alone", &Tally::counts},
         {"controlled design alone", &Tally::controlled},
         {"standing", &Tally::standing}}};
    for (const auto& [name, answers] : judges)
      out += fmt::format("| {} | {} | {} |\n", name, missed(answers, false), missed(answers, true));
    return out;
  }

  /// "3 of 84 | 12.0 (x 0.4, 10 controls, 88%)"
  std::string missed(Answers Tally::*answers, bool between) const {
    std::size_t cells = 0;
    std::size_t missing = 0;
    std::optional<std::size_t> worst;
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      if (cells_[c].controls < controls_enough || is_between(cells_[c].truth) != between)
        continue;
      ++cells;
      missing += misses(cells_[c], tallies_[c].*answers) ? 1 : 0;
      if (!worst || (tallies_[c].*answers).wrong > (tallies_[*worst].*answers).wrong)
        worst = c;
    }
    const Cell& cell = cells_[*worst];
    return fmt::format("{} of {} | {:.1f} (x {:g}, {} controls, {:g}%)", missing, cells,
                       of_100((tallies_[*worst].*answers).wrong, audit_.trials), cell.season,
                       cell.controls, in_points(cell.truth));
  }

  StandingAudit audit_;
  SurveySettings settings_;
  CutOff rule_;
  std::vector<Cell> cells_ = all_cells();
  std::vector<Tally> tallies_;
  std::vector<std::string> breaches_;
};

} // namespace

AuditedPart audit_seasons(const StandingAudit& audit) {
  return SeasonAudit(audit).run();
}
