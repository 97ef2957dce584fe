#include "survey/survey_text.hpp"

#include "base/text.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "formats/csv_row.hpp"
#include "formats/terminal_text.hpp"
#include "report/result_words.hpp"
#include "survey/course_text.hpp"
#include "survey/survey_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

std::string counted(std::uint64_t number, std::string_view noun) {
  return fmt::format("{} {}{}", number, noun, number == 1 ? "" : "s");
}

/// The breakdowns of a survey, all in the same columns.
class BreakdownTables {
public:
  BreakdownTables(Rule rule, std::uint64_t groups) : columns_(verdict_columns(rule)) {
    constexpr std::size_t least_width = 6;
    constexpr std::size_t share_width = 17;
    constexpr std::size_t most_width = 6;
    const std::size_t width = std::max(least_width, fmt::formatted_size("{}", groups) + 1);
    table_.long_name = LongName::stands_above;
    table_.columns.push_back({width + 1});
    table_.columns.insert(table_.columns.end(), columns_.size() + 1, {width});
    table_.columns.push_back({share_width});
    table_.columns.push_back({most_width});
    std::size_t used = table_.indent;
    for (const TerminalColumn& column : table_.columns)
      used += column.width;
    table_.name_width = terminal_width - std::min(used, terminal_width);
  }

  std::string text(std::string_view name, const Breakdown& breakdown) const {
    std::vector<std::string> heads{"tested"};
    for (const VerdictColumn& column : columns_)
      heads.emplace_back(column.short_head);
    for (const char* head : {"none", "resistant", "most"})
      heads.emplace_back(head);
    std::string out = '\n' + table_.row(name, heads);
    for (const auto& [stratum, tally] : breakdown.strata)
      out += row(stratum_name(stratum), tally);
    return out;
  }

private:
  std::string row(std::string_view name, const VerdictTally& tally) const {
    const StratumSummary summary = summarise(tally);
    std::vector<std::string> cells{fmt::format("{}", summary.tested)};
    for (const VerdictColumn& column : columns_)
      cells.push_back(fmt::format("{}", groups_in(column, tally)));
    cells.push_back(fmt::format("{}", summary.tested - summary.judged));
    cells.push_back(of_100_with_limits(summary.resistant));
    cells.push_back(of_100(summary.at_most));
    return table_.row(name, cells);
  }

  std::vector<VerdictColumn> columns_;
  TerminalTable table_;
};

/// What the heads of the tables mean.
std::string legend(Rule rule) {
  std::string classes = "susc.: susceptible; ";
  if (rule == Rule::two_one_sided)
    classes += "low: low resistant; ";
  classes +=
      fmt::format("res.: resistant; open: inconclusive{}; none: no class, for lack of counts, "
                  "of a cut-off, or of a test that can tell (the rows that --csv writes give "
                  "each reason).",
                  rule == Rule::reduction_and_lower_limit ? " or suspected" : "");
  return paragraph(classes) + paragraph(shares_note(rule));
}

std::string pictures_text(const std::vector<RegionPicture>& pictures) {
  std::string out = paragraph(
      "All farms together: how many of the groups tested truly lie below, small trials borrowing "
      "from the others of their class and host and large ones speaking for themselves.");
  const TerminalTable table{2, 26, {{7}, {22}, {22}}, LongName::stands_above};
  out += '\n' + table.row("", {"groups", "below 90%", "below 95%"});
  for (const RegionPicture& picture : pictures) {
    std::vector<std::string> cells{fmt::format("{}", picture.groups)};
    for (const BelowThreshold& below : picture.below)
      cells.push_back(number_below(below.groups));
    out += table.row(picture_name(picture), cells);
  }
  return out + '\n' + paragraph(pictures_note());
}

} // namespace

std::string survey_text(const Survey& survey, const std::vector<RegionPicture>& pictures) {
  const Criteria& criteria = survey.settings.criteria;
  const StratumSummary all = summarise(survey.all.strata.at({}));
  std::string out = paragraph(fmt::format(
      "{} treated, in {}; judged by {}, with {}", counted(survey.surveyed.groups, "group"),
      counted(survey.surveyed.trials, "trial"), criteria.title, level_text(criteria)));
  out += dashed_line();
  const BreakdownTables tables(criteria.rule, survey.surveyed.groups);
  out += tables.text("", survey.all);
  for (const Breakdown& breakdown : survey.breakdowns)
    if (says_something(breakdown))
      out += tables.text(breakdown_name(breakdown.fields), breakdown);
  if (const std::string note = barred_note(survey); !note.empty())
    out += '\n' + paragraph(note);
  if (!pictures.empty())
    out += '\n' + pictures_text(pictures);
  if (!survey.courses.empty())
    out += '\n' + courses_text(survey.courses);
  if (survey.shard.count > 1)
    return out + '\n' +
           paragraph(fmt::format("This is part {} of {}: join all parts by eggfall survey --merge.",
                                 survey.shard.index, survey.shard.count));
  if (const std::string note = kinds_note(survey.surveyed); !note.empty())
    out += '\n' + paragraph(note);
  return out + '\n' + legend(criteria.rule) + '\n' + paragraph(sampling_note()) +
         memory_note(criteria) + '\n' + paragraph(survey_next_step(all));
}

std::string survey_csv_header() {
  return "trial_number,trial,group,class,drench,host,worm,region,year,design,animals,eggs_"
         "before,"
         "eggs_after,mean_epg_before,mean_epg_after,reduction_percent,lower_percent,"
         "upper_percent,level,method,criteria,verdict,reason,eggs_apart,standing,bars,farm\r\n";
}

std::string survey_csv_row(const SurveyRow& row, const Criteria& criteria) {
  const Group& group = row.group;
  const bool interval = row.interval.has_value();
  return csv_row({fmt::format("{}", row.trial_number),
                  csv_cell(row.trial),
                  csv_cell(group.name),
                  to_string(group.classes),
                  csv_cell(group.drench),
                  csv_cell(group.host),
                  csv_cell(group.worm),
                  csv_cell(group.region),
                  csv_cell(group.year),
                  row.design ? std::string(to_string(*row.design)) : std::string(),
                  fmt::format("{}", row.animals),
                  csv_cell(row.eggs_before),
                  csv_cell(row.eggs_after),
                  csv_cell(row.mean_epg_before),
                  csv_cell(row.mean_epg_after),
                  percent_csv_cell(row.reduction),
                  percent_csv_cell(interval ? row.interval->lower : std::nullopt),
                  percent_csv_cell(interval ? row.interval->upper : std::nullopt),
                  interval ? fmt::format("{}", row.interval->level) : std::string(),
                  interval ? std::string(to_string(row.interval->method)) : std::string(),
                  csv_cell(criteria.name),
                  std::string(to_string(row.standing.by_counts_alone)),
                  csv_cell(row.reason),
                  csv_cell(fmt::format("{}", fmt::join(row.kinds, "+"))),
                  std::string(to_string(row.standing.verdict_class)),
                  bar_codes(row.standing),
                  csv_cell(group.farm)}) +
         "\r\n";
}

} // namespace eggfall
