#include "plan/plan_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/csv_row.hpp"
#include "formats/terminal_text.hpp"
#include "plan/plan_words.hpp"
#include "report/cut_offs_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

constexpr std::size_t most_columns = 6;

std::string flock_text(const Plan& plan) {
  const PlannedFlock& flock = plan.question.flock;
  std::string text =
      fmt::format("Plan: {}{}, mean {:g} EPG expected, k {:.2g}", flock.host,
                  flock.worm.empty() ? "" : " (" + flock.worm + ")", flock.mean_epg, flock.k);
  if (!flock.classes.empty())
    text += fmt::format("; {} to be tested", drug_classes_text(flock.classes));
  if (flock.animals)
    text += fmt::format("; {} animals at hand", *flock.animals);
  return text + fmt::format("; judged by {}.", plan.question.aim.criteria.front().title);
}

std::string pilot_text(const Pilot& pilot) {
  return fmt::format("From a pilot count of {} animals ({} eggs seen): mean {:.3g} EPG, 90% limits "
                     "{:.3g} to {:.3g}; k {:.2g}, {:.2g} to {:.2g}.",
                     pilot.animals, pilot.eggs, pilot.mean_epg, pilot.lower_mean_epg,
                     pilot.upper_mean_epg, pilot.k, pilot.lower_k, pilot.upper_k);
}

std::string how_to_read(const PlanAim& aim, std::size_t c) {
  const AuditCriterion& criterion = aim.criteria[c];
  return fmt::format(
      "Of 100 such tests, how many call the drench susceptible / how many resistant{}, if it truly "
      "removes so much; the rest end without a clear answer. Right: the rarer of the two right "
      "answers (susceptible at {}, resistant at {}{}).",
      criterion.rule == Rule::two_one_sided ? " or low resistant" : "",
      efficacy_text(clearly_works(criterion)), efficacy_text(clearly_fails(criterion)),
      aim.criteria.size() > 1 ? fmt::format(", for {}", drug_classes_text(aim.classes[c])) : "");
}

std::string whole(const Share& share) {
  return fmt::format("{:.0f}", 100 * share.value);
}

/// The options of one design and way of counting.
std::string options_table(const std::vector<const PlannedOption*>& options, const Plan& plan,
                          std::size_t c) {
  const PlannedOption& first = *options.front();
  const PlanOption& option = first.option;
  const PlanAim& aim = plan.question.aim;
  const std::vector<double> efficacies = shown_efficacies(plan, aim.criteria[c]);
  TerminalTable table{0, 0, {{8}, {7}}};
  std::vector<std::string> heads{"animals", "eggs"};
  for (const double efficacy : efficacies)
    heads.push_back(efficacy_text(efficacy));
  table.columns.insert(table.columns.end(), efficacies.size(), {8});
  heads.emplace_back("right");
  table.columns.push_back({6});
  if (option.counting.cost) {
    heads.emplace_back("cost");
    table.columns.push_back({7});
  }
  if (option.counting.minutes) {
    heads.emplace_back("hours");
    table.columns.push_back({6});
  }
  std::string out =
      heading(fmt::format(
          "{}: {}; one egg stands for {:g} EPG ({:.2g} eggs a sample before treatment)",
          capitalised(std::string(to_string(option.design))), design_text(option.design),
          option.counting.factor.value(), first.needs.eggs_a_sample)) +
      table.row("", heads);
  for (const PlannedOption* const planned : options) {
    std::vector<std::string> cells{fmt::format("{}", planned->option.group_size),
                                   fmt::format("{:.0f}", planned->needs.eggs_a_group)};
    for (const PlanOutcome& outcome : planned->outcomes)
      if (std::ranges::find(efficacies, outcome.efficacy) != efficacies.end())
        cells.push_back(both_calls(outcome, aim.criteria[c], c));
    cells.push_back(whole(power(*planned, aim, c)));
    if (planned->needs.cost)
      cells.push_back(fmt::format("{:.4g}", *planned->needs.cost));
    if (planned->needs.hours)
      cells.push_back(fmt::format("{:.1f}", *planned->needs.hours));
    out += table.row("", cells);
  }
  return out;
}

