#include "teach/students/hand_calculation.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/interval.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <fmt/format.h>

#include <cmath>

namespace eggfall {
namespace {

HandSums sums(const std::vector<Count>& counts, double factor) {
  HandSums result;
  result.animals = counts.size();
  if (counts.size() < 2)
    throw InputError(fmt::format("a group of a calculation by hand: found {} animals; expected 2 "
                                 "or more",
                                 counts.size()));
  for (const Count& count : counts) {
    if (count.factor.value() != factor || count.animals != 1)
      throw InputError("a calculation by hand: found counts of several factors, or pools; expected "
                       "single animals, all counted alike");
    const std::uint64_t eggs = count.eggs.value();
    result.eggs += eggs;
    result.squares += eggs * eggs;
  }
  const auto n = static_cast<double>(result.animals);
  const auto total = static_cast<double>(result.eggs);
  result.mean = total / n;
  result.mean_epg = result.mean * factor;
  result.variance = (static_cast<double>(result.squares) - total * total / n) / (n - 1);
  if (result.eggs > 0)
    result.share_of_y = result.variance / (n * result.mean * result.mean);
  return result;
}

} // namespace

HandCalculation hand_calculation(const std::vector<Count>& treated,
                                 const std::vector<Count>& control, double level) {
  check_level(level);
  HandCalculation hand;
  hand.factor = treated.empty() ? 1 : treated.front().factor.value();
  hand.treated = sums(treated, hand.factor);
  hand.control = sums(control, hand.factor);
  hand.degrees_of_freedom = treated.size() + control.size() - 2;
  hand.t = boost::math::quantile(
      boost::math::students_t(static_cast<double>(hand.degrees_of_freedom)), (1 + level) / 2);
  if (hand.control.eggs == 0) {
    hand.why_no_limits = "no egg was found in the untreated animals, and nothing can be divided by "
                         "a mean of zero";
    return hand;
  }
  const double ratio = hand.treated.mean / hand.control.mean;
  hand.reduction = 1 - ratio;
  if (hand.treated.eggs == 0) {
    hand.why_no_limits = "no egg was found in the treated animals, and nothing can be divided by a "
                         "mean of zero";
    return hand;
  }
  hand.y2 = *hand.treated.share_of_y + *hand.control.share_of_y;
  const double reach = std::exp(hand.t * std::sqrt(*hand.y2));
  hand.lower = 1 - ratio * reach;
  hand.upper = 1 - ratio / reach;
  return hand;
}

} // namespace eggfall
