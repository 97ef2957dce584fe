#include "trial/missing_factor.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {

Wording expected_factor(std::string_view column, const Wording& hint) {
  return fmt::format("a column {}, or ", column) + Mention{Setting::factor} + " (" +
         Mention{Setting::bench_calculator} + " works it out from the bench figures" + hint + ")";
}

bool lacks_the_factor_alone(const InputError& error) {
  return !error.problems().empty() &&
         std::ranges::all_of(error.problems(), [](const Problem& problem) {
           return problem.found == count_without_factor;
         });
}

} // namespace eggfall
