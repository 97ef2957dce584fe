#pragma once

#include <optional>
#include <string>

namespace eggfall {

/// A proportion as a percentage with one decimal: 0.9574 is "95.7%". Two decimals, or
/// "over 99.99%", are used where one would round up to 100% what is less.
std::string percent(double proportion);

/// As percent(), with enough decimals that it does not look like `threshold`
/// when it differs from it: 0.9499 against 0.95 is "94.99%".
std::string percent_beside(double proportion, double threshold);

/// A limit of a true fall: no counts prove 100%, so that a limit of 1 is "over 99.99%" too.
std::string percent_of_limit(double limit);

/// The same beside a threshold, as percent_beside().
std::string percent_of_limit_beside(double limit, double threshold);

/// A proportion in percent, rounded to 6 decimals: the number that JSON and workbooks hold. The
/// quadrature is good for 4 of them, and the logarithms of two machines agree in more than 6.
double in_percent(double proportion);

/// A number of percent as a proportion, without the noise of the division: 99.9 is 0.999, though
/// 99.9 / 100 is 0.9990000000000001.
double of_percent(double percent);

/// percent() of a proportion, or "not available" where there is none.
std::string percent_or_missing(const std::optional<double>& proportion);

} // namespace eggfall