std::string tables(const Plan& plan, std::size_t c) {
  std::string out;
  for (const auto& alike : alike_but_for_size(plan))
    out += options_table(alike, plan, c);
  return out;
}

std::string asks_text(const Minimum& minimum) {
  std::vector<std::string> asks;
  if (minimum.animals)
    asks.push_back(fmt::format(
        "at least {:g} animals a group{}", *minimum.animals,
        minimum.better_animals ? fmt::format(" (better {:g})", *minimum.better_animals) : ""));
  add_count_minima(asks, minimum);
  return in_words(asks);
}

/// "WAAVP 1992 asks for ...", or of a source that is no criterion "... are asked for (...)".
std::string asked_text(const std::string& asked_by, const Minimum& minimum) {
  const std::string from =
      fmt::format("({}; {})", minimum.citation.source, to_string(minimum.citation.provenance));
  return asked_by == minimum.citation.source
             ? fmt::format("{} are asked for {}.", capitalised(asks_text(minimum)), from)
             : fmt::format("{} asks for {} {}.", asked_by, asks_text(minimum), from);
}

std::string published_text(const std::vector<NamedMinimum>& minima) {
  std::string text = "To stand beside this:";
  std::vector<const Minimum*> told;
  for (const auto& [asked_by, minimum] : minima) {
    const bool again = std::ranges::any_of(
        told, [&minimum = minimum](const Minimum* other) { return *other == minimum; });
    told.push_back(&minimum);
    if (!again)
      text += ' ' + asked_text(asked_by, minimum);
  }
  return text + " The guideline of 2023 (Kaplan et al., Veterinary Parasitology 318:109936) offers "
                "three options of group size; their numbers are not among this program's notes, so "
                "look them up there and compare.";
}

std::string model_note(const Plan& plan) {
  return fmt::format(
      "Chances are of {} simulated tests each, fewer where that is as sure; the standard error of "
      "each is at most {:.1f} of 100. They hold if counts vary "
      "as assumed (k {:.2g}, between two samples of one animal {:g}).",
      plan.settings.trials, 50 / std::sqrt(static_cast<double>(plan.settings.trials)),
      plan.question.flock.k, plan.question.flock.within_cv);
}

/// Each class with its Monte Carlo error.
std::string every_chance(const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  const auto shown = [](const Share& share) {
    return fmt::format("{:.1f} ({:.1f})", 100 * share.value, 100 * share.error);
  };
  std::string out = heading("Every chance, of 100 (Monte Carlo error in brackets)");
  for (std::size_t c = 0; c < aim.criteria.size(); ++c)
    for (const PlannedOption& planned : plan.all) {
      out += heading(in_words(planned.option) +
                     (aim.criteria.size() > 1 ? ", " + drug_classes_text(aim.classes[c]) : ""));
      const TerminalTable table{0, 0, {{10}, {13}, {13}, {13}, {13}, {13}}};
      out +=
          table.row("", {"removes", "susceptible", "low resist.", "resistant", "unclear", "none"});
      for (const PlanOutcome& outcome : planned.outcomes) {
        const auto share_of = [&](VerdictClass verdict_class) {
          return chance(outcome, aim.criteria[c], c, verdict_class);
        };
        const Share unclear = aim.criteria[c].rule == Rule::reduction_and_lower_limit
                                  ? share_of(VerdictClass::suspected)
                                  : share_of(VerdictClass::inconclusive);
        out += table.row("", {efficacy_text(outcome.efficacy),
                              shown(share_of(VerdictClass::susceptible)),
                              shown(share_of(VerdictClass::low_resistant)),
                              shown(share_of(VerdictClass::resistant)), shown(unclear),
                              shown(share_of(VerdictClass::not_applicable))});
      }
    }
  return out;
}

} // namespace

std::vector<double> shown_efficacies(const Plan& plan, const AuditCriterion& criterion) {
  const PlanAim& aim = plan.question.aim;
  std::vector<double> shown;
  for (const double efficacy : simulated_efficacies(aim)) {
    const bool of_power = std::abs(efficacy - clearly_works(criterion)) < 1e-9 ||
                          std::abs(efficacy - clearly_fails(criterion)) < 1e-9;
    const bool asked = std::ranges::any_of(
        aim.efficacies, [&](double wanted) { return std::abs(efficacy - wanted) < 1e-9; });
    if (of_power || asked)
      shown.push_back(efficacy);
  }
  while (shown.size() > most_columns) // the first and last stay
    shown.erase(shown.end() - 2);
  return shown;
}

