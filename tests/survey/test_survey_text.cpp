#include "survey/survey_text.hpp"

#include "base/text.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// Judged by a criterion of this rule, with all groups in one stratum.
Survey survey_by(Rule rule, const VerdictTally& tally) {
  SurveySettings settings;
  settings.criteria.name = "valley-2030";
  settings.criteria.title = "Valley 2030";
  settings.criteria.rule = rule;
  settings.criteria.level = 0.9;
  Survey survey = empty_survey(settings, {}, {{SurveyField::region}, {SurveyField::worm}});
  survey.all.strata[{}] = tally;
  std::uint64_t groups = 0;
  for (const std::uint64_t count : tally)
    groups += count;
  survey.surveyed = {2, groups, 100, 0};
  survey.in_tables = survey.surveyed;
  return survey;
}

/// The lines from the one that begins so, as many as asked for.
std::string lines_from(const std::string& text, const std::string& start, int lines) {
  const auto from = text.find("\n" + start);
  REQUIRE(from != std::string::npos);
  auto end = from;
  for (int i = 0; i < lines; ++i)
    end = text.find('\n', end + 1);
  return text.substr(from + 1, end - from);
}

bool says(const std::string& text, const std::string& words) {
  return flowing(text).find(words) != std::string::npos;
}

} // namespace

TEST_CASE("The tallies stand in columns of the classes that the rule can give") {
  // Susceptible, low resistant, resistant, suspected, inconclusive, not applicable. Of 8 judged 3
  // are resistant, 37.5 of 100, and 2 more are open, 62.5 of 100. R 4.2.2 gives
  // qbeta(c(0.025, 0.975), 3.5, 5.5) = 0.119 and 0.705.
  const std::string text = survey_text(survey_by(Rule::two_one_sided, {3, 1, 2, 0, 2, 1}));
  CHECK(flowing(text).starts_with("9 groups treated, in 2 trials; judged by Valley 2030, with 90% "
                                  "intervals (posterior, guarded) ---"));
  const std::string table = lines_from(text, "  all groups", 1);
  const auto cells = [](std::string line) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : line + " ")
      if (c == ' ' || c == '\n') {
        if (!word.empty())
          words.push_back(word);
        word.clear();
      } else {
        word += c;
      }
    return words;
  };
  CHECK(cells(table) == std::vector<std::string>{"all", "groups", "9", "3", "1", "2", "2", "1",
                                                 "38", "(12", "to", "71)", "62"});
}

TEST_CASE("Each rule has its own legend") {
  const std::string two = survey_text(survey_by(Rule::two_one_sided, {3, 1, 2, 0, 2, 1}));
  CHECK(says(two, "susc.: susceptible; low: low resistant; res.: resistant; open: inconclusive;"));
  CHECK(says(two, "those resistant or low resistant, with 95% limits (Jeffreys)"));
  CHECK(says(two, "25 of 100 groups are open") == false); // a quarter is not more than a quarter
  const std::string old =
      survey_text(survey_by(Rule::reduction_and_lower_limit, {3, 0, 2, 3, 0, 0}));
  CHECK(says(old, "susc.: susceptible; res.: resistant; open: inconclusive or suspected;"));
  CHECK(says(old, "of 100 groups with a class, those resistant, with"));
  CHECK(says(old, "38 of 100 groups are open")); // three of eight
  const std::string alone = survey_text(survey_by(Rule::reduction_alone, {3, 0, 2, 0, 0, 0}));
  CHECK(says(alone, "judged by Valley 2030, with no interval"));
  CHECK(says(alone, "res.: resistant; open: inconclusive; none:")); // by a bar
}

TEST_CASE("Breakdowns that tell nothing are left out, and what is not given is called so") {
  Survey survey = survey_by(Rule::two_one_sided, {2, 0, 1, 0, 0, 0});
  survey.breakdowns[0].strata[{"North"}] = {2, 0, 0, 0, 0, 0};
  survey.breakdowns[0].strata[{""}] = {0, 0, 1, 0, 0, 0};
  survey.breakdowns[1].strata[{""}] = {2, 0, 1, 0, 0, 0};
  const std::string text = survey_text(survey);
  CHECK(text.find("\n  by region") != std::string::npos);
  CHECK(text.find("\n  North") != std::string::npos);
  CHECK(text.find("\n  not given") != std::string::npos);
  CHECK(text.find("by worm") == std::string::npos);
}

TEST_CASE("One group in one trial is told in the singular, and eggs counted apart are mentioned") {
  Survey survey = survey_by(Rule::two_one_sided, {1, 0, 0, 0, 0, 0});
  survey.surveyed = {1, 1, 15, 1};
  const std::string text = survey_text(survey);
  CHECK(text.starts_with("1 group treated, in 1 trial; "));
  CHECK(says(text, "1 group has eggs of a kind of worm counted apart."));
  survey.surveyed.groups_with_kinds = 0;
  CHECK_FALSE(says(survey_text(survey), "counted apart"));
}

TEST_CASE("Numbers from memory are noted in a survey where its criterion has any") {
  Survey survey = survey_by(Rule::two_one_sided, {1, 0, 0, 0, 0, 0});
  CHECK_FALSE(says(survey_text(survey), "noted from memory"));
  CutOff row;
  row.citation.provenance = Provenance::memory;
  survey.settings.criteria.cut_offs = {row};
  CHECK(says(survey_text(survey), "Cut-offs noted from memory, to be checked against the published "
                                  "guideline: Valley 2030."));
}

TEST_CASE("A row of a survey, cell by cell") {
  Criteria criteria;
  criteria.name = "valley-2030";
  SurveyRow row;
  row.trial_number = 12;
  row.trial = "farm, far";
  row.group.name = "white";
  row.group.drench = "=Ivory";
  row.group.classes = {DrugClass::bz, DrugClass::lv};
  row.group.host = "sheep";
  row.group.worm = "haemonchus";
  row.group.farm = "Hill, upper";
  row.group.region = "North";
  row.group.year = 2031;
  row.design = Design::two_group;
  row.animals = 15;
  row.eggs_before = 300;
  row.eggs_after = 12;
  row.mean_epg_before = 300;
  row.mean_epg_after = 12.5;
  row.reduction = 0.96;
  Interval interval;
  interval.lower = 0.875;
  interval.upper = 0.99;
  row.interval = interval;
  row.standing.verdict_class = VerdictClass::inconclusive;
  row.standing.by_counts_alone = VerdictClass::low_resistant;
  row.standing.bars = {{BarCode::control, "", "", ""}, {BarCode::missing, "", "", ""}};
  row.kinds = {"nematodirus", "trichuris"};
  // The apostrophe keeps a spreadsheet from carrying the name out as a formula.
  CHECK(survey_csv_row(row, criteria) ==
        "12,\"farm, far\",white,BZ+LV,'=Ivory,sheep,haemonchus,North,2031,two-group,15,300,12,300,"
        "12.5,96.000000,87.500000,99.000000,0.9,guarded-posterior,valley-2030,low resistant,,"
        "nematodirus+trichuris,inconclusive,control+missing,\"Hill, upper\"\r\n");
  const std::string header = survey_csv_header();
  CHECK(header.ends_with("verdict,reason,eggs_apart,standing,bars,farm\r\n"));
  CHECK(std::ranges::count(header, ',') == 26);
}
