#include "report/evidence_part.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/drawing/html_page.hpp"
#include "judgement/eggs_left.hpp"
#include "judgement/provenance_words.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/ranking_words.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

std::string limits_text(const Interval& interval) {
  return interval.usable()
             ? fmt::format("{} to {}", percent(*interval.lower), percent(*interval.upper))
             : "none: " + interval.why_not;
}

std::string eggs_text(const SampleSummary& sample) {
  return sample.animals == 0 ? "-" : fmt::format("{}", sample.eggs);
}

/// A figure with what it is of below it.
void add_figure(pugi::xml_node part, const std::optional<std::string>& svg,
                std::string_view caption) {
  if (!svg)
    return;
  pugi::xml_node figure = add_element(part, "figure");
  add_svg(figure, *svg);
  add_element(figure, "figcaption", caption);
}

/// Eggs left of 100, to three digits.
std::string left_text(double eggs) {
  return eggs > 0 && eggs < 0.01 ? "under 0.01" : fmt::format("{:.3g}", eggs);
}

void add_falls_table(pugi::xml_node part, const TrialAnalysis& trial) {
  const bool season_taken_out = std::ranges::any_of(trial.groups, [](const GroupAnalysis& group) {
    return group.judgement.own_fall.has_value();
  });
  HtmlTable table{fmt::format("Falls of all groups{}; eggs left are of 100 without the drench",
                              season_taken_out ? ", the season taken out as far as untreated "
                                                 "animals tell of it"
                                               : ""),
                  {"Group", "Animals", "Eggs seen before", "after", "Mean EPG before", "after",
                   "Fall", "Interval", "Eggs left", "Verdict"},
                  {}};
  for (const GroupAnalysis& group : trial.groups) {
    const SampleSummary& before = compared_with(group.evidence);
    const DrenchFall fall = drench_fall(group);
    std::string left = "-";
    if (const auto eggs = eggs_left(group)) {
      left = left_text(eggs->found);
      if (eggs->most)
        left += fmt::format(" ({} to {})", left_text(*eggs->least), left_text(*eggs->most));
    }
    table.rows.push_back(
        {group.evidence.group.name, fmt::format("{}", group.evidence.animals), eggs_text(before),
         eggs_text(group.evidence.after), mean_text(before.mean_epg),
         mean_text(group.evidence.after.mean_epg), percent_or_missing(fall.reduction),
         group.evidence.design ? limits_text(fall.interval) : "-", left, verdict_words(group)});
  }
  add_wide_table(part, table);
}

void add_ranking(pugi::xml_node part, const TrialAnalysis& trial) {
  if (!trial.ranking)
    return;
  add_element(part, "h3", "Which drench?");
  HtmlTable table{
      "Chances, of 100", {"Group", "Fall", "Verdict", "The best", "Or within 2 points of it"}, {}};
  for (const RankedGroup& ranked : trial.ranking->groups) {
    const GroupAnalysis& group = analysis_of(trial, ranked.group);
    table.rows.push_back({ranked.group, percent_or_missing(group.evidence.reduction),
                          verdict_words(group), of_100(ranked.best), of_100(ranked.close_to_best)});
  }
  if (!table.rows.empty())
    add_wide_table(part, table);
  for (const std::string& sentence : ranking_sentences(trial))
    add_element(part, "p", sentence);
  for (const std::string& sentence : combination_sentences(trial))
    add_element(part, "p", sentence);
}

void add_verdicts(pugi::xml_node part, const GroupAnalysis& group) {
  HtmlTable table{"The verdict by every criterion", {"Criterion", "Verdict", "Source"}, {}};
  for (const Verdict& verdict : group.judgement.verdicts)
    table.rows.push_back({verdict.criteria_title, verdict_text(verdict, group),
                          fmt::format("{} ({})", verdict.citation.source,
                                      verdict.citation.provenance == Provenance::memory
                                          ? note_from_memory
                                          : to_string(verdict.citation.provenance))});
  add_wide_table(part, table, "words");
}

/// The other designs' limits side by side; a method that a design does not have, or that gives no
/// limits there, leaves its cell empty.
void add_other_designs(pugi::xml_node part, const GroupAnalysis& group) {
  if (group.evidence.other_designs.empty())
    return;
  HtmlTable table{"The same by other designs: limits of the fall", {"Method"}, {}};
  std::vector<Method> methods;
  table.rows.push_back({"fall"});
  for (const DesignEstimate& other : group.evidence.other_designs) {
    table.heads.emplace_back(to_string(other.design));
    table.rows.front().push_back(percent_or_missing(other.reduction));
    for (const Interval& interval : other.intervals)
      if (std::ranges::find(methods, interval.method) == methods.end())
        methods.push_back(interval.method);
  }
  for (const Method method : methods) {
    table.rows.push_back({std::string(title(method))});
    for (const DesignEstimate& other : group.evidence.other_designs) {
      const auto found = std::ranges::find(other.intervals, method, &Interval::method);
      const bool usable = found != other.intervals.end() && found->usable();
      table.rows.back().push_back(usable ? limits_text(*found) : "");
    }
  }
  add_wide_table(part, table);
}

