#include "report/ranking_text.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_json.hpp"

#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <sstream>

using namespace eggfall;

namespace {

using Counts = std::vector<std::uint32_t>;

const Counts before{24, 31, 12, 55, 8, 40, 22, 17, 36, 29};

/// About `share` of the counts before.
Counts left(double share) {
  Counts after;
  for (const std::uint32_t eggs : before)
    after.push_back(static_cast<std::uint32_t>(share * eggs));
  return after;
}

Group treated(const std::string& name, const Counts& after, std::vector<DrugClass> classes = {}) {
  Group group = support::group(name, before, after);
  group.classes = std::move(classes);
  return group;
}

TrialAnalysis analysed(std::vector<Group> groups) {
  AnalysisSettings settings;
  settings.simulations = 0;
  return analyse({"t", std::move(groups)}, published_cut_offs(), settings);
}

std::string screen(const TrialAnalysis& trial, Verbosity verbosity = Verbosity::brief) {
  return flowing(ranking_summary(trial, verbosity));
}

bool says(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("One treated group is not ranked, on screen or in JSON") {
  const TrialAnalysis one = analysed({treated("a", left(0.1))});
  CHECK(ranking_summary(one, Verbosity::full).empty());
  const auto json = nlohmann::json::parse(analysis_json({one}, {}))["trials"][0];
  CHECK(json["ranking"].is_null());
  CHECK(json["combinations"].empty());
}

TEST_CASE("The best of resistant drenches is not recommended") {
  const std::string text = screen(analysed({treated("a", left(0.7)), treated("b", left(0.3))}));
  CHECK(says(text, "By these counts b removes more than a."));
  CHECK(says(text, "All of them are resistant here, and the best of them fails too"));

  const std::string mixed =
      screen(analysed({treated("a", left(0.7)), treated("b", Counts(10, 0))}));
  CHECK(says(mixed, "Do not rely on a (resistant), whatever its place here."));
  CHECK(says(mixed, "The verdicts come first"));
}

TEST_CASE("What the counts cannot tell apart is said in words, and nothing is 0 or 100") {
  const TrialAnalysis tie = analysed({treated("a", Counts(10, 0)), treated("b", Counts(10, 0))});
  const std::string text = screen(tie);
  CHECK(says(text, "These counts cannot say which of a and b is better."));
  CHECK(says(text, "about 50"));
  CHECK(says(text, "over 99"));
  CHECK_FALSE(says(text, "about 100"));
  CHECK_FALSE(says(text, "about 0"));
  const std::string three = screen(analysed(
      {treated("a", Counts(10, 0)), treated("b", Counts(10, 0)), treated("c", left(0.7))}));
  CHECK(says(three, "These counts cannot say which of a and b is better; c removes less."));
}

TEST_CASE("A drench that only some of the first beat is not beaten by all") {
  // b is too uncertain (few eggs) to be shown better than c, and a is not.
  const TrialAnalysis trial =
      analysed({treated("a", left(0.01)), support::group("b", {2, 1, 3, 2}, {0, 0, 0, 0}),
                treated("c", left(0.12))});
  CHECK(says(screen(trial), "These counts cannot say which of a and b is better; c removes less "
                            "than a."));
}

TEST_CASE("Who is left out is named with the reason") {
  const std::string text = screen(analysed({treated("a", left(0.1)), treated("b", left(0.1)),
                                            support::group("c", {0, 0, 0}, {1, 0, 0})}));
  CHECK(says(text, "Not ranked: c (no animal had an egg before treatment)."));
  // Nine animals cured and one not, in the manner of the caveat animals-differ.
  Counts one_left(10, 0);
  one_left[3] = 55;
  const TrialAnalysis odd =
      analysed({treated("a", left(0.1)), treated("b", left(0.1)), treated("c", one_left)});
  REQUIRE(odd.groups[2].evidence.disagreement.fall_outside_posterior);
  // Its law allows for that, so that it is ranked like the others.
  CHECK(odd.ranking->groups.size() == 3);
  CHECK(odd.ranking->left_out.empty());
}

TEST_CASE("Designs that differ, and a control that is shared, are told") {
  Group control = support::group("control", before, before);
  control.role = Role::control;
  const Group a = support::group("a", {}, left(0.1));
  const Group b = support::group("b", {}, left(0.2));
  CHECK(says(screen(analysed({a, b, control})), "share its luck"));
  const std::string mixed = screen(analysed({a, treated("c", left(0.2)), control}));
  CHECK(says(mixed, "Not all were measured by one design:"));
  CHECK(says(mixed, "a two-group"));
  CHECK_FALSE(says(mixed, "share its luck"));
}

TEST_CASE("The block fits 80 columns and a dozen lines, and --verbose adds the pairs") {
  std::vector<Group> groups;
  for (const char* name : {"a", "b", "c", "d", "e"})
    groups.push_back(treated(name, left(0.1)));
  const TrialAnalysis five = analysed(groups);
  std::istringstream brief(ranking_summary(five, Verbosity::brief));
  int lines = 0;
  for (std::string line; std::getline(brief, line); ++lines)
    CHECK(character_count(line) <= 80);
  CHECK(lines <= 12);
  groups.push_back(treated("a drench whose name is far too long for the table of chances \xC3\xA9",
                           left(0.2), {DrugClass::bz, DrugClass::lv}));
  groups[0].classes = {DrugClass::bz};
  groups[1].classes = {DrugClass::lv};
  const std::string full = ranking_summary(analysed(groups), Verbosity::full);
  std::istringstream all(full);
  for (std::string line; std::getline(all, line);) {
    INFO(line);
    CHECK(character_count(line) <= 80);
  }
  CHECK(says(full, "Pair by pair"));
  CHECK(says(full, "Better together?"));
  CHECK_FALSE(says(ranking_summary(five, Verbosity::full), "Better together?"));
}

TEST_CASE("Ranking and combinations in JSON") {
  const TrialAnalysis trial = analysed(
      {treated("white", left(0.3), {DrugClass::bz}), treated("yellow", left(0.2), {DrugClass::lv}),
       treated("both", left(0.1), {DrugClass::bz, DrugClass::lv})});
  const auto json = nlohmann::json::parse(analysis_json({trial}, {}))["trials"][0];
  const auto& ranking = json["ranking"];
  REQUIRE(ranking["groups"].size() == 3);
  CHECK(ranking["groups"][0]["group"] == "both");
  double total = 0;
  for (const auto& group : ranking["groups"]) {
    total += group["best_percent"].get<double>();
    CHECK(group["within_two_points_percent"].get<double>() >= group["best_percent"].get<double>());
  }
  // JSON has six decimals: of four such numbers, each is off by half of the last at most.
  CHECK_THAT(total + ranking["cannot_tell_percent"].get<double>(),
             Catch::Matchers::WithinAbs(100, 1e-6));
  CHECK(ranking["pairs"].size() == 3);
  CHECK(ranking["left_out"].empty());
  REQUIRE(json["combinations"].size() == 1);
  const auto& both = json["combinations"][0];
  CHECK(both["parts"][1]["group"] == "yellow");
  const double expected = 100 * (1 - (1 - *trial.groups[0].evidence.reduction) *
                                         (1 - *trial.groups[1].evidence.reduction));
  CHECK_THAT(both["expected_percent"].get<double>(), support::close_to(expected));
  CHECK(both["expected_lower_percent"].get<double>() < expected);
  CHECK(both["expected_upper_percent"].get<double>() > expected);
  CHECK(both["why_not"].is_null());
}

TEST_CASE("A good drench that is to be taken with care is not ranked as one without") {
  TrialAnalysis trial = analysed({treated("a", left(0)), treated("b", left(0.3))});
  REQUIRE(trial.groups[0].judgement.standing.verdict_class == VerdictClass::susceptible);
  trial.groups[0].judgement.standing.care = Care::sampled_early;
  CHECK(says(screen(trial), "with care"));
  trial.groups[0].judgement.standing.care.reset();
  CHECK_FALSE(says(screen(trial), "with care"));
}
