#include "eggfall/survey/survey_row.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "judgement/judge.hpp"
#include "report/result_words.hpp"
#include "support/invented_region.hpp"
#include "support/support.hpp"
#include "survey/survey_text.hpp"

using namespace eggfall;

namespace {

SurveySettings judged_by(const std::string& criteria) {
  SurveySettings settings;
  settings.criteria = with_criteria_first(published_cut_offs(), criteria).criteria.front();
  settings.windows = published_cut_offs().windows;
  return settings;
}

/// Paired, controlled, once sampled and unsampled groups, of a known and an unknown host.
std::vector<Trial> trials() {
  std::string table = InventedRegion::header();
  for (std::size_t farm = 1; farm <= 12; ++farm)
    table += InventedRegion(3, 9, 5).farm(farm);
  std::vector<Trial> result = read_trials(table, "region", {}).trials;
  Group control = support::group("C", trial_a::before, trial_a::control);
  control.role = Role::control;
  Group llamas = support::group("L", trial_a::before, trial_a::after);
  llamas.host = "llamas";
  result.push_back(
      {"A",
       {support::group("T", trial_a::before, trial_a::after),
        support::group("after", {}, trial_a::after), support::group("before", trial_a::before, {}),
        support::group("none", {0, 0, 0}, {0, 0, 0}), llamas, control}});
  ReadOptions by_name;
  by_name.host = "sheep";
  by_name.trial_name = "visits";
  const TrialTable visits =
      read_trials("group,animal,role,class,eggs_before,factor,eggs_day:7,eggs_day:15,eggs_day:28\n"
                  "lv,1,,LV,40,15,0,1,9\nlv,2,,LV,33,15,1,2,8\nlv,3,,LV,51,15,0,0,20\n"
                  "lv,4,,LV,28,15,0,3,7\nlv,5,,LV,61,15,2,2,33\n"
                  "ml,6,,ML,40,15,0,0,9\nml,7,,ML,33,15,1,0,8\nml,8,,ML,51,15,0,0,20\n"
                  "ml,9,,ML,28,15,0,0,7\nml,10,,ML,61,15,2,0,33\n"
                  "none,11,control,,44,15,40,20,9\nnone,12,control,,37,15,35,15,8\n"
                  "none,13,control,,52,15,50,25,20\nnone,14,control,,29,15,30,14,7\n",
                  "visits", by_name);
  result.push_back(visits.trials.at(0));
  return result;
}

} // namespace

TEST_CASE("Eggs counted apart are named in the row and counted in the size") {
  Group group = support::group("T", trial_a::before, trial_a::after);
  group.animals.front().kinds["nematodirus"] = {group.animals.front().before, {}};
  group.animals.back().kinds["ascarids"] = {group.animals.front().before, {}};
  const Trial trial{"A", {group, support::group("U", trial_a::before, trial_a::after)}};
  const SurveySettings settings = judged_by("waavp-2023-clinical");
  const auto rows = survey_rows(trial, 1, settings);
  CHECK(rows[0].kinds == std::vector<std::string>{"ascarids", "nematodirus"});
  CHECK(rows[1].kinds.empty());
  CHECK_THAT(survey_csv_row(rows[0], settings.criteria), Catch::Contains(",ascarids+nematodirus,"));
  Survey survey = empty_survey(settings, {}, {});
  add(survey.surveyed, trial);
  for (const SurveyRow& row : rows)
    add(survey, row);
  CHECK(survey.surveyed.groups_with_kinds == 1);
  CHECK_THAT(survey_text(survey),
             Catch::Contains("1 group has eggs of a kind of worm counted apart."));
}