void add_intervals(pugi::xml_node part, const GroupAnalysis& group) {
  if (!group.evidence.design)
    return;
  add_figure(part, intervals_figure(group), "The interval by every method; the dot is the fall.");
  HtmlTable table{fmt::format("Every interval, {} design", to_string(*group.evidence.design)),
                  {"Method", "Level", "Limits of the fall"},
                  {}};
  for (const Interval& interval : group.evidence.intervals)
    table.rows.push_back({std::string(title(interval.method)),
                          fmt::format("{:g}%", 100 * interval.level), limits_text(interval)});
  add_wide_table(part, table);
  if (const std::string why = disagreement_text(group.evidence.disagreement); !why.empty())
    add_element(part, "p", why);
  add_other_designs(part, group);
}

void add_posterior(pugi::xml_node part, const GroupAnalysis& group) {
  if (!group.evidence.law)
    return;
  add_figure(
      part, posterior_figure(group),
      "Where the true fall may lie: the higher the curve, the better that fall agrees with the "
      "counts. At a tenth of its height the 90% interval ends.");
  HtmlTable table{"Where the true fall may lie, by the most doubtful of three witnesses",
                  {"Level, percent", "From", "To"},
                  {}};
  for (const GuardedPart& part_of_it : guarded_parts(*group.evidence.law))
    table.rows.push_back({fmt::format("{:g}", 100 * part_of_it.level), percent(part_of_it.lower),
                          percent(part_of_it.upper)});
  add_wide_table(part, table);
}

void add_worms(pugi::xml_node part, const GroupAnalysis& group) {
  if (group.judgement.worms.empty())
    return;
  HtmlTable table{"Worms", {"Worm", "Before", "After", "Fall", "Interval", "Verdict"}, {}};
  if (!pairs_animals(design_of(group.judgement.worms.front())))
    table.heads[1] = "Control";
  for (const WormAnalysis& worm : group.judgement.worms) {
    const VerdictClass stands = worm.judgement.standing.verdict_class;
    table.rows.push_back(
        {worm.worm, found_text(found_before(worm)), found_text(found_after(worm)),
         percent_or_missing(worm.evidence.reduction), limits_text(worm.evidence.headline),
         stands == VerdictClass::not_applicable
             ? "none"
             : fmt::format("{} by {}", to_string(stands), verdict_of(worm).criteria_title)});
  }
  add_wide_table(part, table);
  if (const std::string note = worms_note(group); !note.empty())
    add_element(part, "p", note);
}

void add_list(pugi::xml_node part, const std::vector<std::string>& items) {
  pugi::xml_node list = add_element(part, "ul");
  for (const std::string& item : items)
    add_element(list, "li", item);
}

void add_caveats(pugi::xml_node part, const GroupAnalysis& group) {
  std::vector<std::string> texts;
  for (const Caveat& caveat : group.caveats)
    texts.push_back(caveat.severity == Severity::serious ? "Serious: " + caveat.text : caveat.text);
  for (const WormAnalysis& worm : group.judgement.worms)
    for (const Caveat& caveat : worm.caveats)
      if (const std::string text = fmt::format("{}: {}", worm.worm, caveat.text);
          std::ranges::find(texts, text) == texts.end())
        texts.push_back(text);
  if (texts.empty())
    return;
  add_element(part, "h4", "What to beware of");
  add_list(part, texts);
}

void add_dropped(pugi::xml_node part, const GroupAnalysis& group) {
  if (group.evidence.dropped.empty())
    return;
  add_element(part, "h4", "Animals left out of the comparison");
  std::vector<std::string> texts;
  for (const DroppedAnimal& dropped : group.evidence.dropped)
    texts.push_back(fmt::format("{} ({})", dropped.animal, dropped.reason));
  add_list(part, texts);
}

