#include "statistics/saddlepoint.hpp"

#include "eggfall/base/error.hpp"

#include <Eigen/Core>
#include <boost/math/constants/constants.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <utility>

namespace eggfall {
namespace {

double normal_density(double z) {
  return std::exp(-z * z / 2) * boost::math::constants::one_div_root_two_pi<double>();
}

double normal_below(double z) {
  return std::erfc(-z * boost::math::constants::one_div_root_two<double>()) / 2;
}

/// The first two derivatives of a cumulant function at one place: a mean and a variance.
struct Slopes {
  double first = 0;
  double second = 0;
};

/// The values from which some of the draws of a sum are made. They are kept as differences from
/// their mean, so that cumulants near l = 0 lose no digits.
class Part {
public:
  explicit Part(const DrawnValues& values)
      : away_(Eigen::Map<const Eigen::ArrayXd>(values.data(),
                                               static_cast<Eigen::Index>(values.size()))),
        weight_(away_.size()) {
    least_ = away_.minCoeff();
    most_ = away_.maxCoeff();
    mean_ = away_.mean();
    away_ -= mean_;
  }

  double least() const { return least_; }
  double most() const { return most_; }
  double mean() const { return mean_; }

  /// Adds the first two derivatives, at l, of the cumulant function of so many draws.
  void add_to(Slopes& sum, double draws, double l) {
    sum.first += draws * mean_;
    if (least_ == most_)
      return;
    constexpr double least_variance = 1e-300;
    const double total = weigh(l);
    weight_ *= away_;
    const double first = weight_.sum() / total;
    weight_ *= away_;
    const double second = weight_.sum() / total;
    sum.first += draws * first;
    sum.second += draws * std::max(second - first * first, least_variance);
  }

  /// The third derivative of so many draws.
  double third(double draws, double l) {
    const double total = weigh(l);
    const double first = (weight_ * away_).sum() / total;
    return draws * (weight_ * (away_ - first).cube()).sum() / total;
  }

  /// The cumulant function of so many draws, with all its digits where it is close to 0.
  double value(double draws, double l) {
    constexpr double small = 1;
    if (std::abs(l) * (most_ - least_) > small) { // far from 0 no digits are lost
      const double total = weigh(l);
      return draws * (l * mean_ + highest(l) + std::log(total / static_cast<double>(away_.size())));
    }
    double above_one = 0;
    for (const double x : away_)
      above_one += std::expm1(l * x);
    return draws * (l * mean_ + std::log1p(above_one / static_cast<double>(away_.size())));
  }

private:
  double highest(double l) const { return l * ((l > 0 ? most_ : least_) - mean_); }

  /// Sets the weights exp(l x), the highest of them 1, and gives their sum.
  double weigh(double l) {
    weight_ = (l * away_ - highest(l)).exp();
    return weight_.sum();
  }

  Eigen::ArrayXd away_;
  Eigen::ArrayXd weight_; ///< Room to work in.
  double least_ = 0;
  double most_ = 0;
  double mean_ = 0;
};

/// A sum of draws from several parts.
class Sum {
public:
  explicit Sum(std::vector<Part> parts) : parts_(std::move(parts)), draws_(parts_.size(), 0) {}

  void draw(std::size_t part, double draws) { draws_[part] = draws; }

  /// The search for the saddlepoint begins where the last call found its own.
  double probability_below_zero() {
    double least = 0;
    double most = 0;
    double size = 0;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      least += draws_[i] * parts_[i].least();
      most += draws_[i] * parts_[i].most();
      size += draws_[i] * std::max(-parts_[i].least(), parts_[i].most());
    }
    // Where all that S can be differs by rounding alone, S is one value and its sign is certain.
    constexpr double rounding = 1e-12;
    if (most - least <= rounding * size)
      return most < -rounding * size ? 1 : least > rounding * size ? 0 : 0.5;
    // Where 0 is at, beyond or close to an end of what S can be, K' has no zero, or none that can
    // be found.
    constexpr double at_the_end = 1e-6;
    if (most <= at_the_end * size || least >= -at_the_end * size)
      return most <= at_the_end * size ? 1 : 0;
    l_ = std::clamp(l_, -farthest / size, farthest / size);
    const double variance = saddlepoint(size).second;
    const double w = std::copysign(std::sqrt(std::max(0.0, -2 * sum_of(&Part::value))), l_);
    // At a smaller |w| the difference of 1/w and 1/u has lost its digits, and its limit is as good.
    constexpr double near = 1e-4;
    const double correction = std::abs(w) < near
                                  ? sum_of(&Part::third) / (6 * std::pow(variance, 1.5))
                                  : 1 / w - 1 / (l_ * std::sqrt(variance));
    return std::clamp(normal_below(w) + normal_density(w) * correction, 0.0, 1.0);
  }

private:
  Slopes slopes_at(double l) {
    Slopes sum;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      if (draws_[i] > 0)
        parts_[i].add_to(sum, draws_[i], l);
    return sum;
  }

