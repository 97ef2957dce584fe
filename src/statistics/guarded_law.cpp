#include "eggfall/statistics/guarded_law.hpp"

#include "statistics/agreed_chance.hpp"
#include "statistics/eta_law.hpp"

#include <cmath>
#include <limits>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t index_of(Witness witness) {
  return static_cast<std::size_t>(witness);
}

/// Whether half or more of a law lies at rho = 0, so that it says only how large rho may be.
bool bounds_from_above_alone(const EtaLaw& law) {
  return law.least() >= 0.5;
}

/// A quantile, or nothing where the law does not bound that side.
std::optional<double> bound(const EtaLaw& law, double p) {
  if (p < 0.5 && bounds_from_above_alone(law))
    return std::nullopt;
  return law.quantile(p);
}

} // namespace

GuardedLaw::GuardedLaw(LogRatioDensity posterior, std::shared_ptr<const EtaLaw> animals,
                       std::shared_ptr<const EtaLaw> luck, const HalfEggs& half_eggs)
    : laws_{std::make_shared<const DensityLaw>(std::move(posterior)), std::move(animals),
            std::move(luck)},
      half_eggs_(half_eggs) {}

const LogRatioDensity& GuardedLaw::posterior() const {
  return laws_[index_of(Witness::posterior)]->on_a_grid();
}

bool GuardedLaw::speaks(Witness witness) const {
  return laws_[index_of(witness)] != nullptr;
}

double GuardedLaw::probability_below(double ratio) const {
  const double eta = ratio > 0 ? std::log(ratio) : -std::numeric_limits<double>::infinity();
  AgreedChance below;
  for (const auto& law : laws_) {
    if (law == nullptr)
      continue;
    if (bounds_from_above_alone(*law))
      below.hear_at_most(law->probability_below(eta));
    else
      below.hear(law->probability_below(eta));
  }
  return below.value();
}

double GuardedLaw::probability_efficacy_below(double efficacy) const {
  return 1 - probability_below(1 - efficacy);
}

GuardedLaw::Reach GuardedLaw::reach(double level) const {
  Reach reached{posterior().limits(level), {}};
  for (const Witness witness : {Witness::animals, Witness::luck}) {
    if (!speaks(witness))
      continue;
    const EtaLaw& law = *laws_[index_of(witness)];
    if (const auto lower = bound(law, (1 - level) / 2);
        lower && std::exp(*lower) < reached.rho.lower) {
      reached.rho.lower = std::exp(*lower);
      reached.by_witness.upper = witness;
    }
    if (const double upper = std::exp(*bound(law, (1 + level) / 2)); upper > reached.rho.upper) {
      reached.rho.upper = upper;
      reached.by_witness.lower = witness;
    }
  }
  return reached;
}

RatioLimits GuardedLaw::limits(double level) const {
  return reach(level).rho;
}

GuardedBy GuardedLaw::guarded_by(double level) const {
  return reach(level).by_witness;
}

OrReason<RatioLimits> GuardedLaw::limits(Witness witness, double level) const {
  check_level(level);
  if (!speaks(witness))
    return WhyNot{"it has nothing to say"};
  const EtaLaw& law = *laws_[index_of(witness)];
  const auto lower = bound(law, (1 - level) / 2);
  return RatioLimits{lower ? std::exp(*lower) : 0, std::exp(*bound(law, (1 + level) / 2))};
}

GuardedLaw GuardedLaw::with_posterior(LogRatioDensity posterior) const {
  GuardedLaw result = *this;
  result.laws_[index_of(Witness::posterior)] =
      std::make_shared<const DensityLaw>(std::move(posterior));
  return result;
}

GuardedLaw
GuardedLaw::changed(const std::function<LogRatioDensity(const LogRatioDensity&)>& change) const {
  GuardedLaw result = *this;
  for (auto& law : result.laws_)
    if (law != nullptr)
      law = std::make_shared<const DensityLaw>(change(law->on_a_grid()));
  return result;
}

LogRatioDensity GuardedLaw::law_of(Witness witness) const {
  if (witness == Witness::posterior || !speaks(witness))
    return posterior();
  return held_within(laws_[index_of(witness)]->on_a_grid(), half_eggs_.above, half_eggs_.below);
}

GuardedLaw GuardedLaw::with(const GuardedLaw& other, const HalfEggs& half_eggs,
                            Combine* combine) const {
  GuardedLaw result(combine(posterior(), other.posterior()), nullptr, nullptr, half_eggs);
  for (const Witness witness : {Witness::animals, Witness::luck})
    if (speaks(witness) || other.speaks(witness))
      result.laws_[index_of(witness)] =
          std::make_shared<const DensityLaw>(combine(law_of(witness), other.law_of(witness)));
  return result;
}

GuardedLaw difference(const GuardedLaw& x, const GuardedLaw& y) {
  return x.with(y,
                {x.half_eggs_.above - y.half_eggs_.below, x.half_eggs_.below - y.half_eggs_.above},
                difference);
}

GuardedLaw sum(const GuardedLaw& x, const GuardedLaw& y) {
  return x.with(
      y, {x.half_eggs_.above + y.half_eggs_.above, x.half_eggs_.below + y.half_eggs_.below}, sum);
}

} // namespace eggfall
