// What the standing is worth (docs/audit.md): in a season that changes, and flaw by flaw.
#include "flaw_audit.hpp"
#include "season_audit.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <tbb/global_control.h>

#include <chrono>
#include <cstdlib>
#include <iostream>
#include <optional>
#include <string>

int main(int count, char** arguments) {
  StandingAudit audit;
  std::string part;
  std::size_t threads = 0;
  CLI::App app("What the standing makes of simulated trials whose truth is known");
  app.add_option("--part", part, "season: counts that change by themselves; flaws: flaw by flaw")
      ->check(CLI::IsMember({"season", "flaws"}))
      ->required();
  app.add_option("--trials", audit.trials, "Of each cell")
      ->check(CLI::Range(1, 1'000'000))
      ->capture_default_str();
  app.add_option("--seed", audit.seed)->capture_default_str();
  app.add_option("--threads", threads, "0: one a core")->capture_default_str();
  CLI11_PARSE(app, count, arguments);

  std::optional<tbb::global_control> limit;
  if (threads > 0)
    limit.emplace(tbb::global_control::max_allowed_parallelism, threads);
  const auto start = std::chrono::steady_clock::now();
  const AuditedPart audited = part == "season" ? audit_seasons(audit) : audit_flaws(audit);
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;

  std::cout << audited.tables;
  for (const std::string& breach : audited.breaches)
    std::cerr << "Breach: " << breach << '\n';
  std::cerr << fmt::format("{} breaches; {:.0f} s\n", audited.breaches.size(), taken.count());
  return audited.breaches.empty() ? EXIT_SUCCESS : EXIT_FAILURE;
}