void add_animals(pugi::xml_node part, const std::string& caption,
                 const std::vector<AnimalResult>& animals, const DoseCheck* doses,
                 const DayCheck& days) {
  HtmlTable table{caption, {"Animal"}, {}};
  for (const AnimalResult& animal : animals)
    table.rows.push_back({animal.animal});
  // A column in which no cell holds anything is left out.
  const auto add_column = [&](const char* head, const auto& cell_of) {
    std::vector<std::string> cells;
    for (std::size_t i = 0; i < animals.size(); ++i)
      cells.push_back(cell_of(i));
    if (std::ranges::all_of(cells, &std::string::empty))
      return;
    table.heads.emplace_back(head);
    for (std::size_t i = 0; i < animals.size(); ++i)
      table.rows[i].push_back(std::move(cells[i]));
  };
  const auto shown = [](const auto& value) {
    return value ? fmt::format("{:.4g}", static_cast<double>(*value)) : std::string();
  };
  const auto eggs = [](const std::optional<Count>& count) {
    return count ? fmt::format("{}", count->eggs.value()) : std::string();
  };
  const auto epg = [](const std::optional<Count>& count) {
    return count ? fmt::format("{:g}", count->epg()) : std::string();
  };
  add_column("Eggs before", [&](std::size_t i) { return eggs(animals[i].before); });
  add_column("after", [&](std::size_t i) { return eggs(animals[i].after); });
  add_column("EPG before", [&](std::size_t i) { return epg(animals[i].before); });
  add_column("after", [&](std::size_t i) { return epg(animals[i].after); });
  add_column("Fall", [&](std::size_t i) {
    return animals[i].reduction ? percent(*animals[i].reduction) : std::string();
  });
  if (doses != nullptr) {
    add_column("Weight, kg", [&](std::size_t i) { return shown(doses->animals.at(i).weight_kg); });
    add_column("Dose, mL", [&](std::size_t i) { return shown(doses->animals.at(i).dose_ml); });
    add_column("Of label", [&](std::size_t i) {
      const auto& share = doses->animals.at(i).share;
      return share ? fmt::format("{:.0f}%", 100 * *share) : std::string();
    });
  }
  add_column("Days before", [&](std::size_t i) { return shown(days.animals.at(i).before); });
  add_column("after", [&](std::size_t i) { return shown(days.animals.at(i).after); });
  add_wide_table(part, table);
}

void add_group(pugi::xml_node parent, const GroupAnalysis& group, const std::string& id) {
  pugi::xml_node part = add_element(parent, "section", "", "group");
  part.append_attribute("id").set_value(id.c_str());
  const std::string what = group_description(group.evidence.group);
  add_element(part, "h3",
              group.evidence.group.name + (what.empty() ? "" : fmt::format(" ({})", what)));
  add_element(
      part, "p",
      fmt::format("Fall: {}.{}", fall_text(group),
                  group.evidence.design ? " " + capitalised(counts_text(group)) + "." : ""));
  if (const std::string season = season_text(group); !season.empty())
    add_element(part, "p", fmt::format("Season: {}.", season));
  const Standing& standing = group.judgement.standing;
  add_element(part, "p", fmt::format("Standing: {}.", verdict_words(group)));
  std::vector<std::string> bars;
  for (const Bar& bar : standing.bars)
    bars.push_back(fmt::format("{} ({})", bar.text, to_string(bar.provenance)));
  add_list(part, bars);
  add_element(part, "p", "Verdict: " + first_verdict_text(group) + ".");
  if (group.judgement.probabilities)
    add_element(part, "p", capitalised(chance_text(group)) + ".");
  if (!group.judgement.larger_trials.empty())
    add_element(part, "p", capitalised(larger_trials_text(group)) + ".");
  add_caveats(part, group);
  add_dropped(part, group);
  add_worms(part, group);
  add_posterior(part, group);
  add_intervals(part, group);
  add_verdicts(part, group);
  add_figure(
      part, animals_figure(group),
      "A line an animal, before and after, on a scale on which equal falls are equally steep. "
      "Hollow: no egg seen. Dashed: the count that one egg makes.");
  add_animals(part, "Each animal", group.evidence.animal_results, &group.field.doses,
              group.field.days);
  add_element(part, "p",
              "Spread before: " + spread_text(group.evidence.before) +
                  ". After: " + spread_text(group.evidence.after) + ".");
}

} // namespace

void add_evidence_part(pugi::xml_node body, const TrialAnalysis& trial, std::size_t number) {
  pugi::xml_node part = add_element(body, "section", "", "evidence");
  add_element(part, "h2", fmt::format("For the veterinarian: the evidence of {}", trial.trial));
  add_figure(part, forest_figure(trial),
             "Dot: the fall. Bar: its interval. Tinted: between the lower threshold (dotted) and "
             "the expected fall (dashed).");
  add_falls_table(part, trial);
  add_ranking(part, trial);
  for (std::size_t i = 0; i < trial.groups.size(); ++i)
    add_group(part, trial.groups[i], fmt::format("trial-{}-group-{}", number, i + 1));
  if (trial.control) {
    add_element(part, "h3", trial.control->group.name + " (untreated control)");
    add_element(part, "p", capitalised(control_text(*trial.control)) + ".");
    add_animals(part, "Each untreated animal", trial.control->animal_results, nullptr,
                trial.control->days);
  }
}

} // namespace eggfall
