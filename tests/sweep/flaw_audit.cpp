#include "flaw_audit.hpp"

#include "flaws.hpp"
#include "simulated_cells.hpp"

#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/judgement/verdict.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

using namespace eggfall;

namespace {

constexpr double allowed = 0.06; ///< Share of trials that may comfort or accuse.

struct Tally {
  std::uint64_t counts_comfort = 0; ///< The class by the counts alone.
  std::uint64_t counts_accuse = 0;
  std::uint64_t works = 0;    ///< Standings that comfort without a word of care.
  std::uint64_t provided = 0; ///< Those that take for granted what the table does not say.
  std::uint64_t care = 0;     ///< Those that ask for care.
  std::uint64_t accuse = 0;

  std::uint64_t comfort() const { return works + provided + care; }

  Tally& operator+=(const Tally& more) {
    for (std::uint64_t Tally::*each : {&Tally::counts_comfort, &Tally::counts_accuse, &Tally::works,
                                       &Tally::provided, &Tally::care, &Tally::accuse})
      this->*each += more.*each;
    return *this;
  }
};

void add(Tally& tally, const Standing& standing) {
  const auto one_if = [](bool holds) { return holds ? 1U : 0U; };
  const bool comforts = standing.verdict_class == VerdictClass::susceptible;
  tally.counts_comfort += one_if(standing.by_counts_alone == VerdictClass::susceptible);
  tally.counts_accuse += one_if(finds_resistance(standing.by_counts_alone));
  tally.care += one_if(comforts && standing.care);
  tally.provided += one_if(comforts && !standing.care && !standing.provided.empty());
  tally.works += one_if(comforts && !standing.care && standing.provided.empty());
  tally.accuse += one_if(finds_resistance(standing.verdict_class));
}

class FlawAudit {
public:
  explicit FlawAudit(const StandingAudit& audit) : audit_(audit), cut_offs_(published_cut_offs()) {
    settings_.simulations = 0; // no standing asks what a larger trial would have shown
  }

  AuditedPart run() {
    tallies_ = tallies_of<Tally>(kinds * all_flaws().size(), audit_.trials,
                                 [this](Tally& tally, std::size_t cell, std::uint32_t number) {
                                   count(tally, cell, number);
                                 });
    check();
    return {heading() + failing_table() + good_table(), std::move(breaches_)};
  }

private:
  static constexpr std::size_t kinds = 4; ///< Failing or good, with the flaw or without.

  static std::size_t cell_of(std::size_t flaw, bool failing, bool flawed) {
    return kinds * flaw + (failing ? 0 : 2) + (flawed ? 0 : 1);
  }

  void count(Tally& tally, std::size_t cell, std::uint32_t number) const {
    const Flaw& flaw = all_flaws()[cell / kinds];
    FlawedTrial asked;
    asked.failing = cell % kinds < 2;
    asked.flawed = cell % 2 == 0;
    asked.seed = stream_group(fmt::format("flaws {}", audit_.seed),
                              fmt::format("{} {}", flaw.name, cell % kinds));
    asked.number = number;
    const TrialAnalysis analysis = analyse(flaw.trial(flaw, asked), cut_offs_, settings_);
    add(tally, analysis.groups.front().judgement.standing);
  }

  const Tally& tally(std::size_t flaw, bool failing, bool flawed) const {
    return tallies_[cell_of(flaw, failing, flawed)];
  }

  void check() {
    for (std::size_t f = 0; f < all_flaws().size(); ++f) {
      const Flaw& flaw = all_flaws()[f];
      const auto breach = [&](std::string_view what) {
        breaches_.push_back(fmt::format("{}: {}", flaw.name, what));
      };
      if (flaw.comforts_none && tally(f, true, true).comfort() > 0)
        breach("a standing comforts of a failing drench, though a bar holds of every trial");
      if (flaw.accuses_none && tally(f, false, true).accuse > 0)
        breach("a standing accuses a good drench, though a bar holds of every trial");
      if (too_many(tally(f, true, false).comfort(), audit_.trials, allowed))
        breach("without the flaw a failing drench is called good too often");
      if (too_many(tally(f, false, false).accuse, audit_.trials, allowed))
        breach("without the flaw a good drench is accused too often");
    }
    check_together();
  }

