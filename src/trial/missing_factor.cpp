#include "trial/missing_factor.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {

std::string expected_factor(std::string_view column, std::string_view hint) {
  return fmt::format("a column {}, or the option --factor ('eggfall factor' works it out from the "
                     "bench figures{})",
                     column, hint);
}

bool lacks_the_factor_alone(const InputError& error) {
  return !error.problems().empty() &&
         std::ranges::all_of(error.problems(), [](const Problem& problem) {
           return problem.found == count_without_factor;
         });
}

} // namespace eggfall