TEST_CASE("Each row of a survey says what analyse() says of the group") {
  for (const char* criteria : {"waavp-2023-clinical", "waavp-2023-research", "waavp-1992"}) {
    CAPTURE(criteria);
    const SurveySettings settings = judged_by(criteria);
    AnalysisSettings analysis;
    analysis.criteria = criteria;
    analysis.simulations = 0;
    std::uint64_t number = 0;
    std::size_t classes = 0;
    for (const Trial& trial : trials()) {
      const auto rows = survey_rows(trial, ++number, settings);
      const TrialAnalysis whole = analyse(trial, published_cut_offs(), analysis);
      REQUIRE(rows.size() == whole.groups.size());
      for (std::size_t g = 0; g < rows.size(); ++g) {
        const SurveyRow& row = rows[g];
        const GroupAnalysis& group = whole.groups[g];
        const Verdict& verdict = group.judgement.first_verdict();
        CAPTURE(trial.name, group.evidence.group.name);
        CHECK(row.trial_number == number);
        CHECK(row.trial == trial.name);
        CHECK(row.group.name == group.evidence.group.name);
        CHECK(row.standing.by_counts_alone == verdict.verdict_class);
        CHECK(row.standing.verdict_class == group.judgement.standing.verdict_class);
        CHECK(bar_codes(row.standing) == bar_codes(group.judgement.standing));
        const bool judged = verdict.verdict_class != VerdictClass::not_applicable;
        CHECK(row.reason == (judged ? "" : verdict.reason));
        classes |= std::size_t{1} << static_cast<std::size_t>(verdict.verdict_class);
        REQUIRE(row.interval.has_value() == row.design.has_value());
        if (verdict.interval && row.interval) {
          CHECK(row.interval->method == verdict.interval->method);
          CHECK(row.interval->lower == verdict.interval->lower);
          CHECK(row.interval->upper == verdict.interval->upper);
          CHECK(row.reduction == verdict.reduction);
          CHECK(row.design == verdict.design);
        }
        if (row.design == group.evidence.design) {
          CHECK(row.reduction == group.evidence.reduction);
          CHECK(row.animals == group.evidence.animals);
          CHECK(row.mean_epg_before == group.evidence.before.mean_epg);
          CHECK(row.mean_epg_after == group.evidence.after.mean_epg);
          CHECK(row.eggs_before.value_or(0) == group.evidence.before.eggs);
          CHECK(row.eggs_after.value_or(0) == group.evidence.after.eggs);
        }
        if (row.design == group.evidence.design && !verdict.interval && row.design &&
            settings.criteria.level == analysis.level)
          CHECK(row.interval->lower ==
                group.evidence.headline.lower); // no cut-off, yet to be drawn
      }
    }
    // At least susceptible, resistant and not applicable were there to be compared.
    for (const VerdictClass needed :
         {VerdictClass::susceptible, VerdictClass::resistant, VerdictClass::not_applicable})
      CHECK((classes >> static_cast<std::size_t>(needed) & 1U) == 1);
  }
}

TEST_CASE("A worm that larvae show to survive stands in a survey as it does by itself") {
  Group group =
      support::group("T", {40, 55, 12, 80, 31, 22, 64, 18, 47, 39}, {1, 1, 0, 2, 0, 0, 2, 0, 1, 1});
  group.culture_before = {{"haemonchus", 6}, {"teladorsagia", 94}};
  group.culture_after = {{"haemonchus", 95}, {"teladorsagia", 5}};
  const Trial trial{"cultured", {group}};
  const SurveyRow row = survey_rows(trial, 1, judged_by("waavp-2023-clinical")).front();
  AnalysisSettings settings;
  settings.criteria = "waavp-2023-clinical";
  settings.simulations = 0;
  const Standing alone =
      analyse(trial, published_cut_offs(), settings).groups.front().judgement.standing;
  CHECK(bar_codes(alone) == "surviving-worm");
  CHECK(bar_codes(row.standing) == "surviving-worm");
  CHECK(row.standing.verdict_class == alone.verdict_class);
  CHECK(row.standing.sign == alone.sign);
}

TEST_CASE("A row keeps what tells the group from others, and no animal") {
  Group group = support::group("T", trial_a::before, trial_a::after, 15, 5);
  group.classes = {DrugClass::ml};
  group.drench = "clear drench";
  group.region = "Westvale";
  group.year = 2031;
  const auto rows = survey_rows({"A", {group}}, 7, judged_by("waavp-2023-clinical"));
  REQUIRE(rows.size() == 1);
  const SurveyRow& row = rows.front();
  CHECK(row.group.region == "Westvale");
  CHECK(row.group.year == 2031);
  CHECK(row.group.classes == group.classes);
  CHECK(row.group.animals.empty());
  // By hand: 188 eggs in 12 animals at factor 15, 8 at factor 5.
  CHECK(row.eggs_before == 188);
  CHECK(row.eggs_after == 8);
  CHECK_THAT(*row.mean_epg_before, support::close_to(235));
  CHECK_THAT(*row.mean_epg_after, support::close_to(10.0 / 3));
  CHECK_THAT(*row.reduction, support::close_to(1 - 8.0 / 188 / 3));
}

TEST_CASE("A group that was never sampled has a row that says so") {
  const auto rows =
      survey_rows({"A", {support::group("T", {}, {})}}, 1, judged_by("waavp-2023-clinical"));
  REQUIRE(rows.size() == 1);
  CHECK(rows.front().standing.verdict_class == VerdictClass::not_applicable);
  CHECK(rows.front().reason == "there is no fall to judge");
  CHECK_FALSE(rows.front().design);
  CHECK_FALSE(rows.front().interval);
  CHECK_FALSE(rows.front().eggs_before);
  CHECK_FALSE(rows.front().mean_epg_after);
}
