#include "simulation/audit_json.hpp"

#include "eggfall/base/error.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/audit_text.hpp"
#include "support/edge_inputs.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <sstream>

using namespace eggfall;

namespace {

AuditSettings quick() {
  AuditSettings settings;
  settings.trials = 130; // no multiple of a task's trials
  Group sheep;
  sheep.host = "sheep";
  settings.criteria = audit_criteria(published_cut_offs().criteria, sheep);
  return settings;
}

std::vector<AuditFarm> two_cells() {
  return read_audit_grid("schema = \"eggfall.audit-grid/1\"\n[[cells]]\nanimals = 6\n"
                         "efficacy_percent = 99.9\nk_after = 0.33\n[[cells]]\n"
                         "design = \"two-group\"\nshape = \"weibull\"\n",
                         "two");
}

AuditResult run_part(Shard shard) {
  const auto farms = two_cells();
  AuditResult result = empty_result(farms, quick(), shard);
  for (const AuditTask& task : audit_tasks(farms.size(), result.settings, shard))
    add(result.farms[task.farm].tally,
        audit_trials(farms[task.farm], result.settings, task.first, task.trials));
  return result;
}

AuditResult through_json(const AuditResult& result) {
  return read_audit_json(audit_json(result), "part.json");
}

std::string message(const std::vector<AuditResult>& parts) {
  try {
    merged(parts);
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

} // namespace

TEST_CASE(
    "An audit's parts, written and read back in any order, join into just what one run gives") {
  const AuditResult whole = run_part({1, 1});
  const std::string expected = audit_json(whole);
  CHECK(audit_json(through_json(whole)) == expected);
  std::vector<AuditResult> parts;
  for (const std::size_t i : {3UL, 1UL, 2UL})
    parts.push_back(through_json(run_part({i, 3})));
  CHECK(audit_json(merged(parts)) == expected);
  CHECK(audit_csv(merged(parts)) == audit_csv(whole));
  CHECK(audit_text(merged(parts), Verbosity::full) == audit_text(whole, Verbosity::full));
}

TEST_CASE("Parts that do not make a whole are refused") {
  const AuditResult a = run_part({1, 3});
  const AuditResult b = run_part({2, 3});
  const AuditResult c = run_part({3, 3});
  CHECK(message({}) == "no part to merge; expected all parts of one audit");
  CHECK(message({a, c}) == "part 2/3 is missing; expected all 3 parts");
  CHECK(message({a, b, b}) == "part 2/3 comes twice; expected each part once");
  AuditResult other = c;
  other.settings.seed = 2;
  CHECK(message({a, b, other}) == "part 3 is of another audit than the first; expected the same "
                                  "version, cells, settings and number of parts");
  other = c;
  other.farms[0].farm.model.k = 0.71;
  CHECK(message({a, b, other}).starts_with("part 3 is of another audit"));
  other = c;
  other.farms[0].tally = {};
  other.farms[0].tally.methods = c.farms[0].tally.methods;
  for (MethodTally& method : other.farms[0].tally.methods)
    method = {method.method, 0, 0, 0, 0, 0, std::vector<VerdictTally>(method.verdicts.size())};
  CHECK(message({a, b, other}).starts_with("a cell has "));
}

TEST_CASE("What is no result of an audit is refused with one message") {
  const std::string good = audit_json(run_part({1, 1}));
  const auto refused = [&](const std::string& from, const std::string& to) {
    std::string text = good;
    const auto found = text.find(from);
    REQUIRE(found != std::string::npos);
    text.replace(found, from.size(), to);
    try {
      read_audit_json(text, "x.json");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("no error");
  };
  for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
           {"eggfall.audit/3", "eggfall.audit/9"},
           {"\"of\":1", "\"of\":0"},
           {"\"held\":", "\"held\":1"},
           {"\"design\":\"paired\"", "\"design\":\"pairs\""},
           {"\"animals\":6", "\"animals\":6.5"},
           {"\"rule\":\"two-one-sided\"", "\"rule\":\"none\""},
           {"[\"susceptible\",\"low resistant\"", "[\"low resistant\",\"susceptible\""},
           {"\"classes\":[[", "\"classes\":[[0,"},
           {"\"without_estimate\"", "\"without\""},
           {"{", "["}}) {
    CAPTURE(from);
    const std::string found = refused(from, to);
    CHECK(found.starts_with("x.json: found no result of an audit ("));
    CHECK(found.ends_with("expected the JSON of an audit"));
    CHECK(std::ranges::count(found, '\n') == 0);
  }
  CHECK_THROWS_AS(read_audit_json("", "x.json"), InputError);
}

TEST_CASE("An audit's JSON holds counts alone, a line a cell and one a method") {
  const AuditResult whole = run_part({1, 1});
  const std::string json = audit_json(whole);
  std::size_t lines = 6; // the braces, schema, version, shard, settings, and "cells"
  for (const AuditedFarm& farm : whole.farms)
    lines += 1 + farm.tally.methods.size();
  CHECK(static_cast<std::size_t>(std::ranges::count(json, '\n')) == lines + 1);
  for (const char* share : {"coverage", "error", "missed", "mean"})
    CHECK(json.find(share) == std::string::npos);
  CHECK(json.find("\"held\":" + std::to_string(whole.farms[0].tally.methods[0].held) + ",") !=
        std::string::npos);
}

TEST_CASE("What an earlier version wrote of an audit is refused with the way out") {
  const std::string good = audit_json(run_part({1, 1}));
  for (const char* schema : {"eggfall.audit/1", "eggfall.audit/2"}) {
    std::string old = good;
    old.replace(old.find("eggfall.audit/3"), std::string("eggfall.audit/3").size(), schema);
    CHECK_THROWS_WITH(read_audit_json(old, "x.json"),
                      "x.json: found no result of an audit (of an earlier version; audit again "
                      "with this one); expected the JSON of an audit");
  }
}

TEST_CASE("The text of an audit fits 80 columns, and its CSV is square") {
  const AuditResult whole = run_part({1, 1});
  AuditResult one = whole;
  one.farms.resize(1);
  for (const AuditResult& result : {whole, one})
    for (const Verbosity verbosity : {Verbosity::brief, Verbosity::full}) {
      std::istringstream text(audit_text(result, verbosity));
      for (std::string line; std::getline(text, line);) {
        CAPTURE(line);
        CHECK(line.size() <= 80);
      }
    }
  std::istringstream csv(audit_csv(whole));
  std::size_t commas = 0;
  std::size_t rows = 0;
  for (std::string line; std::getline(csv, line); ++rows) {
    const auto here = static_cast<std::size_t>(std::ranges::count(line, ','));
    CHECK((rows == 0 || here == commas));
    commas = here;
  }
  CHECK(rows == 1 + whole.farms[0].tally.methods.size() + whole.farms[1].tally.methods.size());
}

TEST_CASE("Tallies that no audit can have are refused") {
  const std::string good = audit_json(run_part({1, 1}));
  const auto changed = [&](const std::string& key, const std::string& value) {
    std::string json = good;
    const auto found = json.find("\"" + key + "\":") + key.size() + 3;
    return json.replace(found, json.find_first_of(",}\n", found) - found, value);
  };
  CHECK_NOTHROW(read_audit_json(good, "part.json"));
  for (const char* key : {"held", "truth_above", "unusable", "width_sum", "none_after",
                          "without_estimate", "reduction_sum", "seed"})
    for (const char* value : {"-1.5", "1e300", "18446744073709551616", "true"}) {
      CAPTURE(key, value);
      CHECK_THROWS_AS(read_audit_json(changed(key, value), "part.json"), InputError);
    }
  CHECK_THROWS_AS(read_audit_json(changed("held", "-1"), "part.json"), InputError);
  CHECK_THROWS_AS(read_audit_json(changed("level", "7"), "part.json"), InputError);
  CHECK_THROWS_AS(read_audit_json(changed("lower_percent", "null"), "part.json"), InputError);
}

TEST_CASE("Edge inputs are no JSON of an audit") {
  support::check_edge_inputs_refused(
      "a.json", [](const std::string& bytes) { read_audit_json(bytes, "a.json"); });
}