  /// The sum over all draws of one member function of Part, at the saddlepoint.
  double sum_of(double (Part::*what)(double, double)) {
    double sum = 0;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      if (draws_[i] > 0)
        sum += (parts_[i].*what)(draws_[i], l_);
    return sum;
  }

  /// Sets l_ to the saddlepoint, where K' is 0, and gives K' and K'' there. Newton's method is kept
  /// within the bounds that are known to enclose the saddlepoint. Where values that end close to 0
  /// make K'' lose its last digits, the search ends with K' as close to 0 as can be told.
  Slopes saddlepoint(double size) {
    double low = -INFINITY;
    double high = INFINITY;
    // K'(0) is the mean of S, which tells on which side of 0 to look.
    double mean = 0;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      mean += draws_[i] * parts_[i].mean();
    (mean < 0 ? low : high) = 0;
    if (!(l_ > low && l_ < high))
      l_ = 0;
    double before = INFINITY; // |K'| a step ago
    Slopes here = slopes_at(l_);
    constexpr int most_steps = 200;
    constexpr double close_enough = 1e-10; // of the standard deviation of S
    for (int step = 0; step < most_steps; ++step) {
      const double sd = std::sqrt(here.second);
      if (std::abs(here.first) <= close_enough * sd)
        return here;
      (here.first < 0 ? low : high) = l_;
      // A longer step would end where the weights exp(l x) have all gone to one value, so that K''
      // tells nothing of the way back.
      constexpr double longest = 3;
      double next = l_ + std::clamp(-here.first / here.second, -longest / sd, longest / sd);
      // Between two places far apart Newton's steps may go to and fro for ever.
      const bool enclosed = std::isfinite(low) && std::isfinite(high);
      const bool slow = std::abs(here.first) > std::exchange(before, std::abs(here.first)) / 2;
      if (!(next > low && next < high) || (slow && enclosed))
        next = enclosed ? (low + high) / 2 : 2 * l_;
      constexpr double last_digits = 1e-13;
      if (next == l_ || high - low <= last_digits * std::abs(l_) ||
          (!enclosed && !(std::abs(next) * size <= farthest))) // as close as numbers go
        return here;
      l_ = next;
      here = slopes_at(l_);
    }
    return here;
  }

  /// Where l times the size of S exceeds this, the last value of S alone has any weight.
  static constexpr double farthest = 1e10;

  std::vector<Part> parts_;
  std::vector<double> draws_;
  double l_ = 0;
};

/// The values of one group by their sign.
struct BySign {
  DrawnValues negative;
  DrawnValues positive;
  double zeros = 0;

  double size() const { return negatives() + positives() + zeros; }
  double negatives() const { return static_cast<double>(negative.size()); }
  double positives() const { return static_cast<double>(positive.size()); }
};

BySign by_sign(const DrawnValues& values) {
  BySign result;
  for (const double x : values)
    if (x == 0)
      result.zeros += 1;
    else
      (x < 0 ? result.negative : result.positive).push_back(x);
  return result;
}

/// Binomial probabilities of 0 ... n. Those that count for nothing are 0.
std::vector<double> binomial(double n, double p) {
  std::vector<double> result(static_cast<std::size_t>(n) + 1, 0.0);
  const auto log_probability = [&](double k) {
    return std::lgamma(n + 1) - std::lgamma(k + 1) - std::lgamma(n - k + 1) +
           (k > 0 ? k * std::log(p) : 0) + (k < n ? (n - k) * std::log1p(-p) : 0);
  };
  constexpr double negligible = -18;
  for (std::size_t k = 0; k < result.size(); ++k)
    if (const double value = log_probability(static_cast<double>(k)); value > negligible)
      result[k] = std::exp(value);
  return result;
}

/// The group of all positive values, or of all negative ones.
std::size_t group_of(const std::vector<BySign>& groups, DrawnValues BySign::*sign) {
  std::size_t found = groups.size();
  for (std::size_t g = 0; g < groups.size(); ++g)
    if (!(groups[g].*sign).empty()) {
      if (found < groups.size())
        throw CalculationError("values of one sign in two groups of a resampled sum");
      found = g;
    }
  return found;
}

/// With this many values of one sign or fewer, the law of the sum has a lump for each number of
/// times that they are drawn.
constexpr std::size_t few = 4;
/// One value makes such lumps by itself if its square is more than this share of the sum of squares
/// of all values of its sign.
constexpr double dominant = 0.5;

/// How many of the values of one sign make lumps by how often they are drawn: all, if they are few;
/// one, if the one furthest from 0 dominates the others; or none. Those that do are moved to the
/// front.
std::size_t lumps(DrawnValues& of_one_sign) {
  if (of_one_sign.size() <= few)
    return of_one_sign.size();
  std::ranges::nth_element(of_one_sign, of_one_sign.begin(), std::ranges::greater{},
                           [](double x) { return std::abs(x); });
  double squares = 0;
  for (const double x : of_one_sign)
    squares += x * x;
  return of_one_sign.front() * of_one_sign.front() > dominant * squares ? 1 : 0;
}

class SumBySign {
public:
  explicit SumBySign(const std::vector<DrawnValues>& groups) {
    for (const DrawnValues& values : groups)
      groups_.push_back(by_sign(values));
    above_ = group_of(groups_, &BySign::positive);
    below_ = group_of(groups_, &BySign::negative);
  }

