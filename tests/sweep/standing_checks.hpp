#pragma once

#include <cstdint>
#include <string>
#include <vector>

/// What a part of the audit of the standing printed, and what of it must not be.
struct AuditedPart {
  std::string tables; ///< Markdown.
  std::vector<std::string> breaches;
};

struct StandingAudit {
  std::uint32_t trials = 200; ///< Of each cell.
  std::uint64_t seed = 1;
};

/// Share of all that counts as wrong, of 100 trials.
double of_100(std::uint64_t number, std::uint32_t trials);

/// Whether so many of the trials are too many to be the luck of a true share of `allowed` or less:
/// such luck has a chance below 1 in 10,000.
bool too_many(std::uint64_t number, std::uint32_t trials, double allowed);
