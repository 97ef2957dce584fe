#pragma once

#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <cstddef>
#include <vector>

namespace eggfall {

struct Range {
  double low = 0;
  double high = 0;
  double length() const { return high - low; }
  double middle() const { return (low + high) / 2; }
};

/// A node of a quadrature rule, with its weight there and in a coarser rule on some of the
/// same nodes (0 if it is not one of those).
struct RuleNode {
  double x = 0;
  double weight = 0;
  double coarse_weight = 0;
};

/// The Gauss-Kronrod rule of `points` (an odd number) on a range, and as its coarser rule the Gauss
/// rule inside it, in no order of x. The weights are those for a range of length 2, since the users
/// normalise.
template <unsigned points> std::vector<RuleNode> nested_rule(const Range& range) {
  using Kronrod = boost::math::quadrature::gauss_kronrod<double, points>;
  using Gauss = boost::math::quadrature::gauss<double, points / 2>;
  constexpr std::size_t first_gauss = points / 2 % 2 == 1 ? 0 : 1;
  std::vector<RuleNode> nodes;
  for (std::size_t i = 0; i < Kronrod::abscissa().size(); ++i) {
    const double away = range.length() / 2 * Kronrod::abscissa()[i];
    const double coarse = i % 2 == first_gauss ? Gauss::weights()[i / 2] : 0;
    nodes.push_back({range.middle() + away, Kronrod::weights()[i], coarse});
    if (i > 0)
      nodes.push_back({range.middle() - away, Kronrod::weights()[i], coarse});
  }
  return nodes;
}

/// The Gauss rule of `points` in ascending order of x, which is its own coarser rule; weights as in
/// nested_rule().
template <unsigned points> std::vector<RuleNode> gauss_rule(const Range& range) {
  using Gauss = boost::math::quadrature::gauss<double, points>;
  std::vector<RuleNode> nodes;
  for (std::size_t i = 0; i < Gauss::abscissa().size(); ++i) {
    const double away = range.length() / 2 * Gauss::abscissa()[i];
    const double weight = Gauss::weights()[i];
    nodes.push_back({range.middle() + away, weight, weight});
    if (Gauss::abscissa()[i] > 0)
      nodes.insert(nodes.begin(), {range.middle() - away, weight, weight});
  }
  return nodes;
}

} // namespace eggfall
