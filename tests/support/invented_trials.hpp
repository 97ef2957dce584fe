#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

/// A counts table of `trials` invented trials, one treated group of `animals` each:
/// clumped counts (k 0.5 to 1.5), efficacy 60 to 100%, factor 15.
std::string invented_trials(std::size_t trials, std::size_t animals, std::uint64_t seed);