  /// A few trials of each flaw show little by themselves: all that have none.
  void check_together() {
    Tally failing;
    Tally good;
    for (std::size_t f = 0; f < all_flaws().size(); ++f) {
      failing += tally(f, true, false);
      good += tally(f, false, false);
    }
    const auto trials = static_cast<std::uint32_t>(all_flaws().size()) * audit_.trials;
    if (too_many(failing.comfort(), trials, allowed) || too_many(good.accuse, trials, allowed))
      breaches_.push_back(
          fmt::format("of {} trials without a flaw {} standings comfort of a failing "
                      "drench, and of as many {} accuse a good one",
                      trials, failing.comfort(), good.accuse));
  }

  std::string heading() const {
    return fmt::format("Judged by {} for sheep (90% and 95%), with all published criteria beside "
                       "it. {} trials of each cell, seed {}.\n\n",
                       cut_offs_.criteria.front().title, audit_.trials, audit_.seed);
  }

  std::string share(std::uint64_t number) const {
    return fmt::format("{:.1f}", of_100(number, audit_.trials));
  }

  std::string in_bold_if_many(const std::string& text, std::uint64_t number) const {
    const bool many = of_100(number, audit_.trials) > 100 * allowed;
    return many ? "**" + text + "**" : text;
  }

  /// "2.0 / 0.5 / 1.0": works, works provided that, with care.
  std::string comfort(const Tally& tally) const {
    return in_bold_if_many(
        fmt::format("{} / {} / {}", share(tally.works), share(tally.provided), share(tally.care)),
        tally.comfort());
  }

  std::string failing_table() const {
    std::string out =
        "A failing drench: of 100 trials, how many are called susceptible. Standings in three "
        "parts: without a word of care / provided that what the table does not say is so / with "
        "care (bold: more than 6 in all).\n\n"
        "| flaw | how its trials are made | truth | by the counts | standing | without the flaw, "
        "by the counts | standing |\n|---|---|---|---|---|---|---|\n";
    for (std::size_t f = 0; f < all_flaws().size(); ++f) {
      const Flaw& flaw = all_flaws()[f];
      const Tally& with = tally(f, true, true);
      const Tally& without = tally(f, true, false);
      out += fmt::format("| {} | {} | {:g}% | {} | {} | {} | {} |\n", flaw.name, flaw.how,
                         100 * flaw.failing, share(with.counts_comfort), comfort(with),
                         share(without.counts_comfort), comfort(without));
    }
    return out;
  }

  std::string good_table() const {
    std::string out =
        "\nA good drench: of 100 trials, how many are called resistant, low resistant or suspected "
        "(bold: more than 6).\n\n"
        "| flaw | truth | by the counts | standing | without the flaw, by the counts | standing |\n"
        "|---|---|---|---|---|---|\n";
    for (std::size_t f = 0; f < all_flaws().size(); ++f) {
      const Flaw& flaw = all_flaws()[f];
      const Tally& with = tally(f, false, true);
      const Tally& without = tally(f, false, false);
      const auto accused = [this](const Tally& tally) {
        return in_bold_if_many(share(tally.accuse), tally.accuse);
      };
      out += fmt::format("| {} | {:g}% | {} | {} | {} | {} |\n", flaw.name, 100 * flaw.good,
                         share(with.counts_accuse), accused(with), share(without.counts_accuse),
                         accused(without));
    }
    return out;
  }

  StandingAudit audit_;
  CutOffs cut_offs_;
  AnalysisSettings settings_;
  std::vector<Tally> tallies_;
  std::vector<std::string> breaches_;
};

} // namespace

AuditedPart audit_flaws(const StandingAudit& audit) {
  return FlawAudit(audit).run();
}
