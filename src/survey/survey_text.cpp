#include "survey/survey_text.hpp"

#include "base/text.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "formats/csv_row.hpp"
#include "report/result_words.hpp"
#include "survey/course_text.hpp"
#include "survey/survey_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

std::string paragraph(std::string_view text) {
  return eggfall::paragraph(text, screen_width);
}

std::string counted(std::uint64_t number, std::string_view noun) {
  return fmt::format("{} {}{}", number, noun, number == 1 ? "" : "s");
}

/// Tables of a survey, all with the same columns.
class Tables {
public:
  Tables(Rule rule, std::uint64_t groups) : columns_(class_columns(rule)) {
    constexpr std::size_t usual = 6;
    number_width_ = std::max(usual, fmt::formatted_size("{}", groups) + 1);
    const std::size_t numbers =
        1 + (columns_.size() + 2) * number_width_ + share_width + most_width;
    name_width_ = screen_width - std::min(numbers, screen_width);
  }

  std::string table(std::string_view name, const Breakdown& breakdown) const {
    std::string out = '\n' + begin(name) + fmt::format("{:>{}}", "tested", number_width_ + 1);
    for (const ClassColumn& column : columns_)
      out += fmt::format("{:>{}}", column.short_head, number_width_);
    out += fmt::format("{:>{}}{:>{}}{:>{}}\n", "none", number_width_, "resistant", share_width,
                       "most", most_width);
    for (const auto& [stratum, tally] : breakdown.strata)
      out += row(stratum_name(stratum), tally);
    return out;
  }

private:
  static constexpr std::size_t share_width = 17;
  static constexpr std::size_t most_width = 6;

  /// The name, on lines of its own if it is long, and the blanks up to the numbers.
  std::string begin(std::string_view name) const {
    std::string out;
    std::size_t used = screen_width;
    for (const std::string& line : wrapped(name, screen_width - 4)) {
      out += fmt::format("{}{}{}", out.empty() ? "" : "\n", out.empty() ? "  " : "    ", line);
      used = character_count(line) + (out.size() == line.size() + 2 ? 2 : 4);
    }
    if (used > name_width_)
      return out + '\n' + std::string(name_width_, ' ');
    return out + std::string(name_width_ - used, ' ');
  }

  std::string row(std::string_view name, const VerdictTally& tally) const {
    const StratumSummary summary = summarise(tally);
    std::string out = begin(name) + fmt::format("{:>{}}", summary.tested, number_width_ + 1);
    for (const ClassColumn& column : columns_)
      out += fmt::format("{:>{}}", groups_in(column, tally), number_width_);
    out += fmt::format("{:>{}}", summary.tested - summary.judged, number_width_);
    return out + fmt::format("{:>{}}{:>{}}\n", of_100_with_limits(summary.resistant), share_width,
                             of_100(summary.at_most), most_width);
  }

  std::vector<ClassColumn> columns_;
  std::size_t number_width_;
  std::size_t name_width_;
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
  out += fmt::format("\n  {:<26}{:>7}{:>22}{:>22}\n", "", "groups", "below 90%", "below 95%");
  for (const RegionPicture& picture : pictures) {
    const std::string name = picture_name(picture);
    const bool fits = character_count(name) <= 26;
    if (!fits)
      out += "  " + name + "\n";
    out += fmt::format("  {:<26}{:>7}", fits ? name : "", picture.groups);
    for (const BelowThreshold& below : picture.below)
      out += fmt::format("{:>22}", number_below(below.groups));
    out += '\n';
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
  out += std::string(screen_width, '-');
  const Tables tables(criteria.rule, survey.surveyed.groups);
  out += tables.table("", survey.all);
  for (const Breakdown& breakdown : survey.breakdowns)
    if (says_something(breakdown))
      out += tables.table(breakdown_name(breakdown.fields), breakdown);
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