  double probability_below_zero() {
    if (above_ == groups_.size() || below_ == groups_.size())
      return of_one_sign();
    const std::size_t lumps_above = lumps(groups_[above_].positive);
    const std::size_t lumps_below = lumps(groups_[below_].negative);
    if (groups_[above_].positive.size() <= few && groups_[below_].negative.size() <= few)
      return given_both();
    if (lumps_above >= lumps_below)
      return given(above_, groups_[above_].positive, lumps_above);
    return given(below_, groups_[below_].negative, lumps_below);
  }

private:
  double of_one_sign() const {
    const auto none_drawn = [](double of_sign, double size) {
      return std::pow(1 - of_sign / size, size);
    };
    if (above_ < groups_.size())
      return none_drawn(groups_[above_].positives(), groups_[above_].size()) / 2;
    if (below_ < groups_.size())
      return 1 - none_drawn(groups_[below_].negatives(), groups_[below_].size()) / 2;
    return 0.5;
  }

  /// The probability as a sum over how often the first `apart` of `values`, which are those of one
  /// sign in `group`, are drawn; all other draws are taken as smooth.
  double given(std::size_t group, const DrawnValues& values, std::size_t apart) const {
    const auto first_smooth = values.begin() + static_cast<std::ptrdiff_t>(apart);
    std::vector<Part> parts;
    std::vector<std::size_t> group_of_part;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      DrawnValues smooth(static_cast<std::size_t>(groups_[g].zeros), 0.0);
      for (const DrawnValues* some : {&groups_[g].negative, &groups_[g].positive})
        smooth.insert(smooth.end(), some == &values ? first_smooth : some->begin(), some->end());
      if (smooth.empty())
        continue;
      parts.emplace_back(smooth);
      group_of_part.push_back(g);
    }
    const std::size_t lumpy = parts.size();
    if (apart > 0)
      parts.emplace_back(DrawnValues(values.begin(), first_smooth));
    Sum sum(std::move(parts));
    const double size = groups_[group].size();
    const std::vector<double> chances = binomial(size, static_cast<double>(apart) / size);
    double probability = 0;
    for (std::size_t j = 0; j < chances.size(); ++j) {
      if (chances[j] == 0)
        continue;
      const auto times = static_cast<double>(j);
      for (std::size_t i = 0; i < lumpy; ++i)
        sum.draw(i, groups_[group_of_part[i]].size() - (group_of_part[i] == group ? times : 0));
      if (apart > 0)
        sum.draw(lumpy, times);
      probability += chances[j] * sum.probability_below_zero();
    }
    return std::min(probability, 1.0);
  }

  /// The probability as a sum over how many values above 0 and how many below it are drawn: for few
  /// values of either sign.
  double given_both() const {
    const BySign& with = groups_[above_];
    const BySign& against = groups_[below_];
    const bool same = above_ == below_;
    Sum sum({Part(with.positive), Part(against.negative)});
    double probability = 0;
    const std::vector<double> chances = binomial(with.size(), with.positives() / with.size());
    for (std::size_t j = 0; j < chances.size(); ++j) {
      if (chances[j] == 0)
        continue;
      const auto positives = static_cast<double>(j);
      const double left = same ? against.size() - positives : against.size();
      const double others = same ? against.size() - against.positives() : against.size();
      const std::vector<double> below = binomial(left, against.negatives() / others);
      for (std::size_t i = 0; i < below.size(); ++i) {
        if (below[i] == 0)
          continue;
        sum.draw(0, positives);
        sum.draw(1, static_cast<double>(i));
        probability += chances[j] * below[i] * sum.probability_below_zero();
      }
    }
    return std::min(probability, 1.0);
  }

  std::vector<BySign> groups_;
  std::size_t above_ = 0;
  std::size_t below_ = 0;
};

} // namespace

double probability_of_sum_below_zero(const std::vector<DrawnValues>& groups) {
  return SumBySign(groups).probability_below_zero();
}

} // namespace eggfall
