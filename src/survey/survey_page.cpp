#include "survey/survey_page.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "formats/drawing/html_page.hpp"
#include "judgement/provenance_words.hpp"
#include "report/result_words.hpp"
#include "report/safety_note.hpp"
#include "survey/course_words.hpp"
#include "survey/courses_figure.hpp"
#include "survey/pictures_figure.hpp"
#include "survey/standings_figure.hpp"
#include "survey/survey_falls_figure.hpp"
#include "survey/survey_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view survey_page_style = R"css(
.found { border: 2px solid var(--ink); padding: 0.2rem 1rem; }
.side-by-side { display: grid; gap: 0.4rem 1.6rem; align-items: start;
  grid-template-columns: repeat(auto-fit, minmax(min(100%, 20rem), 1fr)); }
.side-by-side figure { margin: 0.4rem 0; max-width: 26rem; }
.years { display: grid; gap: 0.3rem 1rem;
  grid-template-columns: repeat(auto-fill, minmax(9.6rem, 1fr)); }
.years figure { max-width: 14rem; margin: 0; display: grid; grid-row: span 2;
  grid-template-rows: subgrid; grid-template-columns: minmax(0, 1fr); }
.years .finding { align-self: end; font-size: 0.85rem; line-height: 1.25; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 0.3rem; border-bottom: 1px solid var(--ink); }
summary { padding: 0.7rem 0; cursor: pointer; }
.strata td, .strata th { padding: 0.2rem 0.4rem; }
.strata td, .tests td { white-space: nowrap; }
.strata thead th, .tests thead th { white-space: normal; }
.tests { font-size: 0.85rem; }
.tests td, .tests th { padding: 0.15rem 0.35rem; text-align: left; }
.farms td, .farms th { text-align: left; }
@media screen and (max-width: 37rem) {
  .years { gap: 0.3rem 0.4rem; grid-template-columns: repeat(2, minmax(0, 1fr)); }
  .blocks td { white-space: normal; } .blocks td:last-child { text-align: right; }
}
@media print {
  body { font-size: 9.5pt; line-height: 1.3; } table { font-size: 8pt; }
  h1 { font-size: 15pt; } p, ul { margin: 1mm 0; } h3, caption, .finding, .lead { break-after: avoid; }
  .side-by-side { grid-template-columns: repeat(2, 1fr); gap: 0 6mm; }
  .years { grid-template-columns: repeat(5, 1fr); gap: 1mm 3mm; }
  .years .finding { font-size: 7.5pt; }
  .strata { break-inside: avoid; } .note { font-size: 8.5pt; }
  .found { break-inside: avoid; padding: 0 3mm 1mm; } th, td { padding: 0.2mm 1.2mm; }
  .strata td, .tests td { white-space: normal; }
}
)css";

/// Rows of a table that stand open on the page.
constexpr std::size_t most_open_rows = 40;
/// Rows of a table that can be opened; files hold more.
constexpr std::size_t most_table_rows = 1'000;

/// A table; a long one is to be opened first, and a longer one ends and names what holds the rest.
void add_long_table(pugi::xml_node parent, HtmlTable table, std::string_view what,
                    std::string_view file, std::string_view css_class) {
  const std::size_t all = table.rows.size();
  if (all > most_table_rows)
    table.rows.resize(most_table_rows);
  if (all <= most_open_rows) {
    add_wide_table(parent, table, css_class);
    return;
  }
  pugi::xml_node details = add_element(parent, "details");
  add_element(details, "summary",
              all > most_table_rows
                  ? fmt::format("{} in numbers: the first {} of {} rows ({} has all)", what,
                                most_table_rows, all, file)
                  : fmt::format("{} in numbers: {} rows ({} has them too)", what, all, file));
  add_wide_table(details, table, css_class);
}

std::uint64_t of_class(const VerdictTally& tally, VerdictClass verdict_class) {
  return tally[static_cast<std::size_t>(verdict_class)];
}

/// How many farms these are of; nothing unless every row names its own.
std::optional<std::size_t> farms_of(const std::vector<SurveyRow>& rows) {
  std::set<std::string> farms;
  for (const SurveyRow& row : rows) {
    if (row.group.farm.empty())
      return std::nullopt;
    farms.insert(row.group.farm);
  }
  return rows.empty() ? std::nullopt : std::optional(farms.size());
}

std::string many(std::uint64_t number, std::string_view noun) {
  return fmt::format("{} {}{}", number, noun, plural(number));
}

