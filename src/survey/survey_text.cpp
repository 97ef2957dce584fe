#include "survey/survey_text.hpp"

#include "base/text.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "formats/csv_row.hpp"
#include "report/cut_offs_text.hpp"
#include "report/result_words.hpp"
#include "survey/course_text.hpp"

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

/// Classes that share a column of the tables, and its head.
struct ClassColumn {
  std::vector<VerdictClass> classes;
  std::string_view head;
};

/// Open is what a rule leaves so, or a bar.
std::vector<ClassColumn> columns_of(Rule rule) {
  std::vector<ClassColumn> columns{{{VerdictClass::susceptible}, "susc."}};
  if (rule == Rule::two_one_sided)
    columns.push_back({{VerdictClass::low_resistant}, "low"});
  columns.push_back({{VerdictClass::resistant}, "res."});
  columns.push_back({{VerdictClass::inconclusive, VerdictClass::suspected}, "open"});
  return columns;
}

std::string joined(const std::vector<std::string>& values) {
  return fmt::format("{}", fmt::join(values, ", "));
}

std::string name_of(const Stratum& stratum) {
  std::vector<std::string> values;
  for (const std::string& value : stratum)
    values.push_back(value.empty() ? "not given" : value);
  return joined(values);
}

std::string name_of(const std::vector<SurveyField>& by) {
  std::vector<std::string> names;
  for (const SurveyField field : by)
    names.emplace_back(to_string(field));
  return "by " + joined(names);
}

/// Tables of a survey, all with the same columns.
class Tables {
public:
  Tables(Rule rule, std::uint64_t groups) : columns_(columns_of(rule)) {
    constexpr std::size_t usual = 6;
    number_width_ = std::max(usual, fmt::formatted_size("{}", groups) + 1);
    const std::size_t numbers =
        1 + (columns_.size() + 2) * number_width_ + share_width + most_width;
    name_width_ = screen_width - std::min(numbers, screen_width);
  }

  std::string table(std::string_view name, const Breakdown& breakdown) const {
    std::string out = '\n' + begin(name) + fmt::format("{:>{}}", "tested", number_width_ + 1);
    for (const ClassColumn& column : columns_)
      out += fmt::format("{:>{}}", column.head, number_width_);
    out += fmt::format("{:>{}}{:>{}}{:>{}}\n", "none", number_width_, "resistant", share_width,
                       "most", most_width);
    for (const auto& [stratum, tally] : breakdown.strata)
      out += row(stratum.empty() ? "all groups" : name_of(stratum), tally);
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
    for (const ClassColumn& column : columns_) {
      std::uint64_t groups = 0;
      for (const VerdictClass each : column.classes)
        groups += tally[static_cast<std::size_t>(each)];
      out += fmt::format("{:>{}}", groups, number_width_);
    }
    out += fmt::format("{:>{}}", summary.tested - summary.judged, number_width_);
    if (summary.judged == 0)
      return out + fmt::format("{:>{}}{:>{}}\n", "-", share_width, "-", most_width);
    const auto of_100 = [](const std::optional<double>& share) { return 100 * *share; };
    return out + fmt::format(
                     "{:>{}}{:>{}.0f}\n",
                     fmt::format("{:.0f} ({:.0f} to {:.0f})", of_100(summary.resistant.value),
                                 of_100(summary.resistant.lower), of_100(summary.resistant.upper)),
                     share_width, of_100(summary.at_most.value), most_width);
  }

  std::vector<ClassColumn> columns_;
  std::size_t number_width_;
  std::size_t name_width_;
};

/// Whether any group gives any of the fields.
bool says_something(const Breakdown& breakdown) {
  return std::ranges::any_of(breakdown.strata, [](const auto& entry) {
    return std::ranges::any_of(entry.first,
                               [](const std::string& value) { return !value.empty(); });
  });
}

