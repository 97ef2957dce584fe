#include "statistics/eta_law.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace eggfall {

double DensityLaw::probability_below(double eta) const {
  return density_.probability_below(std::exp(eta)).value;
}

double EtaLaw::quantile(double p) const {
  const auto known = std::ranges::find(quantiles_, p, &std::pair<double, double>::first);
  return known != quantiles_.end() ? known->second
                                   : quantiles_.emplace_back(p, find_quantile(p)).second;
}

const LogRatioDensity& EtaLaw::on_a_grid() const {
  if (grid_)
    return *grid_;
  constexpr double left_out = 1e-5;
  constexpr std::size_t points = 201;
  const double finite = most() - least();
  const double low = quantile(least() + finite * left_out);
  const double high = quantile(most() - finite * left_out);
  // A law that is a single lump is given this width, since a grid cannot have a step of 0.
  constexpr double least_width = 1e-3;
  const double width = std::max(high - low, least_width);
  EtaMasses masses;
  masses.step = width / static_cast<double>(points - 1);
  masses.start = (low + high) / 2 - width / 2;
  masses.at_zero = least();
  masses.at_infinity = 1 - most();
  double below = least();
  for (std::size_t i = 0; i < points; ++i) {
    const double edge = masses.start + masses.step * (static_cast<double>(i) + 0.5);
    // A law pieced together from lumps, as by the saddlepoint, may fall by a trifle between two
    // points where it should rise; a mass must not be negative.
    const double up_to =
        i + 1 < points ? std::clamp(probability_below(edge), below, most()) : most();
    masses.masses.push_back(up_to - std::exchange(below, up_to));
  }
  return grid_.emplace(masses);
}

} // namespace eggfall