/// The groups of the survey, in the words of its headline.
struct FoundGroups {
  std::uint64_t none = 0;
  std::uint64_t open = 0;
  std::uint64_t resistant = 0; ///< Resistant and low resistant groups.
  std::uint64_t susceptible = 0;
};

FoundGroups found_groups(const VerdictTally& tally) {
  return {of_class(tally, VerdictClass::not_applicable),
          of_class(tally, VerdictClass::inconclusive) + of_class(tally, VerdictClass::suspected),
          of_class(tally, VerdictClass::resistant) + of_class(tally, VerdictClass::low_resistant),
          of_class(tally, VerdictClass::susceptible)};
}

/// "7 leave it open": numbers of groups in words, doubt first. A number of none is left out, but
/// for the failing ones.
std::string headline(const FoundGroups& found, std::uint64_t groups) {
  if (groups == 0)
    return "No drench was tested";
  std::vector<std::string> parts;
  if (found.none > 0)
    parts.push_back(fmt::format("{} could not be judged", found.none));
  if (found.open > 0)
    parts.push_back(fmt::format("{} {} it open", found.open, found.open == 1 ? "leaves" : "leave"));
  parts.push_back(found.resistant == 0 ? std::string("none found resistance")
                                       : fmt::format("{} found resistance", found.resistant));
  if (found.susceptible > 0)
    parts.push_back(fmt::format("{} met the rule on the day", found.susceptible));
  return fmt::format("{}: {}", many(groups, "drench test"), eggfall::in_words(parts));
}

void add_found(pugi::xml_node body, const Survey& survey, const std::vector<SurveyRow>& rows) {
  const VerdictTally& tally = survey.all.strata.at({});
  const StratumSummary all = summarise(tally);
  const FoundGroups found = found_groups(tally);
  add_element(body, "h1", headline(found, all.tested));
  pugi::xml_node box = add_element(body, "div", "", "found");
  const auto farms = farms_of(rows);
  add_element(box, "p",
              fmt::format("{} treated, in {}{}; judged by {}, with {}.", many(all.tested, "group"),
                          many(survey.surveyed.trials, "trial"),
                          farms ? " on " + many(*farms, "farm") : std::string(),
                          survey.settings.criteria.title, level_text(survey.settings.criteria)));
  if (all.judged > 0) {
    if (found.open > 0)
      add_element(box, "p",
                  fmt::format("{} may work or fail: the counts, or a flaw of the trial, leave it "
                              "open.",
                              many(found.open, "group")));
    add_element(
        box, "p",
        fmt::format("Of 100 groups with a class {:.0f} are resistant{} ({:g}% limits {:.0f} "
                    "to {:.0f}), and {:.0f} would be if every open one were.",
                    100 * *all.resistant.value,
                    survey.settings.criteria.rule == Rule::two_one_sided ? " or low resistant" : "",
                    100 * StratumSummary::level, 100 * *all.resistant.lower,
                    100 * *all.resistant.upper, 100 * *all.at_most.value));
  }
  if (found.susceptible > 0)
    add_element(box, "p",
                "Of those that met the rule, some would be called \"works, but take care\" if "
                "judged one by one: warnings of a single trial, such as of few animals or a coarse "
                "count, are not weighed here.");
  add_element(box, "p", sampling_note());
  if (all.tested > 0)
    add_element(box, "p", survey_next_step(all));
}

