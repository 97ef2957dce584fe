#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace eggfall {

/// A law of eta = log(rho) by its distribution function F, which rises from least() to most(): what
/// these leave of 0 and 1 lies where rho is 0 and where it is infinite. What it has worked out it
/// keeps, and so is not for several threads at once.
class EtaLaw {
public:
  EtaLaw() = default;
  EtaLaw(const EtaLaw&) = default;
  EtaLaw& operator=(const EtaLaw&) = default;
  virtual ~EtaLaw() = default;

  /// F(eta), at a lump the middle of its jump.
  virtual double probability_below(double eta) const = 0;

  /// The eta at which F is `p`, 0 < p < 1: minus infinity up to least(), infinity from most() on.
  /// Kept, since limits at one level are asked for by each interval, verdict and prior.
  double quantile(double p) const;

  virtual double least() const = 0;
  virtual double most() const = 0;

  /// The law on a grid, to be convolved: made on first use, and kept. Its masses at some 200 points
  /// over all but one part in 100,000 of each tail, which go to the ends.
  virtual const LogRatioDensity& on_a_grid() const;

protected:
  /// quantile(), worked out.
  virtual double find_quantile(double p) const = 0;

private:
  mutable std::optional<LogRatioDensity> grid_;
  mutable std::vector<std::pair<double, double>> quantiles_; ///< Those asked for, by p.
};

/// The law of a density, which it copies.
class DensityLaw : public EtaLaw {
public:
  explicit DensityLaw(LogRatioDensity density) : density_(std::move(density)) {}

  double probability_below(double eta) const override;
  double least() const override { return density_.at_zero(); }
  double most() const override { return 1 - density_.at_infinity(); }

  /// The density itself.
  const LogRatioDensity& on_a_grid() const override { return density_; }

private:
  double find_quantile(double p) const override { return density_.quantile(p).value; }

  LogRatioDensity density_;
};

} // namespace eggfall
