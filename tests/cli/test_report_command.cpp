#include "cli/program.hpp"
#include "support/page_words.hpp"

#include "eggfall/base/percent.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <map>
#include <sstream>
#include <vector>

using nlohmann::json;

namespace {

/// A quoted CSV's rows by the names of their columns; cells of the tables here hold no line ends.
std::vector<std::map<std::string, std::string>> csv_rows(const std::string& text) {
  std::vector<std::vector<std::string>> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"')
        quoted = !quoted;
      else if (c == ',' && !quoted)
        cells.emplace_back();
      else if (c != '\r')
        cells.back() += c;
    }
    lines.push_back(std::move(cells));
  }
  std::vector<std::map<std::string, std::string>> rows;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    rows.emplace_back();
    for (std::size_t c = 0; c < lines[i].size(); ++c)
      rows.back()[lines[0].at(c)] = lines[i][c];
  }
  return rows;
}

std::string without_spaces(const std::string& text) {
  std::string result;
  for (const char c : text)
    if (c != ' ' && c != '\n')
      result += c;
  return result;
}

/// A number of the JSON, a percentage, as report and screen show it.
std::string shown(const json& percentage) {
  return eggfall::percent(percentage.get<double>() / 100);
}

/// Likewise one of a limit.
std::string shown_limit(const json& percentage) {
  return eggfall::percent_of_limit(percentage.get<double>() / 100);
}

struct Outputs {
  json result;
  std::vector<std::map<std::string, std::string>> rows;
  std::string screen; ///< Without spaces and line ends.
  pugi::xml_document page;
};

void run_all(const std::string& options, Outputs& outputs) {
  const ScratchDirectory scratch;
  const Run run_of =
      run("eggfall analyse " + options + " --verbose --json '" + scratch.path("r.json") +
          "' --csv '" + scratch.path("r.csv") + "' --report '" + scratch.path("r.html") + "'");
  REQUIRE(run_of.exit_code == 0);
  outputs.screen = without_spaces(run_of.output);
  outputs.result = json::parse(read_text(scratch.path("r.json")));
  outputs.rows = csv_rows(read_text(scratch.path("r.csv")));
  REQUIRE(outputs.page.load_string(read_text(scratch.path("r.html")).c_str(), pugi::parse_full));
}

void check_intervals(const json& group, const std::string& in_report, const Outputs& outputs) {
  for (const json& interval : group["intervals"]) {
    const std::string method = interval["method"];
    INFO(method);
    std::size_t rows = 0;
    for (const auto& row : outputs.rows) {
      if (row.at("group") != group["group"] || row.at("method") != method ||
          !row.at("worm").empty())
        continue;
      ++rows;
      CHECK((row.at("usable") == "true") == interval["usable"].get<bool>());
      for (const char* limit : {"lower_percent", "upper_percent"})
        CHECK(row.at(limit) == (interval[limit].is_null()
                                    ? ""
                                    : fmt::format("{:.6f}", interval[limit].get<double>())));
    }
    CHECK(rows == 1);
    if (!interval["usable"].get<bool>())
      continue;
    const std::string limits = without_spaces(fmt::format(
        "{} to {}", shown(interval["lower_percent"]), shown_limit(interval["upper_percent"])));
    CHECK(in_report.find(limits) != std::string::npos);
    CHECK(outputs.screen.find(limits) != std::string::npos);
  }
}

void check_animals(const json& animals, const std::string& in_report, const Outputs& outputs) {
  for (const json& animal : animals) {
    const auto cell = [](const json& value) {
      return value.is_null() ? std::string() : fmt::format("{:g}", value.get<double>());
    };
    const std::string fall =
        animal["reduction_percent"].is_null() ? "" : shown(animal["reduction_percent"]);
    std::string row = animal["animal"].get<std::string>();
    std::string on_screen = row;
    for (const char* key : {"eggs_before", "eggs_after", "epg_before", "epg_after"}) {
      row += cell(animal[key]);
      on_screen += animal[key].is_null() ? "-" : cell(animal[key]);
    }
    INFO(row);
    CHECK(in_report.find(row + fall) != std::string::npos);
    CHECK(outputs.screen.find(on_screen + (fall.empty() ? "-" : fall)) != std::string::npos);
  }
}

} // namespace