HtmlTable strata_table(const Breakdown& breakdown, Rule rule) {
  HtmlTable table;
  table.caption = breakdown.fields.empty() ? std::string("All groups")
                                           : capitalised(breakdown_name(breakdown.fields));
  table.heads = {"Groups", "Tested"};
  const std::vector<VerdictColumn> columns = verdict_columns(rule);
  for (const VerdictColumn& column : columns)
    table.heads.push_back(capitalised(std::string(column.name)));
  table.heads.insert(table.heads.end(), {"No class", "Resistant of 100", "Limits", "Most"});
  for (const auto& [stratum, tally] : breakdown.strata) {
    const StratumSummary summary = summarise(tally);
    std::vector<std::string> row{stratum_name(stratum), fmt::format("{}", summary.tested)};
    for (const VerdictColumn& column : columns)
      row.push_back(fmt::format("{}", groups_in(column, tally)));
    row.push_back(fmt::format("{}", summary.tested - summary.judged));
    if (summary.judged == 0) {
      row.insert(row.end(), {"-", "-", "-"});
    } else {
      row.push_back(fmt::format("{:.0f}", 100 * *summary.resistant.value));
      row.push_back(fmt::format("{:.0f} to {:.0f}", 100 * *summary.resistant.lower,
                                100 * *summary.resistant.upper));
      row.push_back(fmt::format("{:.0f}", 100 * *summary.at_most.value));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

void add_breakdowns(pugi::xml_node body, const Survey& survey) {
  const Rule rule = survey.settings.criteria.rule;
  add_element(body, "h2", "How many, and where");
  add_element(body, "p", shares_note(rule), "note");
  pugi::xml_node whole = add_element(body, "div", "", "side-by-side");
  for (const CaptionedFigure& figure : standings_figures(survey.all, rule))
    add_figure(whole, figure);
  add_wide_table(body, strata_table(survey.all, rule), "strata");
  add_element(body, "p", standings_key(), "note lead");
  for (const Breakdown& breakdown : survey.breakdowns) {
    if (!says_something(breakdown))
      continue;
    // A bar of all groups stands above already.
    if (breakdown.strata.size() == 1) {
      add_element(
          body, "p",
          fmt::format("{} ({}).", breakdown_finding(breakdown), breakdown_name(breakdown.fields)));
      continue;
    }
    pugi::xml_node part = add_element(body, "section", "", "breakdown");
    add_element(part, "h3", capitalised(breakdown_name(breakdown.fields)));
    add_element(part, "p", breakdown_finding(breakdown) + ".", "finding");
    if (breakdown.strata.size() > most_strata_drawn)
      add_element(part, "p",
                  fmt::format("Drawn are {} of {}: those with most groups tested, and of as many "
                              "those with the larger share resistant. The table has all.",
                              most_strata_drawn, breakdown.strata.size()),
                  "lead");
    pugi::xml_node row = add_element(part, "div", "", "side-by-side");
    for (const CaptionedFigure& figure : standings_figures(breakdown, rule))
      add_figure(row, figure);
    add_long_table(part, strata_table(breakdown, rule),
                   capitalised(breakdown_name(breakdown.fields)), "the survey's JSON", "strata");
  }
}

std::string percent_cell(const std::optional<double>& proportion) {
  return proportion ? percent(*proportion) : std::string("-");
}

std::string limits_cell(const std::optional<double>& lower, const std::optional<double>& upper) {
  return lower && upper ? fmt::format("{} to {}", percent(*lower), percent_of_limit(*upper))
                        : std::string("-");
}

HtmlTable rows_table(const std::vector<FallsPanel>& panels) {
  HtmlTable table;
  table.caption = "The groups, by class, the least fall first";
  table.heads = {"Trial and group",
                 "Class",
                 "Farm",
                 "Animals",
                 "Fall",
                 "Interval",
                 "Stands",
                 "Why not by its counts alone"};
  for (const FallsPanel& panel : panels)
    for (const SurveyRow* const row : panel.rows)
      table.rows.push_back({fmt::format("{}: {}", row->trial, row->group.name),
                            to_string(row->group.classes), row->group.farm,
                            fmt::format("{}", row->animals), percent_cell(row->reduction),
                            row->interval ? limits_cell(row->interval->lower, row->interval->upper)
                                          : std::string("-"),
                            std::string(to_string(row->standing.verdict_class)),
                            row->reason.empty() ? bar_codes(row->standing) : row->reason});
  // Columns that are empty in all rows are left out, since phones have little room.
  for (std::size_t column = table.heads.size(); column-- > 1;)
    if (std::ranges::all_of(table.rows, [&](const auto& cells) { return cells[column].empty(); })) {
      const auto offset = static_cast<std::ptrdiff_t>(column);
      table.heads.erase(table.heads.begin() + offset);
      for (auto& cells : table.rows)
        cells.erase(cells.begin() + offset);
    }
  return table;
}

/// Groups that the figures leave out, and why; empty if there are none.
std::string not_drawn(const std::vector<FallsPanel>& panels, std::size_t drawn_panels) {
  std::size_t without = 0;
  std::size_t with = 0;
  for (const FallsPanel& panel : panels) {
    const auto falls = std::ranges::count_if(
        panel.rows, [](const SurveyRow* row) { return row->reduction.has_value(); });
    without += panel.rows.size() - static_cast<std::size_t>(falls);
    with += falls > 0 ? 1 : 0;
  }
  std::string text;
  if (without > 0)
    text = fmt::format("{} without a fall {} not drawn; the table says why.",
                       many(without, "group"), without == 1 ? "is" : "are");
  if (with > drawn_panels)
    text += fmt::format("{}Drawn are the {} classes with most groups, of {}; the table has all.",
                        text.empty() ? "" : " ", drawn_panels, with);
  return text;
}

void add_falls_part(pugi::xml_node body, const Survey& survey, const std::vector<SurveyRow>& rows) {
  add_element(body, "h2", "The groups, one by one");
  if (rows.empty()) {
    add_element(
        body, "p",
        fmt::format("The {} of this survey are not shown one by one: a page shows up to {}, "
                    "and a survey joined from parts keeps none. The CSV of groups that is written "
                    "as tables are surveyed has a row each; or make the page of a smaller table, "
                    "such as one region's.",
                    many(survey.surveyed.groups, "group"), most_rows_on_page));
    return;
  }
  const std::vector<FallsPanel> panels = falls_panels(rows, survey.settings.criteria);
  const std::vector<CaptionedFigure> figures = survey_falls_figures(panels);
  if (!figures.empty())
    add_element(body, "p", survey_falls_key(panels), "note lead");
  if (const std::string left_out = not_drawn(panels, figures.size()); !left_out.empty())
    add_element(body, "p", left_out);
  pugi::xml_node row = add_element(body, "div", "", "side-by-side falls");
  for (const CaptionedFigure& figure : figures)
    add_figure(row, figure);
  add_long_table(body, rows_table(panels), "The groups", "the CSV of groups", "tests");
}

HtmlTable courses_table(const std::vector<const FarmCourse*>& courses) {
  HtmlTable table;
  table.caption = "Chances of a drop, of 100, in the last test that can tell";
  table.heads = {"Farm and drench", "Word",
                 "Tests",           "Falls",
                 "Any since first", "Marked since first",
                 "Any since last",  "Marked since last"};
  for (const FarmCourse* const course : courses) {
    const CourseTest* last = nullptr;
    for (const CourseTest& test : course->tests)
      if (test.left_out.empty())
        last = &test;
    const std::optional<EfficacyDrop> none;
    const auto& first_drop = last != nullptr ? last->since_first : none;
    const auto& last_drop = last != nullptr ? last->since_last : none;
    table.rows.push_back({course_name(course->key), std::string(to_string(course->word)),
                          fmt::format("{}, {} to {}", course->tests.size(),
                                      course->tests.front().year, course->tests.back().year),
                          fmt::format("{} to {}", percent_cell(course->tests.front().reduction),
                                      percent_cell(course->tests.back().reduction)),
                          drop_of_100(first_drop), marked_drop_of_100(first_drop),
                          drop_of_100(last_drop), marked_drop_of_100(last_drop)});
  }
  return table;
}

HtmlTable course_tests_table(const std::vector<const FarmCourse*>& courses) {
  HtmlTable table;
  table.caption = "Every test of the farms' years";
  table.heads = {"Farm and drench", "Tested",          "Fall",           "Interval",
                 "Stands",          "Any since first", "Any since last", "Takes no part because"};
  for (const FarmCourse* const course : courses)
    for (const CourseTest& test : course->tests)
      table.rows.push_back({course_name(course->key),
                            test.day.empty() ? fmt::format("{}", test.year) : test.day,
                            percent_cell(test.reduction), limits_cell(test.lower, test.upper),
                            std::string(to_string(test.standing)), drop_of_100(test.since_first),
                            drop_of_100(test.since_last), test.left_out});
  return table;
}

/// A farm a row and a drench a column: what has become of it, and what its newest test showed.
HtmlTable farms_table(const std::vector<const FarmCourse*>& courses) {
  const std::string host = shared_host(courses);
  std::set<std::string> drenches;
  std::map<std::string, std::map<std::string, std::string>> farms;
  for (const FarmCourse* const course : courses) {
    const CourseTest& newest = course->tests.back();
    const std::string drench = drench_of_course(course->key, host);
    drenches.insert(drench);
    farms[course->key.farm][drench] = fmt::format(
        "{} ({} in {})", to_string(course->word),
        newest.reduction ? percent(*newest.reduction) : std::string("no fall"), newest.year);
  }
  HtmlTable table;
  table.caption =
      fmt::format("What has become of each farm's drenches{}, and the fall of the newest "
                  "test (drenches tested once alone have no years, and are not here)",
                  host.empty() ? std::string() : " for " + host);
  table.heads = {"Farm"};
  table.heads.insert(table.heads.end(), drenches.begin(), drenches.end());
  for (const auto& [farm, words] : farms) {
    std::vector<std::string> row{farm};
    for (const std::string& drench : drenches) {
      const auto found = words.find(drench);
      row.push_back(found == words.end() ? "-" : found->second);
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

void add_years(pugi::xml_node body, const Survey& survey, const std::vector<SurveyRow>& rows) {
  if (survey.courses.empty())
    return;
  add_element(body, "h2", "The years of the farms");
  add_element(body, "p", courses_counted(survey.courses));
  const std::vector<const FarmCourse*> all = courses_by_need(survey.courses);
  if (all.front()->word == CourseWord::lost || all.front()->word == CourseWord::slipping)
    add_element(body, "p", courses_next_step());
  add_long_table(body, farms_table(all), "Each farm's drenches", "the CSV of years", "farms");
  std::vector<const FarmCourse*> drawn = all;
  if (drawn.size() > most_courses_drawn) {
    drawn.resize(most_courses_drawn);
    add_element(
        body, "p",
        fmt::format("Drawn are {} of them, the worst first; the tables have the others, and "
                    "the CSV of years has all.",
                    most_courses_drawn));
  }
  add_element(body, "p", courses_key(), "note lead");
  const std::vector<CaptionedFigure> figures =
      courses_figures(drawn, rows, survey.settings.criteria);
  pugi::xml_node panels;
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    if (i == 0 || drawn[i]->word != drawn[i - 1]->word) {
      add_element(
          body, "h3",
          fmt::format("{}: {}", capitalised(std::string(to_string(drawn[i]->word))),
                      std::ranges::count(survey.courses, drawn[i]->word, &FarmCourse::word)));
      panels = add_element(body, "div", "", "years");
    }
    add_figure(panels, figures[i]);
  }
  add_element(body, "p", courses_note(), "note");
  add_long_table(body, courses_table(all), "The chances of a drop", "the CSV of years", "tests");
  add_long_table(body, course_tests_table(all), "All tests of these years", "the CSV of years",
                 "tests");
}

std::string efficacy_cell(const MedianAndLimits& efficacy) {
  return fmt::format("{} ({} to {})", percent(efficacy.median), percent(efficacy.lower),
                     percent(efficacy.upper));
}

HtmlTable pictures_table(const Survey& survey, const std::vector<RegionPicture>& pictures) {
  HtmlTable table;
  table.caption = "All farms together";
  table.heads = {"Groups", "Tested"};
  for (const double threshold : RegionPicture::thresholds)
    table.heads.push_back(fmt::format("Truly below {:g}%", 100 * threshold));
  table.heads.insert(table.heads.end(),
                     {"Resistant, one by one", "Half of farms exceed", "One more farm"});
  for (const RegionPicture& picture : pictures) {
    std::vector<std::string> row{picture_name(picture), fmt::format("{}", picture.groups)};
    for (const BelowThreshold& below : picture.below)
      row.push_back(number_below(below.groups));
    const auto tally = tally_of(survey, picture);
    row.push_back(
        tally ? fmt::format("{} of {}", found_groups(*tally).resistant, summarise(*tally).judged)
              : std::string("-"));
    row.push_back(efficacy_cell(picture.median));
    row.push_back(efficacy_cell(picture.new_farm));
    table.rows.push_back(std::move(row));
  }
  return table;
}

void add_pictures(pugi::xml_node body, const Survey& survey,
                  const std::vector<RegionPicture>& pictures) {
  if (pictures.empty())
    return;
  add_element(body, "h2", "All farms together");
  add_element(body, "p",
              "How many of the groups tested truly lie below a threshold, small trials borrowing "
              "from the others of their class and host and large ones speaking for themselves.",
              "lead");
  add_element(body, "p", pictures_key(), "note lead");
  if (pictures.size() > most_pictures_drawn)
    add_element(body, "p",
                fmt::format("Drawn are the first {} of {}; the table has all.", most_pictures_drawn,
                            pictures.size()));
  pugi::xml_node row = add_element(body, "div", "", "side-by-side");
  add_figure(row, pictures_figure(survey, pictures));
  add_long_table(body, pictures_table(survey, pictures), "All farms together", "the survey's JSON",
                 "strata");
  add_element(body, "p", pictures_note(), "note");
}

HtmlTable cut_offs_table(const Criteria& criteria) {
  HtmlTable table;
  table.caption =
      fmt::format("Cut-offs of {}; the first that fits a group is used", criteria.title);
  table.heads = {"For", "Expected fall", "Lower threshold", "Where from"};
  for (const CutOff& row : criteria.cut_offs) {
    std::vector<std::string> scope;
    if (!row.scope.hosts.empty())
      scope.push_back(eggfall::in_words(row.scope.hosts));
    if (!row.scope.classes.empty())
      scope.push_back(to_string(row.scope.classes));
    if (!row.scope.worm.empty())
      scope.push_back(row.scope.worm);
    table.rows.push_back(
        {scope.empty() ? std::string("any group") : fmt::format("{}", fmt::join(scope, "; ")),
         fmt::format("{:g}%", 100 * row.expected),
         row.lower ? fmt::format("{:g}%", 100 * *row.lower) : std::string("-"),
         provenance_text(row.citation)});
  }
  return table;
}

void add_barred(pugi::xml_node body, const Survey& survey) {
  const std::string note = barred_note(survey);
  if (note.empty())
    return;
  add_element(body, "p", note);
  HtmlTable table{"Barred, by the first reason", {"Reason", "Groups", "What was found"}, {}};
  for (const BarCode code : all_bar_codes)
    if (const std::uint64_t groups = survey.barred[static_cast<std::size_t>(code)]; groups > 0)
      table.rows.push_back(
          {std::string(to_string(code)), fmt::format("{}", groups), bar_words(code)});
  add_wide_table(body, table, "words");
}

void add_how_judged(pugi::xml_node body, const Survey& survey, const std::string& made_by) {
  const Criteria& criteria = survey.settings.criteria;
  const ReadOptions& reading = survey.reading;
  add_element(body, "h2", "How it was judged");
  add_element(
      body, "p",
      fmt::format("Each group by one criterion, {}, with {}, as eggfall analyse judges it, "
                  "and counted once by its standing: the class of its counts, unless a flaw "
                  "of its trial takes it away.",
                  criteria.title, level_text(criteria)));
  add_barred(body, survey);
  if (const std::string note = kinds_note(survey.surveyed); !note.empty())
    add_element(body, "p", note);
  std::vector<std::string> given;
  if (reading.factor_before)
    given.push_back(fmt::format("one egg stands for {:g} EPG", reading.factor_before->value()));
  if (reading.factor_after)
    given.push_back(
        fmt::format("after treatment one egg stands for {:g} EPG", reading.factor_after->value()));
  if (!reading.host.empty())
    given.push_back("host " + reading.host);
  if (!reading.control.empty())
    given.push_back("untreated group " + reading.control);
  if (survey.settings.units_confirmed)
    given.push_back("counts that look like EPG were confirmed as eggs seen");
  if (!given.empty())
    add_element(body, "p",
                fmt::format("Given for what the tables do not say: {}.", fmt::join(given, "; ")));
  std::vector<std::string> tables;
  for (const SurveyTable& table : survey.tables)
    tables.push_back(table.name);
  if (!tables.empty())
    add_element(body, "p", fmt::format("Tables: {}.", listed(tables)));
  add_long_table(body, cut_offs_table(criteria), "The cut-offs", "eggfall cutoffs", "words");
  if (const std::string note = memory_note(criteria); !note.empty())
    add_element(body, "p", flowing(note), "note");
  add_element(body, "p", cautions(), "note");
  add_element(body, "p", made_by, "note");
}

} // namespace

std::string survey_page(const Survey& survey, const std::vector<SurveyRow>& rows,
                        const std::vector<RegionPicture>& pictures) {
  if (survey.shard.count > 1)
    throw CalculationError("the page of a part of a survey");
  if (!rows.empty() && rows.size() != survey.surveyed.groups)
    throw CalculationError("the page of a survey with rows of some of its groups");
  const std::string title = "Survey of drench tests";
  const std::string made_by = fmt::format("Made by eggfall {}.", version());
  HtmlPage page(title, std::string(survey_page_style) +
                           paper_foot(fmt::format("{}: {}. {}", title,
                                                  many(survey.surveyed.groups, "group"), made_by)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_found(body, survey, rows);
  if (survey.surveyed.groups > 0) {
    // A farm's years come first: they are what its owner is to do something about.
    add_years(body, survey, rows);
    add_breakdowns(body, survey);
    add_falls_part(body, survey, rows);
    add_pictures(body, survey, pictures);
  }
  add_how_judged(body, survey, made_by);
  return page.text();
}

} // namespace eggfall
