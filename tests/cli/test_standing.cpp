#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>
#include <utility>
#include <vector>

// Screen, JSON, CSV, report and survey show one standing of a flawed trial.

namespace {

using Case = std::pair<std::string, std::string>; // a table, and the first bar of its group

std::string rows(const std::string& start, int left_of_ten, const std::string& behind) {
  std::string text;
  int tag = 0;
  for (const int before : {40, 31, 53, 22, 64, 47, 38, 29, 51, 44})
    text += start + std::to_string(++tag) + "," + std::to_string(before) + "," +
            std::to_string(before * left_of_ten / 10) + behind + "\n";
  return text;
}

std::vector<Case> cases() {
  return {{"group,animal,eggs_before,eggs_after\n" + rows("w,", 0, ""), ""},
          {"group,animal,eggs_before,eggs_after,date_treated,date_after\n" +
               rows("w,", 4, ",2031-05-01,2031-06-12"),
           "day"},
          {"group,animal,eggs_before,eggs_after,worm\n" + rows("w,", 0, ",Fasciola hepatica"),
           "not-covered"},
          {"group,animal,eggs_before,eggs_after\n" + rows("w,", 0, "") + "w,91,310,\nw,92,290,\n",
           "missing"},
          {"group,animal,eggs_before,eggs_after,eggs_before:nematodirus,eggs_after:nematodirus\n" +
               rows("w,", 0, ",30,15"),
           "surviving-worm"}};
}

} // namespace

TEST_CASE("Every writer and the survey show the same standing, and why") {
  for (const auto& [table, bar] : cases()) {
    CAPTURE(bar);
    const ScratchDirectory scratch;
    write_text(scratch.path("t.csv"), table);
    const std::string in_scratch = "cd '" + scratch.path() + "' && ";
    const std::string how = " t.csv --factor 15 --host sheep ";
    const Run shown = run(in_scratch + "eggfall analyse" + how +
                          "--json a.json --csv a.csv --report a.html --simulations 0");
    REQUIRE(shown.exit_code == 0);
    const auto group =
        nlohmann::json::parse(read_text(scratch.path("a.json")))["trials"][0]["groups"][0];
    const auto& standing = group["standing"];
    const std::string stands = standing["class"];
    CHECK(standing["by_counts_alone"] == group["verdicts"][0]["class"]);
    CHECK(standing["bars"].size() == (bar.empty() ? 0 : 1));
    if (!bar.empty()) {
      CHECK(standing["bars"][0]["code"] == bar);
      CHECK(group["probabilities"].is_null());
      CHECK_THAT(shown.output, Catch::Contains("  But       - "));
    }
    std::string heading = stands;
    for (char& c : heading)
      c = static_cast<char>(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c);
    CHECK_THAT(shown.output, Catch::Contains(heading));
    CHECK_THAT(read_text(scratch.path("a.csv")),
               Catch::Contains("," + stands + "," + bar + "\r\n"));
    const std::string page = read_text(scratch.path("a.html"));
    CHECK_THAT(page, Catch::Contains("Standing: " + stands));
    // A tick for a sound trial alone.
    CHECK((page.find(">Works<") != std::string::npos) == bar.empty());

    const Run survey = run(in_scratch + "eggfall survey" + how + "--csv -");
    REQUIRE(survey.exit_code == 0);
    CHECK_THAT(survey.output, Catch::EndsWith("," + stands + "," + bar + ",\r\n"));
    const Run tallied = run(in_scratch + "eggfall survey" + how + "--json -");
    const auto json = nlohmann::json::parse(tallied.output);
    const std::string key = stands == "not applicable" ? "not_judged" : stands;
    CHECK(json["all"][key] == 1);
    if (!bar.empty())
      CHECK(json["barred"][bar] == 1);
  }
}
