#include "simulation/practice.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "support/edge_inputs.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

using namespace eggfall;
using support::input_error;

namespace {

const std::string head = "schema = \"eggfall.practice/1\"\n"
                         "name = \"two-farms\"\n"
                         "host = \"sheep\"\n"
                         "date_treated = \"2028-02-29\"\n"
                         "years = 3\n"
                         "animals = 4\n"
                         "eggs = 20\n"
                         "[[groups]]\n"
                         "name = \"clear\"\n"
                         "drench = \"ivermectin\"\n"
                         "class = \"ML\"\n"
                         "efficacy_percent = 98\n"
                         "[[groups]]\n"
                         "name = \"untreated\"\n"
                         "role = \"control\"\n";

const std::string farms = "[[farms]]\n"
                          "name = \"Hill\"\n"
                          "region = \"North\"\n"
                          "[[farms]]\n"
                          "name = \"Dale\"\n"
                          "[[farms.changes]]\n"
                          "group = \"clear\"\n"
                          "efficacy_percent = [98, 90, 80]\n";

const std::string farms_without_changes =
    "[[farms]]\nname = \"Hill\"\n[[farms]]\nname = \"Dale\"\n";

Practice practice(const std::string& toml = head + farms) {
  return read_practice(toml, "p.toml");
}

std::string refusal(const std::string& toml) {
  return input_error([&] { practice(toml); });
}

} // namespace

TEST_CASE("A practice is each farm's test, year after year") {
  const std::vector<SimulatedTrial> trials = simulate(practice(), 1);
  REQUIRE(trials.size() == 6);
  CHECK(trials[0].trial.name == "Hill");
  CHECK(trials[5].trial.name == "Dale");
  for (std::size_t t = 0; t < trials.size(); ++t) {
    REQUIRE(trials[t].trial.groups.size() == 2);
    for (const Group& group : trials[t].trial.groups) {
      CHECK(group.farm == (t < 3 ? "Hill" : "Dale"));
      CHECK(group.region == (t < 3 ? "North" : ""));
      CHECK(group.year == 2028 + static_cast<int>(t % 3));
      CHECK(group.animals.size() == 4);
    }
  }
  // A leap day is the last of February in other years.
  CHECK(trials[1].trial.groups.front().animals.front().date_treated ==
        std::chrono::year(2029) / 2 / 28);
}

TEST_CASE("The truth of a practice has the changed efficacy of its own farm and year alone") {
  const auto truth = nlohmann::json::parse(practice_truth_json(practice(), 7));
  CHECK(truth.at("schema") == "eggfall.practice-truth/1");
  CHECK(truth.at("seed") == 7);
  const auto efficacy = [&](std::size_t farm, std::size_t year) {
    return truth.at("farms").at(farm).at("years").at(year).at("groups").at(0).at(
        "true_efficacy_percent");
  };
  for (std::size_t year = 0; year < 3; ++year)
    CHECK(efficacy(0, year) == 98);
  CHECK(efficacy(1, 0) == 98);
  CHECK(efficacy(1, 1) == 90);
  CHECK(efficacy(1, 2) == 80);
}

TEST_CASE("The eggs of a practice follow its truth, and hang on the seed alone") {
  Practice many = practice();
  for (ScenarioGroup& group : many.test.groups)
    group.model.animals = 2000;
  const std::vector<SimulatedTrial> trials = simulate(many, 3);
  const auto fall = [&](std::size_t t) {
    double before = 0;
    double after = 0;
    for (const Animal& animal : trials[t].trial.groups.front().animals) {
      before += animal.before->eggs.value();
      after += animal.after->eggs.value();
    }
    return 1 - after / before;
  };
  // The luck of counting and samples that vary: a share s left of 20 eggs a head has a standard
  // error of s sqrt((1/(20 s) + 1/20 + 2 0.5^2 (1 + 1/0.7))/2,000), the model's own variation
  // within animals being 0.5 and its k 0.7: 0.0009, 0.0030 and 0.0055. About five of them are
  // allowed.
  CHECK(fall(0) == Approx(0.98).margin(0.004));
  CHECK(fall(4) == Approx(0.90).margin(0.015));
  CHECK(fall(5) == Approx(0.80).margin(0.03));
  const auto first_eggs = [&](std::uint64_t seed) {
    std::vector<std::uint32_t> eggs;
    for (const SimulatedTrial& trial : simulate(practice(), seed))
      for (const Animal& animal : trial.trial.groups.front().animals)
        eggs.push_back(animal.before->eggs.value());
    return eggs;
  };
  CHECK(first_eggs(3) == first_eggs(3));
  CHECK(first_eggs(3) != first_eggs(4));
}