std::string legend(Rule rule) {
  std::string classes = "susc.: susceptible; ";
  if (rule == Rule::two_one_sided)
    classes += "low: low resistant; ";
  classes +=
      fmt::format("res.: resistant; open: inconclusive{}; none: no class, for lack of counts, "
                  "of a cut-off, or of a test that can tell (the rows that --csv writes give "
                  "each reason).",
                  rule == Rule::reduction_and_lower_limit ? " or suspected" : "");
  const std::string shares = fmt::format(
      "Resistant: of 100 groups with a class, those {}resistant, with {:g}% limits (Jeffreys). An "
      "open group may be either; most: the share if every open one were resistant.",
      rule == Rule::two_one_sided ? "resistant or low " : "", 100 * StratumSummary::level);
  return paragraph(classes) + paragraph(shares);
}

/// How many groups lost the class of their counts, and why.
std::string barred_text(const Survey& survey) {
  std::uint64_t all = 0;
  std::vector<std::string> reasons;
  for (const BarCode code : all_bar_codes)
    if (const std::uint64_t groups = survey.barred[static_cast<std::size_t>(code)]; groups > 0) {
      all += groups;
      reasons.push_back(fmt::format("{} {}", to_string(code), groups));
    }
  if (all == 0)
    return {};
  return '\n' +
         paragraph(fmt::format("{} barred from the class of {} counts, or from any, by a flaw of "
                               "the trial (docs/bars.md): {}.",
                               all == 1 ? "1 group is" : fmt::format("{} groups are", all),
                               all == 1 ? "its" : "their", joined(reasons)));
}

/// "12.3 (8 to 16)"
std::string number_below(const GroupsBelow& groups) {
  return fmt::format("{:.0f} ({} to {})", groups.mean, groups.lower, groups.upper);
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
  return out + '\n' +
         paragraph(fmt::format(
             "Limits of {:g}%. Where many farms lie close to a threshold these may still be too "
             "few (docs/methods.md): read them as at least. Groups that a flaw bars from showing "
             "the drench's own fall are left out. No farm's own standing is changed by this.",
             100 * RegionPicture::level));
}

std::string note_on_sampling() {
  return paragraph("These are the farms that sent counts, and those are no random sample: many "
                   "test because they worry. The limits allow for chance alone, not for that "
                   "choice, nor for several groups that share a farm.");
}

std::string what_next(const StratumSummary& all) {
  if (all.judged == 0)
    return "Next: no group could be judged. Write the rows with --csv FILE, read the column "
           "reason, and mend the table.";
  std::string text = "Next: before a group's class is acted on, look at its trial with eggfall "
                     "analyse, which also tells what is weak in it (doses, days, few eggs).";
  const double open = *all.at_most.value - *all.resistant.value;
  constexpr double many = 0.25;
  if (open > many)
    text += fmt::format(" {:.0f} of 100 groups are open: ask for more animals or a finer count; "
                        "eggfall audit shows how many it takes.",
                        100 * open);
  return text;
}

std::string level_text(const Criteria& criteria) {
  if (criteria.rule == Rule::reduction_alone)
    return "no interval";
  return fmt::format("{:g}% intervals ({})", 100 * criteria.level,
                     title(criteria.method.value_or(Method::guarded_posterior)));
}

std::string memory_note(const Criteria& criteria) {
  const bool from_memory = std::ranges::any_of(criteria.cut_offs, [](const CutOff& row) {
    return row.citation.provenance == Provenance::memory;
  });
  return from_memory ? check_note({criteria.title}) : std::string();
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
      out += tables.table(name_of(breakdown.by), breakdown);
  out += barred_text(survey);
  if (!pictures.empty())
    out += '\n' + pictures_text(pictures);
  if (!survey.courses.empty())
    out += '\n' + courses_text(survey.courses);
  if (survey.shard.of > 1)
    return out + '\n' +
           paragraph(fmt::format("This is part {} of {}: join all parts by eggfall survey --merge.",
                                 survey.shard.index, survey.shard.of));
  if (const std::uint64_t apart = survey.surveyed.groups_with_kinds; apart > 0)
    out += '\n' + paragraph(fmt::format(
                      "{} {} eggs of a kind of worm counted apart. The counts leave such eggs "
                      "out (the rows name them); a kind that survives makes its group resistant.",
                      counted(apart, "group"), apart == 1 ? "has" : "have"));
  return out + '\n' + legend(criteria.rule) + '\n' + note_on_sampling() + memory_note(criteria) +
         '\n' + paragraph(what_next(all));
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