TEST_CASE("Report, JSON, CSV and screen agree in every number") {
  for (const std::string options :
       {"examples/brackenhill.csv", "examples/combination.csv", "examples/doses.csv --host sheep",
        "examples/mixed-worms.csv --larvae examples/mixed-worms-larvae.csv",
        "tests/extremes/counts-rise.csv", "tests/extremes/no-egg-after.csv"}) {
    INFO(options);
    Outputs outputs;
    run_all(options, outputs);
    std::size_t groups = 0;
    for (std::size_t t = 0; t < outputs.result["trials"].size(); ++t) {
      const json& trial = outputs.result["trials"][t];
      for (std::size_t g = 0; g < trial["groups"].size(); ++g) {
        const json& group = trial["groups"][g];
        INFO(group["group"]);
        ++groups;
        const std::string id = fmt::format("trial-{}-group-{}", t + 1, g + 1);
        const pugi::xml_node section =
            outputs.page.select_node(("//section[@id='" + id + "']").c_str()).node();
        REQUIRE(section);
        const std::string in_report = without_spaces(
            support::words_of(section) +
            support::words_of(outputs.page.select_nodes("//section[@class='appendix']")[t].node()));
        const auto in_both = [&](const std::string& text) {
          INFO(text);
          CHECK(in_report.find(without_spaces(text)) != std::string::npos);
          CHECK(outputs.screen.find(without_spaces(text)) != std::string::npos);
        };
        const double reduction = group["reduction_percent"].get<double>();
        in_both(reduction >= 0 ? "Fall" : "none: counts rose by");
        in_both(reduction >= 0 ? shown(group["reduction_percent"]) : shown(-reduction));
        in_both(fmt::format("({} egg{} seen)", group["eggs_before"].get<int>(),
                            group["eggs_before"] == 1 ? "" : "s"));
        in_both(fmt::format("({} egg{} seen)", group["eggs_after"].get<int>(),
                            group["eggs_after"] == 1 ? "" : "s"));
        for (const json& verdict : group["verdicts"])
          in_both(verdict["reason"].get<std::string>());
        for (const json& caveat : group["caveats"])
          in_both(caveat["text"].get<std::string>());
        for (const json& dropped : group["dropped"])
          in_both(dropped["animal"].get<std::string>());
        for (const json& worm : group["worms"])
          if (!worm["reduction_percent"].is_null())
            in_both(worm["worm"].get<std::string>());
        check_intervals(group, in_report, outputs);
        check_animals(group["per_animal"], in_report, outputs);
        const std::string farmer = without_spaces(
            support::words_of(outputs.page.select_nodes("//section[@class='farmer']")[t].node()));
        CHECK(farmer.find(without_spaces(group["next_step"].get<std::string>())) !=
              std::string::npos);
      }
    }
    CHECK(groups > 0);
  }
}

TEST_CASE("The report of the example is the one that the program makes") {
  const Run made = run("eggfall analyse examples/brackenhill.csv --report -");
  REQUIRE(made.exit_code == 0);
  CHECK(made.output == read_text(EGGFALL_SOURCE_DIR "/examples/brackenhill-report.html"));
}

TEST_CASE("Figures are written into a folder, each as SVG") {
  const ScratchDirectory scratch;
  const std::string folder = scratch.path("a/figures");
  REQUIRE(run("eggfall analyse examples/brackenhill.csv --figures '" + folder + "'").exit_code ==
          0);
  for (const char* name :
       {"falls", "1-eggs-left", "2-animals", "2-doses", "3-intervals", "control-animals"}) {
    INFO(name);
    CHECK(read_text(folder + "/" + name + ".svg").starts_with("<?xml"));
    const std::string png = folder + "/" + name + ".png";
#ifdef EGGFALL_WITH_RSVG // the program was built with what draws them
    REQUIRE(std::filesystem::exists(png));
    CHECK(read_text(png).substr(1, 3) == "PNG");
    CHECK(std::filesystem::file_size(png) > 1'000);
#else
    CHECK_FALSE(std::filesystem::exists(png));
#endif
  }
  // A file stands where the folder should be.
  write_text(scratch.path("taken"), "x");
  const Run refused =
      run("eggfall analyse examples/brackenhill.csv --figures '" + scratch.path("taken") + "'");
  CHECK(refused.exit_code == 2);
  CHECK(refused.errors.find("found no way to make this folder") != std::string::npos);
}

TEST_CASE("Two outputs cannot both go to standard output") {
  const Run refused = run("eggfall analyse examples/brackenhill.csv --report - --json -");
  CHECK(refused.exit_code == 2);
  CHECK(refused.output.empty());
  CHECK(refused.errors.find("expected one of them on standard output") != std::string::npos);
}
