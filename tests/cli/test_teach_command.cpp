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

/// The cells of every worksheet's answer, by what their columns are headed.
std::vector<std::map<std::string, std::string>> answers(const std::string& path) {
  const pugi::xml_document document = page(path);
  std::vector<std::string> heads;
  for (const pugi::xpath_node head : document.select_nodes("//table/thead/tr/th"))
    heads.emplace_back(head.node().text().get());
  std::vector<std::map<std::string, std::string>> rows;
  for (const pugi::xpath_node row : document.select_nodes("//table/tbody/tr")) {
    auto head = heads.begin();
    rows.emplace_back();
    for (const pugi::xml_node cell : row.node().children())
      rows.back()[*head++] = cell.text().get();
  }
  return rows;
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
  const auto keys = answers(folder + "/answers.html");
  REQUIRE(keys.size() == 30);
  bool some_without = false;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    INFO("worksheet " << i + 1);
    const std::map<std::string, std::string>& key = keys[i];
    CHECK(key.at("Worksheet") == fmt::format("Sheet {}", i + 1));
    const nlohmann::json group =
        analysed(fmt::format("{}/tables/worksheet-{:02}.csv", folder, i + 1));
    CHECK(key.at("T sum of x") == fmt::format("{}", group["eggs_after"].get<int>()));
    CHECK(key.at("Fall") == fmt::format("{:.1f}%", group["reduction_percent"].get<double>()));
    const nlohmann::json& by_hand = interval(group, "log-ratio-1992");
    if (by_hand["usable"]) {
      CHECK(key.at("Lower limit") ==
            fmt::format("{:.1f}%", by_hand["lower_percent"].get<double>()));
      CHECK(key.at("Upper limit") ==
            fmt::format("{:.1f}%", by_hand["upper_percent"].get<double>()));
      CHECK(key.at("Class of 1992") == group["verdicts"][0]["class"]);
    } else {
      some_without = true;
      CHECK(key.at("Lower limit") == "none");
      CHECK(key.at("By hand") == "no limits");
      CHECK(key.at("Class of 1992") == "none");
    }
    CHECK(key.at("Posterior limits") == limits(interval(group, "guarded-posterior")));
  }
  const std::string words = support::words_of(page(folder + "/answers.html"));
  CHECK((words.find("no egg was found in the treated animals") != std::string::npos) ==
        some_without);

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
