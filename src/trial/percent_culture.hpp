#pragma once

#include "eggfall/trial/trial.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

// Cultures that a laboratory tells in percentages.
namespace eggfall {

/// A percentage of the larvae as a laboratory writes it.
struct ToldPercentage {
  double percent = 0; ///< 0 to 100.
  bool below = false; ///< "<1": less than that, and yet found.
  int decimals = 0;

  bool operator==(const ToldPercentage&) const = default;
};

/// Reads "62", "62.5 %" or "<1%"; nothing for what is none, or is more than 100.
std::optional<ToldPercentage> parse_percentage(std::string_view cell);

/// To how many percent those of one table seem to be rounded: 5 if each is a whole number of five
/// percents, or else to the most decimals that any of them has: 1, 0.1, ... A table that is rounded
/// to less is taken too coarsely, never too finely, by the first rule.
double rounding_of(const std::vector<ToldPercentage>& told);

struct WormPercentage {
  std::string worm;
  ToldPercentage told;
};

/// Why percentages cannot be one culture's.
struct NoCulture {
  std::optional<std::size_t> worm; ///< Which of them is wrong; nothing: all together.
  std::string found;
  std::string expected;
};

/// The culture of these percentages. Where a number told apart is given, each percentage stands for
/// all whole numbers k of larvae with |100 k / n - percent| at most half of `rounded_to`, as far as
/// these can sum to n; if that is one number for each worm, they are as good as counted. Without
/// it they are of larvae_taken_for_granted, in fractions. `rounded_to` is above 0.
///
/// @return NoCulture if no whole number of larvae gives a percentage, or if they cannot sum to 100%
///   (to the number told apart) within their rounding.
std::variant<Culture, NoCulture> percent_culture(const std::vector<WormPercentage>& worms,
                                                 std::optional<std::uint32_t> told_apart,
                                                 double rounded_to);

} // namespace eggfall
