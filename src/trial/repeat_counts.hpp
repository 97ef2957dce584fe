#pragma once

#include "eggfall/trial/egg_count.hpp"

#include <optional>
#include <vector>

namespace eggfall {

/// Several counts of one sample as one: the eggs are added up, and so are the volumes counted,
/// 1/factor = sum over counts of 1/factor_j. An average of EPG would give a count of a small volume
/// the weight of one of a large volume. Nothing for no count.
/// @throws InputError if the eggs exceed EggsSeen::largest or the factor falls below
///   MultiplicationFactor::smallest.
std::optional<Count> combined(const std::vector<Count>& repeats);

/// Fisher's index of dispersion of the counts of one sample: sum of (x_j - e_j)^2 / e_j, e_j being
/// the share of all its eggs that falls to the volume of count j; chi-squared on one less degree of
/// freedom than there are counts, if eggs lie at random in the suspension (Fisher 1925, Statistical
/// Methods for Research Workers, section 17).
struct RepeatDispersion {
  double chi_squared = 0;
  double degrees_of_freedom = 0;
};

/// Of one sample; of several samples both numbers add up. Nothing at all (0 and 0) for fewer than
/// two counts, or for so few eggs that chi-squared would not do: a count of whose volume fewer than
/// 1 egg is expected, or fewer than 5 if one volume is more than twice another (practice, after
/// Cochran 1954, Biometrics 10:417-451; from memory).
RepeatDispersion repeat_dispersion(const std::vector<Count>& repeats);

/// The probability of so great a dispersion by luck alone; degrees of freedom above 0.
double dispersion_p_value(const RepeatDispersion& dispersion);

} // namespace eggfall
