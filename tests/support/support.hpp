#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/ratio_data.hpp"
#include "eggfall/trial/trial.hpp"
#include "support/tolerances.hpp"

#include <catch2/catch.hpp>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// Trial A: an invented trial whose numbers are given, with their origin, by
/// tests/published/reference.R.
namespace trial_a {
inline const std::vector<std::uint32_t> before{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25};
inline const std::vector<std::uint32_t> after{0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1};
inline const std::vector<std::uint32_t> control{12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28};
} // namespace trial_a

namespace support {

inline std::vector<double> real(const std::vector<std::uint32_t>& counts) {
  return {counts.begin(), counts.end()};
}

inline eggfall::RatioData paired(const std::vector<std::uint32_t>& before,
                                 const std::vector<std::uint32_t>& after) {
  return {{{real(after), real(before)}}};
}

inline eggfall::RatioData two_group(const std::vector<std::uint32_t>& treated,
                                    const std::vector<std::uint32_t>& control) {
  return {{{real(treated), {}}, {{}, real(control)}}};
}

inline std::vector<eggfall::Count> counts(const std::vector<std::uint32_t>& eggs, double factor) {
  std::vector<eggfall::Count> result;
  for (const std::uint32_t n : eggs)
    result.push_back({eggfall::EggsSeen(n), eggfall::MultiplicationFactor(factor)});
  return result;
}

/// A group whose animals are tagged "1", "2", ...; an empty vector is "not sampled".
inline eggfall::Group group(const std::string& name, const std::vector<std::uint32_t>& before,
                            const std::vector<std::uint32_t>& after, double factor_before = 1,
                            double factor_after = 1) {
  eggfall::Group result;
  result.name = name;
  result.host = "sheep";
  const std::size_t animals = std::max(before.size(), after.size());
  const auto b = counts(before, factor_before);
  const auto a = counts(after, factor_after);
  for (std::size_t i = 0; i < animals; ++i) {
    eggfall::Animal animal;
    animal.tag = std::to_string(i + 1);
    if (!b.empty())
      animal.before = b[i];
    if (!a.empty())
      animal.after = a[i];
    result.animals.push_back(animal);
  }
  return result;
}

/// The message of the InputError that `work` throws; fails the test if none.
template <typename F> std::string input_error(F&& work) {
  try {
    work();
  } catch (const eggfall::InputError& error) {
    return error.what();
  }
  FAIL("no InputError was thrown");
  return {};
}

inline auto close_to(double value, double relative = closed_form) {
  return Catch::Matchers::WithinRel(value, relative);
}

} // namespace support