TEST_CASE("A practice that cannot be is refused with its reason") {
  CHECK(refusal(head).find("farms: found 0; expected 1 to 10000") != std::string::npos);
  CHECK(refusal(head + farms + "[[farms]]\nname = \"Hill\"\n").find("\"Hill\" twice") !=
        std::string::npos);
  const std::string other = head + "[[farms]]\nname = \"Hill\"\n[[farms.changes]]\n";
  CHECK(refusal(other + "group = \"white\"\nefficacy_percent = [1, 2, 3]\n")
            .find("no treated group of this name") != std::string::npos);
  CHECK(refusal(other + "group = \"untreated\"\nefficacy_percent = [1, 2, 3]\n")
            .find("no treated group of this name") != std::string::npos);
  CHECK(refusal(other + "group = \"clear\"\nefficacy_percent = [98, 90]\n")
            .find("found 2 efficacies; expected 3, one a year") != std::string::npos);
  CHECK(refusal(other + "group = \"clear\"\nefficacy_percent = [98, 90, 120]\n").find("efficacy") !=
        std::string::npos);
  CHECK(refusal(other + "group = \"clear\"\nefficacy = [98, 90, 90]\n").find("unknown key") !=
        std::string::npos);
  std::string undated = head + farms;
  undated.replace(undated.find("date_treated"), 28, "");
  CHECK(refusal(undated).find("date_treated: found none") != std::string::npos);
  std::string half = head + farms;
  half.replace(half.find("years = 3"), 9, "years = 2.5");
  CHECK(refusal(half).find("years = 1 to 50") != std::string::npos);
}

TEST_CASE("A practice of several years has more than one animal a test, and so reads back") {
  const std::string one = "schema = \"eggfall.practice/1\"\n"
                          "name = \"one-ewe\"\n"
                          "date_treated = \"2030-05-14\"\n"
                          "years = 2\n"
                          "animals = 1\n"
                          "[[groups]]\n"
                          "name = \"clear\"\n"
                          "efficacy_percent = 98\n";
  const auto with = [&](const std::string& what, const std::string& instead) {
    std::string text = one + farms_without_changes;
    text.replace(text.find(what), what.size(), instead);
    return text;
  };
  CHECK(refusal(one + farms_without_changes)
            .find("one animal in all, in a practice of several years; expected 2 or more") !=
        std::string::npos);
  for (const std::string& readable :
       {with("years = 2", "years = 1"), with("animals = 1", "animals = 2"),
        one + "[[groups]]\nname = \"untreated\"\nrole = \"control\"\n" + farms_without_changes}) {
    INFO(readable);
    std::vector<Trial> trials;
    for (const SimulatedTrial& each : simulate(practice(readable), 1))
      trials.push_back(each.trial);
    CHECK(read_trials(counts_table(trials), "counts.csv", {}).trials.size() == trials.size());
  }
}

TEST_CASE("Edge inputs are no practice, and its edge forms are one") {
  support::check_edge_inputs_refused(
      "p.toml", [](const std::string& bytes) { read_practice(bytes, "p.toml"); });
  support::check_edge_forms_alike(
      "schema = \"eggfall.practice/1\"\nname = \"own\"\ndate_treated = \"2030-05-14\"\nyears = 2\n"
      "eggs = 12\nfactor_before = 15\n[[groups]]\nname = \"white\"\nefficacy_percent = 90\n"
      "[[farms]]\nname = \"Long Acre\"\n",
      [](const std::string& bytes) {
        return practice_truth_json(read_practice(bytes, "p.toml"), 1);
      });
}
