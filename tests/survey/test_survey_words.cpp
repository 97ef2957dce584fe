#include "survey/survey_words.hpp"

#include "support/support.hpp"

#include <set>
#include <string>

using namespace eggfall;

TEST_CASE("A survey has columns for the classes that its rule can give, and each class is in one") {
  const auto names = [](Rule rule) {
    std::vector<std::string> result;
    for (const VerdictColumn& column : verdict_columns(rule))
      result.emplace_back(column.name);
    return result;
  };
  CHECK(names(Rule::two_one_sided) ==
        std::vector<std::string>{"susceptible", "low resistant", "resistant", "open"});
  CHECK(names(Rule::reduction_and_lower_limit) ==
        std::vector<std::string>{"susceptible", "resistant", "open"});
  const VerdictTally tally{3, 1, 2, 5, 7, 11};
  std::uint64_t groups = 0;
  for (const VerdictColumn& column : verdict_columns(Rule::two_one_sided))
    groups += groups_in(column, tally);
  CHECK(groups == 18); // all but those without a class
  CHECK(groups_in(verdict_columns(Rule::two_one_sided).back(), tally) == 12);
}

TEST_CASE("Strata and breakdowns have names") {
  CHECK(stratum_name({"Northmoor", "2030"}) == "Northmoor, 2030");
  CHECK(stratum_name({""}) == "not given");
  CHECK(stratum_name({}) == "all groups");
  CHECK(breakdown_name({SurveyField::region, SurveyField::year}) == "by region, year");
  CHECK_FALSE(says_something({{SurveyField::host}, {{{""}, {}}}}));
  CHECK(says_something({{SurveyField::host}, {{{""}, {}}, {{"sheep"}, {}}}}));
}

TEST_CASE("Every bar has words of its own") {
  std::set<std::string> words;
  for (const BarCode code : all_bar_codes)
    words.insert(bar_words(code));
  CHECK(words.size() == all_bar_codes.size());
  CHECK(words.count("") == 0);
}

TEST_CASE("Barred groups are counted, and a survey without any says nothing of them") {
  Survey survey = empty_survey({}, {}, {});
  CHECK(barred_note(survey).empty());
  survey.barred[static_cast<std::size_t>(BarCode::few_eggs)] = 2;
  survey.barred[static_cast<std::size_t>(BarCode::day)] = 1;
  CHECK(barred_note(survey) ==
        "3 groups are barred from the class of their counts, or from any, by "
        "a flaw of the trial (docs/bars.md): day 1, few-eggs 2.");
}

TEST_CASE("The next step of a survey depends on what it left open") {
  CHECK_THAT(survey_next_step(summarise({0, 0, 0, 0, 0, 4})),
             Catch::Contains("no group could be judged"));
  CHECK_THAT(survey_next_step(summarise({1, 0, 1, 0, 2, 0})),
             Catch::Contains("50 of 100 groups are open"));
  CHECK_THAT(survey_next_step(summarise({3, 0, 1, 0, 0, 0})), !Catch::Contains("are open"));
}

TEST_CASE("Shares are told of 100, and none by a dash") {
  CHECK(of_100_with_limits({0.5, 0.32, 0.68}) == "50 (32 to 68)");
  CHECK(of_100({0.617, 0.5, 0.7}) == "62");
  CHECK(of_100_with_limits({}) == "-");
  CHECK(of_100({}) == "-");
}