std::vector<std::vector<const PlannedOption*>> alike_but_for_size(const Plan& plan) {
  std::vector<std::vector<const PlannedOption*>> runs;
  for (const PlannedOption& planned : plan.all) {
    if (runs.empty() || runs.back().front()->option.design != planned.option.design ||
        runs.back().front()->option.counting != planned.option.counting)
      runs.emplace_back();
    runs.back().push_back(&planned);
  }
  return runs;
}

std::vector<std::size_t> group_sizes(const Plan& plan) {
  std::vector<std::size_t> sizes;
  for (const PlannedOption& planned : plan.all)
    if (std::ranges::find(sizes, planned.option.group_size) == sizes.end())
      sizes.push_back(planned.option.group_size);
  return sizes;
}

const PlannedOption& shown_option(const Plan& plan) {
  const PlannedOption* const best = recommended(plan);
  return *(best != nullptr ? best : most_powerful(plan.all, plan.question.aim));
}

std::vector<std::string> plan_notes(const Plan& plan) {
  const std::vector<AuditCriterion>& criteria = plan.question.aim.criteria;
  std::vector<std::string> notes{published_text(plan.published), model_note(plan)};
  const bool from_memory = std::ranges::any_of(criteria, [](const AuditCriterion& criterion) {
    return criterion.cut_off.citation.provenance == Provenance::memory;
  });
  if (from_memory)
    notes.push_back(flowing(check_note({criteria.front().title})));
  return notes;
}

std::string plan_text(const Plan& plan, Verbosity verbosity) {
  const PlanAim& aim = plan.question.aim;
  std::string out = paragraph(flock_text(plan));
  if (plan.pilot)
    out += paragraph(pilot_text(*plan.pilot));
  out += dashed_line();
  for (std::size_t c = 0; c < aim.criteria.size(); ++c)
    out += (c > 0 ? "\n" : "") + paragraph(how_to_read(aim, c)) + tables(plan, c);
  out += heading("Advice");
  for (const std::string& sentence : plan_advice(plan))
    out += paragraph(sentence, "  ");
  out += '\n';
  for (const std::string& note : plan_notes(plan))
    out += paragraph(note);
  if (verbosity == Verbosity::full)
    out += every_chance(plan);
  return out;
}

std::string plan_csv(const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  std::string out =
      "design,animals_a_group,factor,animals,samples,eggs_a_sample,cost,hours,classes,"
      "criteria,true_efficacy_percent,trials,susceptible_percent,"
      "low_resistant_percent,resistant_percent,suspected_percent,"
      "inconclusive_percent,not_applicable_percent,power_percent\r\n";
  for (const PlannedOption& planned : plan.all)
    for (std::size_t c = 0; c < aim.criteria.size(); ++c)
      for (const PlanOutcome& outcome : planned.outcomes) {
        const auto share_of = [&](VerdictClass verdict_class) {
          return percent_csv_cell(chance(outcome, aim.criteria[c], c, verdict_class).value);
        };
        out +=
            csv_row({std::string(to_string(planned.option.design)),
                     fmt::format("{}", planned.option.group_size),
                     fmt::format("{}", planned.option.counting.factor.value()),
                     fmt::format("{}", planned.needs.animals),
                     fmt::format("{}", planned.needs.samples),
                     fmt::format("{}", planned.needs.eggs_a_sample), csv_cell(planned.needs.cost),
                     csv_cell(planned.needs.hours), csv_cell(to_string(aim.classes[c])),
                     csv_cell(aim.criteria[c].name), percent_csv_cell(outcome.efficacy),
                     fmt::format("{}", outcome.tally.trials), share_of(VerdictClass::susceptible),
                     share_of(VerdictClass::low_resistant), share_of(VerdictClass::resistant),
                     share_of(VerdictClass::suspected), share_of(VerdictClass::inconclusive),
                     share_of(VerdictClass::not_applicable),
                     percent_csv_cell(power(planned, aim, c).value)}) +
            "\r\n";
      }
  return out;
}

} // namespace eggfall
