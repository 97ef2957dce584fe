#include "cli/program.hpp"

#include "support/page_words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <vector>

namespace {

const nlohmann::json& interval(const nlohmann::json& group, std::string_view method) {
  return *std::ranges::find_if(
      group["intervals"], [&](const nlohmann::json& each) { return each["method"] == method; });
}

std::string limits(const nlohmann::json& interval) {
  return interval["usable"]
             ? fmt::format("{:.1f}% to {:.1f}%", interval["lower_percent"].get<double>(),
                           interval["upper_percent"].get<double>())
             : "no limits";
}

pugi::xml_document page(const std::string& path) {
  pugi::xml_document document;
  const std::string text = read_text(path);
  REQUIRE(document.load_string(text.c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return document;
}

/// The words of every worksheet's answer.
std::vector<std::string> answers(const std::string& path) {
  std::vector<std::string> words;
  const pugi::xml_document document = page(path);
  for (const pugi::xpath_node each : document.select_nodes("//section"))
    words.push_back(support::words_of(each.node()));
  return words;
}

/// Every cell of the tables of tests, by the test's name in the page's tables.
std::map<std::string, std::vector<std::string>> tests_of(const std::string& path) {
  std::map<std::string, std::vector<std::string>> tests;
  const pugi::xml_document document = page(path);
  for (const pugi::xpath_node row :
       document.select_nodes("//table[thead/tr/th='Class of 1992']/tbody/tr")) {
    std::vector<std::string> cells;
    for (const pugi::xml_node cell : row.node().children("td"))
      cells.emplace_back(cell.text().get());
    tests.emplace(row.node().child("th").text().get(), cells);
  }
  return tests;
}

nlohmann::json analysed(const std::string& table) {
  const Run result = run("eggfall analyse '" + table +
                         "' --design two-group --criteria waavp-1992 --level 95 --seed 7 "
                         "--simulations 0 --json -");
  REQUIRE(result.exit_code == 0);
  return nlohmann::json::parse(result.output)["trials"][0]["groups"][0];
}

} // namespace

TEST_CASE("teach: every answer of a pack of 30 is that of analyse on the student's table") {
  const ScratchDirectory scratch;
  const std::string folder = scratch.path("pack");
  const Run made = run("eggfall teach --folder '" + folder + "' --seed 7");
  REQUIRE(made.exit_code == 0);
  CHECK(made.errors.empty());
  const std::vector<std::string> keys = answers(folder + "/answers.html");
  REQUIRE(keys.size() == 30);
  for (std::size_t i = 0; i < keys.size(); ++i) {
    INFO(keys[i]);
    const nlohmann::json group =
        analysed(fmt::format("{}/tables/worksheet-{:02}.csv", folder, i + 1));
    const auto says = [&](const std::string& words) {
      INFO(words);
      CHECK(keys[i].find(words) != std::string::npos);
    };
    says(fmt::format(" = {:.1f}% ", group["reduction_percent"].get<double>()));
    const nlohmann::json& by_hand = interval(group, "log-ratio-1992");
    if (by_hand["usable"]) {
      says(fmt::format(" = {:.1f}%; upper limit", by_hand["lower_percent"].get<double>()));
      says(fmt::format(" = {:.1f}% Class", by_hand["upper_percent"].get<double>()));
      says(fmt::format("Class of 1992: {}.", group["verdicts"][0]["class"].get<std::string>()));
    } else {
      says("No limits: no egg was found in the treated animals");
      says("Class of 1992: none.");
    }
    says("at 95% too: " + limits(interval(group, "guarded-posterior")) + ";");
  }

  const std::map<std::string, std::string> tables{
      {"5 animals", "size-05"},        {"10 animals", "size-10"},
      {"20 animals", "size-20"},       {"factor 50", "factor-50"},
      {"factor 25", "factor-25"},      {"factor 10", "factor-10"},
      {"factor 1", "factor-01"},       {"Day 3", "day-too-early"},
      {"Day 9", "day-right"},          {"Day 37", "day-too-late"},
      {"With it", "gate-all-animals"}, {"Without it", "gate-without-it"}};
  const auto tests = tests_of(folder + "/exercise-answers.html");
  REQUIRE(tests.size() == tables.size());
  for (const auto& [name, table] : tables) {
    INFO(name);
    const nlohmann::json group = analysed(folder + "/tables/" + table + ".csv");
    const std::vector<std::string>& cells = tests.at(name);
    CHECK(cells[0] == fmt::format("{}", group["eggs_after"].get<int>()));
    CHECK(cells[3] == fmt::format("{:.1f}%", group["reduction_percent"].get<double>()));
    CHECK(cells[4] == limits(interval(group, "log-ratio-1992")));
    CHECK(cells[5] == limits(interval(group, "guarded-posterior")));
    if (interval(group, "log-ratio-1992")["usable"])
      CHECK(cells[6] == group["verdicts"][0]["class"]);
    else
      CHECK(cells[6] == "none");
  }
}

TEST_CASE("teach: the first page leads to every page of the pack, and a seed makes one pack only") {
  const ScratchDirectory scratch;
  const auto made = [&](const std::string& name) {
    const Run result =
        run(fmt::format("eggfall teach --students 2 --seed 4 --folder '{}'", scratch.path(name)));
    REQUIRE(result.exit_code == 0);
    CHECK(result.output.find("A class pack for 2 students in ") == 0);
    return scratch.path(name);
  };
  const std::string folder = made("one");
  std::set<std::string> linked{"index.html"};
  const pugi::xml_document index =
      page(folder + "/index.html"); // its nodes live as long as it does
  for (const pugi::xpath_node link : index.select_nodes("//a"))
    linked.insert(link.node().attribute("href").value());
  std::set<std::string> pages;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".html")
      pages.insert(entry.path().filename().string());
  CHECK(linked == pages);
  const auto truth = nlohmann::json::parse(read_text(folder + "/truth.json"));
  CHECK(truth["trials"].size() == 2);
  CHECK(truth["trials"][1]["trial"] == "worksheet-02");

  const std::string again = made("again");
  for (const std::string& name : pages) {
    INFO(name);
    CHECK(read_text(folder + "/" + name) == read_text(again + "/" + name));
  }
}

TEST_CASE("teach: what cannot be is refused with exit code 2 and leaves no folder") {
  const ScratchDirectory scratch;
  const auto refused = [&](const std::string& options, const std::string& message) {
    INFO(options);
    const Run result = run("eggfall teach --folder '" + scratch.path("pack") + "' " + options);
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find(message) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(scratch.path("pack")));
  };
  refused("--lesson few-eggs", "1 treated groups and 0 controls");
  refused("--students 0", "expected a whole number from 1 to 200");
  refused("--students 500", "--students");
  refused("--lesson moon", "expected one of class");
  write_text(scratch.path("taken"), "a file");
  const Run taken = run("eggfall teach --students 1 --folder '" + scratch.path("taken") + "'");
  CHECK(taken.exit_code == 2);
  CHECK(read_text(scratch.path("taken")) == "a file");
}
