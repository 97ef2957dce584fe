#pragma once

#include "web/fields.hpp"
#include "web/reply.hpp"
#include "web/surroundings.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace eggfall::web {

/// Tests that a page may ask for at once.
inline constexpr std::uint64_t most_invented = 1'000;

/// Invented tests with a known truth. Fields: lesson (a name of list_choices()) or scenario (TOML),
/// seed, trials. Reply: lesson, ask and title. Files: counts.csv, truth.json and, where worms were
/// told apart, larvae.csv.
Reply simulate_tests(Fields& fields, const std::vector<std::string>& files,
                     const Surroundings& surroundings);

/// The page of sliders. No fields. File: lesson.html.
Reply lesson(Fields& fields, const std::vector<std::string>& files,
             const Surroundings& surroundings);

} // namespace eggfall::web
