#include "report/evidence_part.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/drawing/html_page.hpp"
#include "judgement/eggs_left.hpp"
#include "judgement/larvae_words.hpp"
#include "judgement/provenance_words.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/ranking_words.hpp"
#include "report/result_words.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <span>
#include <utility>

namespace eggfall {
namespace {

std::string limits_text(const Interval& interval) {
  if (interval.has_one_limit())
    return fmt::format("{}: {}", limit_in_words(interval), interval.why_not);
  return interval.usable()
             ? fmt::format("{} to {}", percent(*interval.lower), percent_of_limit(*interval.upper))
             : "none: " + interval.why_not;
}

std::string eggs_text(const SampleSummary& sample) {
  return sample.animals == 0 ? "-" : fmt::format("{}", sample.eggs);
}

/// Eggs left of 100, to three digits.
std::string left_text(double eggs) {
  return eggs > 0 && eggs < 0.01 ? "under 0.01" : number(eggs);
}

void add_falls_table(pugi::xml_node part, const TrialAnalysis& trial) {
  const bool season_taken_out = std::ranges::any_of(trial.groups, [](const GroupAnalysis& group) {
    return group.judgement.own_fall.has_value();
  });
  HtmlTable table{fmt::format("Falls of all groups{}; eggs left are of 100 without the drench",
                              season_taken_out ? ", the season taken out as far as untreated "
                                                 "animals tell of it"
                                               : ""),
                  {"Group", "Animals", "Eggs seen before", "Eggs seen after", "Mean EPG before",
                   "Mean EPG after", "Fall", "Interval", "Eggs left", "Verdict"},
                  {}};
  for (const GroupAnalysis& group : trial.groups) {
    const SampleSummary& before = compared_with(group.evidence);
    const DrenchFall fall = drench_fall(group.evidence, group.judgement);
    std::string left = "-";
    if (const auto eggs = eggs_left(group.evidence, group.judgement)) {
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
      "Chances, of 100",
      {"Group", "Fall of the counts", "Verdict", "The best", "Or within 2 points of it"},
      {}};
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

/// Tables of several groups side by side hold so many, to fit on paper.
constexpr std::size_t groups_abreast = 4;

/// Groups of a trial in their order, so many at a time.
template <typename Add> void add_abreast(const TrialAnalysis& trial, const Add& add) {
  for (std::size_t first = 0; first < trial.groups.size(); first += groups_abreast) {
    const std::size_t count = std::min(groups_abreast, trial.groups.size() - first);
    add(std::span<const GroupAnalysis>(trial.groups).subspan(first, count));
  }
}

/// A table with a column a group, and one row for each key that any of them has, in the order in
/// which they come.
template <typename Key> class AbreastTable {
public:
  explicit AbreastTable(std::string caption, std::string first_head)
      : table_{std::move(caption), {std::move(first_head)}, {}} {}

  void start(const std::string& group) { table_.heads.push_back(group); }

  void set(const Key& key, const std::string& head, std::string cell) {
    auto found = std::ranges::find(keys_, key);
    if (found == keys_.end()) {
      keys_.push_back(key);
      table_.rows.push_back({head});
      found = std::prev(keys_.end());
    }
    std::vector<std::string>& row = table_.rows[static_cast<std::size_t>(found - keys_.begin())];
    row.resize(table_.heads.size());
    row.back() = std::move(cell);
  }

  /// Rows of groups that lack a key are filled up.
  void add_to(pugi::xml_node part, std::string_view css_class = "") {
    if (keys_.empty())
      return;
    for (std::vector<std::string>& row : table_.rows)
      row.resize(table_.heads.size());
    add_wide_table(part, table_, css_class);
  }

private:
  HtmlTable table_;
  std::vector<Key> keys_;
};

void add_verdicts(pugi::xml_node part, std::span<const GroupAnalysis> groups) {
  AbreastTable<std::string> table("The verdict by every criterion, by the counts alone",
                                  "Criterion");
  for (const GroupAnalysis& group : groups) {
    table.start(group.evidence.group.name);
    for (const Verdict& verdict : group.judgement.verdicts)
      table.set(verdict.criteria,
                fmt::format("{} ({}; {})", verdict.criteria_title, verdict.citation.source,
                            verdict.citation.provenance == Provenance::memory
                                ? note_from_memory
                                : to_string(verdict.citation.provenance)),
                verdict_and_reason(verdict, group));
  }
  table.add_to(part, "words");
}

/// The other designs' limits side by side; a method that a design does not have, or that gives no
/// limits there, leaves its cell empty.
void add_other_designs(pugi::xml_node part, const GroupAnalysis& group) {
  if (group.evidence.other_designs.empty())
    return;
  HtmlTable table{fmt::format("{} by other designs: limits of the fall", group.evidence.group.name),
                  {"Method"},
                  {}};
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

void add_interval_table(pugi::xml_node part, std::span<const GroupAnalysis> groups) {
  AbreastTable<std::pair<Method, double>> table("Limits of the fall by every method", "Method");
  for (const GroupAnalysis& group : groups) {
    table.start(group.evidence.design ? fmt::format("{}, {}", group.evidence.group.name,
                                                    to_string(*group.evidence.design))
                                      : group.evidence.group.name);
    for (const Interval& interval : group.evidence.intervals)
      table.set({interval.method, interval.level},
                fmt::format("{}, {:g}%", title(interval.method), 100 * interval.level),
                limits_text(interval));
  }
  table.add_to(part);
}

void add_level_table(pugi::xml_node part, std::span<const GroupAnalysis> groups) {
  AbreastTable<double> table(
      "Where the true fall of the counts may lie, by the most doubtful of three witnesses",
      "Level, percent");
  for (const GroupAnalysis& group : groups) {
    table.start(group.evidence.group.name);
    if (group.evidence.law)
      for (const GuardedPart& part_of_it : guarded_parts(*group.evidence.law))
        table.set(part_of_it.level, fmt::format("{:g}", 100 * part_of_it.level),
                  fmt::format("{} to {}", percent(part_of_it.lower), percent(part_of_it.upper)));
  }
  table.add_to(part);
}

/// Figures side by side where there is room, with the key that they share below.
void add_panels(pugi::xml_node part, const std::vector<CaptionedFigure>& figures) {
  if (figures.empty())
    return;
  pugi::xml_node panels = add_element(part, "div", "", "panels");
  for (const CaptionedFigure& figure : figures)
    add_figure(panels, {figure.finding, figure.svg, ""});
  add_element(part, "p", figures.front().key, "note key");
}

void add_animal_panels(pugi::xml_node part, const TrialAnalysis& trial) {
  const std::optional<CountRange> range = count_range_of(trial);
  if (!range)
    return;
  add_element(part, "h3", "Each animal");
  std::vector<CaptionedFigure> figures;
  for (const GroupAnalysis& group : trial.groups)
    figures.push_back(animals_figure(group, *range));
  if (trial.control)
    figures.push_back(animals_figure(*trial.control, *range));
  add_panels(part, figures);
}

void add_dose_panels(pugi::xml_node part, const TrialAnalysis& trial) {
  std::vector<CaptionedFigure> figures;
  for (const GroupAnalysis& group : trial.groups)
    if (auto figure = doses_figure(group))
      figures.push_back(std::move(*figure));
  if (figures.empty())
    return;
  add_element(part, "h3", "Doses against weights");
  add_panels(part, figures);
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
  for (const WormAnalysis& worm : group.judgement.worms)
    for (const Bar* const bar : bars_of_worm_alone(worm, group))
      add_element(part, "p", fmt::format("{}: {}", capitalised(worm.worm), bar->text));
  if (const std::string note = worms_note(group); !note.empty())
    add_element(part, "p", note);
}

void add_visits_table(pugi::xml_node part, const std::string& name,
                      const std::vector<VisitFall>& visits,
                      const std::optional<EggReappearance>& reappearance) {
  HtmlTable table{
      fmt::format("{}: visits after treatment, beside the test", name),
      {"Visit", "Animals", "Mean EPG before", "Mean EPG then", "Fall", "Interval", "Not compared"},
      {}};
  const bool chances = reappearance && !reappearance->chances.empty();
  if (chances) {
    table.heads.push_back(fmt::format("Of 100: fall below {:g}%", 100 * reappearance->threshold));
    table.heads.emplace_back("Of 100: back by then");
  }
  for (const VisitFall& visit : visits) {
    table.rows.push_back({visit_name(visit.day) + (visit.is_test ? " (the test)" : ""),
                          fmt::format("{}", visit.animals), mean_text(visit.mean_before),
                          mean_text(visit.mean_epg), percent_or_missing(visit.reduction),
                          limits_text(visit.interval), not_compared_text(visit)});
    if (!chances)
      continue;
    const auto chance =
        std::ranges::find_if(reappearance->chances,
                             [&](const ReappearanceChance& each) { return each.day == visit.day; });
    const bool has = chance != reappearance->chances.end();
    table.rows.back().push_back(has ? chance_of_100(chance->below) : "");
    table.rows.back().push_back(has ? chance_of_100(chance->back_by) : "");
  }
  add_wide_table(part, table);
}

void add_visits(pugi::xml_node part, const GroupAnalysis& group) {
  if (group.course.visits.empty())
    return;
  add_element(part, "h4", "Visits after treatment");
  add_element(part, "p", fmt::format("The test is {}.", judged_on_text(group)));
  if (const auto figure = visits_figure(group))
    add_figure(part, *figure, "falls");
  add_visits_table(part, group.evidence.group.name, group.course.visits, group.course.reappearance);
  if (!group.course.reappearance)
    return;
  const EggReappearance& reappearance = *group.course.reappearance;
  add_element(
      part, "p",
      fmt::format("{}",
                  fmt::join(reappearance_sentences(reappearance, group.judgement.standing), " ")));
  add_element(part, "p",
              fmt::format("Eggs count as back at {} ({}; {}).{}", reappearance.definition,
                          reappearance.definition_citation.source,
                          provenance_text(reappearance.definition_citation),
                          reappearance.expected
                              ? fmt::format(" Weeks expected: {} ({}).",
                                            reappearance.expected->citation.source,
                                            provenance_text(reappearance.expected->citation))
                              : std::string()));
}

/// What belongs to the trial and is not in its table: as given, or a line to write on.
void add_heading(pugi::xml_node part, const ReportHeading& heading) {
  pugi::xml_node entries = add_element(part, "div", "", "entries");
  const auto add = [&](const char* what, const std::string& given) {
    pugi::xml_node entry = add_element(entries, "p", fmt::format("{}: ", what));
    if (given.empty())
      add_element(entry, "span", "", "blank");
    else
      add_element(entry, "strong", given);
  };
  add("Farm", heading.farm);
  add("Owner", heading.owner);
  add("Veterinarian", heading.veterinarian);
  add("Laboratory", heading.laboratory);
  add("Counting method", heading.counting_method);
  add("Date and signature", "");
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
    return value ? plain_number(static_cast<double>(*value)) : std::string();
  };
  const auto eggs = [](const std::optional<Count>& count) {
    return count ? fmt::format("{}", count->eggs.value()) : std::string();
  };
  const auto epg = [](const std::optional<Count>& count) {
    return count ? plain_number(count->epg()) : std::string();
  };
  add_column("Eggs before", [&](std::size_t i) { return eggs(animals[i].before); });
  add_column("Eggs after", [&](std::size_t i) { return eggs(animals[i].after); });
  add_column("EPG before", [&](std::size_t i) { return epg(animals[i].before); });
  add_column("EPG after", [&](std::size_t i) { return epg(animals[i].after); });
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
  // Days that all animals share are told once.
  const auto add_days = [&](const char* head, const char* sample, const char* when,
                            const auto& day_of) {
    std::vector<std::optional<int>> found;
    for (std::size_t i = 0; i < animals.size(); ++i)
      found.push_back(day_of(i));
    if (!found.empty() && found.front() &&
        std::ranges::all_of(found, [&](const auto& day) { return day == found.front(); }))
      table.caption += fmt::format("; {} {} day{} {}", sample, *found.front(),
                                   *found.front() == 1 ? "" : "s", when);
    else
      add_column(head, [&](std::size_t i) { return shown(found[i]); });
  };
  add_days("Days before", "first sample", "before treatment",
           [&](std::size_t i) { return days.animals.at(i).before; });
  add_days("Days after", "second sample", "after it",
           [&](std::size_t i) { return days.animals.at(i).after; });
  add_wide_table(part, table, "animals");
}

void add_group_evidence(pugi::xml_node parent, const GroupAnalysis& group, const std::string& id) {
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
  add_visits(part, group);
  if (const std::string why = disagreement_text(group.evidence.disagreement); !why.empty())
    add_element(part, "p", why);
  add_element(part, "p",
              "Spread before: " + spread_text(group.evidence.before) +
                  ". After: " + spread_text(group.evidence.after) + ".");
}

/// The numbers behind it all, for whoever wants to check them.
void add_appendix(pugi::xml_node body, const TrialAnalysis& trial) {
  pugi::xml_node part = add_element(body, "section", "", "appendix");
  add_element(part, "h2", fmt::format("Appendix: methods and animals of {}", trial.trial));
  std::vector<CaptionedFigure> intervals;
  const FallRange range = fall_range_of(trial);
  for (const GroupAnalysis& group : trial.groups)
    if (auto figure = intervals_figure(group, range))
      intervals.push_back(std::move(*figure));
  if (!intervals.empty())
    add_element(part, "h3", "The interval by every method");
  add_panels(part, intervals);
  add_abreast(trial, [&](std::span<const GroupAnalysis> groups) {
    add_interval_table(part, groups);
    add_level_table(part, groups);
    add_verdicts(part, groups);
  });
  pugi::xml_node animals = add_element(part, "div", "", "two-abreast");
  for (const GroupAnalysis& group : trial.groups)
    add_other_designs(animals, group);
  for (const GroupAnalysis& group : trial.groups)
    add_animals(animals, fmt::format("Each animal of {}", group.evidence.group.name),
                group.evidence.animal_results, &group.field.doses, group.field.days);
  if (trial.control)
    add_animals(animals, fmt::format("Each animal of {} (untreated)", trial.control->group.name),
                trial.control->animal_results, nullptr, trial.control->days);
}

} // namespace

void add_evidence_part(pugi::xml_node body, const TrialAnalysis& trial,
                       const ReportHeading& heading, std::size_t number) {
  pugi::xml_node part = add_element(body, "section", "", "evidence");
  add_element(part, "h2", fmt::format("For the veterinarian: the evidence of {}", trial.trial));
  add_heading(part, heading);
  add_figure(part, falls_figure(trial), "falls");
  add_falls_table(part, trial);
  add_ranking(part, trial);
  add_animal_panels(part, trial);
  add_dose_panels(part, trial);
  if (trial.control) {
    add_element(part, "h3", trial.control->group.name + " (untreated control)");
    add_element(part, "p", capitalised(control_text(*trial.control)) + ".");
    if (!trial.control->visits.empty())
      add_visits_table(part, trial.control->group.name, trial.control->visits, std::nullopt);
  }
  for (std::size_t i = 0; i < trial.groups.size(); ++i)
    add_group_evidence(part, trial.groups[i], fmt::format("trial-{}-group-{}", number, i + 1));
  add_appendix(body, trial);
}

} // namespace eggfall
