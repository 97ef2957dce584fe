#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace eggfall {

/// A law of eta = log(rho), given by its distribution function F, which rises from least() to
/// most(). least() is the probability that rho is 0, and 1 - most() that it is infinite. Objects
/// keep what they have worked out, without a lock, so that each must be used by one thread at a
/// time.
class EtaLaw {
public:
  EtaLaw() = default;
  EtaLaw(const EtaLaw&) = default;
  EtaLaw& operator=(const EtaLaw&) = default;
  virtual ~EtaLaw() = default;

  /// F(eta) = P(below eta) + P(exactly eta)/2: at a lump it is the middle of F's jump.
  virtual double probability_below(double eta) const = 0;

  /// The eta at which F is `p`, 0 < p < 1: minus infinity for a p up to a least() above 0, and plus
  /// infinity for a p from a most() below 1 on. It is kept, since every interval, verdict and prior
  /// asks for limits at the same few levels.
  double quantile(double p) const;

  virtual double least() const = 0;
  virtual double most() const = 0;

  /// The law as masses on a grid, as convolution needs it; made on first use, and kept. Some 200
  /// points reach from the quantile at one part in 100,000 of the finite probability to that at
  /// 99,999 parts, and the tails beyond are added to the first and last point.
  virtual const LogRatioDensity& on_a_grid() const;

protected:
  /// Works out quantile(p), which has not been asked for before.
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
