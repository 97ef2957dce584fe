#include "eggfall/statistics/worm_evidence.hpp"

#include "eggfall/base/error.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

struct Cultures {
  std::vector<const Culture*> above;
  std::vector<const Culture*> below;
};

Cultures cultures(Design design, const Group& treated, const Group* control) {
  if (design != Design::paired && control == nullptr)
    throw CalculationError("a design with a control was given none");
  switch (design) {
  case Design::paired:
    return {{&treated.culture_after}, {&treated.culture_before}};
  case Design::two_group:
    return {{&treated.culture_after}, {&control->culture_after}};
  case Design::baseline:
    return {{&treated.culture_after}, {&control->culture_before}};
  case Design::controlled:
    break;
  }
  return {{&treated.culture_after, &control->culture_before},
          {&treated.culture_before, &control->culture_after}};
}

std::vector<WormShare> shares(const std::vector<const Culture*>& of, std::string_view worm) {
  std::vector<WormShare> result;
  for (const Culture* culture : of)
    result.push_back({larvae_of(*culture, worm), total_larvae(*culture)});
  return result;
}

bool lacks_larvae(const WormShare& share) {
  return share.total == 0;
}

bool lacks_worm(const WormShare& share) {
  return share.larvae == 0;
}

double product(const std::vector<WormShare>& shares) {
  double result = 1;
  for (const WormShare& share : shares)
    result *= static_cast<double>(share.larvae) / static_cast<double>(share.total);
  return result;
}

} // namespace

WormShares worm_shares(Design design, const Group& treated, const Group* control,
                       std::string_view worm) {
  const Cultures of = cultures(design, treated, control);
  return {shares(of.above, worm), shares(of.below, worm)};
}

std::vector<WormShare> WormShares::references() const {
  std::vector<WormShare> result = below;
  result.insert(result.end(), above.begin() + 1, above.end());
  return result;
}

std::vector<std::string_view> reference_places(Design design) {
  if (design == Design::controlled)
    return {"before treatment", "in the control group after treatment",
            "in the control group before treatment"};
  return {where_compared(design)};
}

std::vector<std::string> cultured_worms(Design design, const Group& treated, const Group* control) {
  const Cultures of = cultures(design, treated, control);
  std::vector<std::string> worms;
  for (const auto& side : {of.below, of.above})
    for (const Culture* culture : side)
      for (const WormLarvae& each : *culture)
        if (std::ranges::find(worms, each.worm) == worms.end())
          worms.push_back(each.worm);
  return worms;
}

WormEvidence::WormEvidence(const Evidence& all, WormShares shares)
    : all_(all), shares_(std::move(shares)) {
  posterior_.why_not = why_not();
  guarded_.why_not = posterior_.why_not;
  if (!posterior_.why_not.empty())
    return;
  try {
    guarded_.law = all_.guarded().law->changed(
        [&](const LogRatioDensity& law) { return of_worm(law, shares_.above, shares_.below); });
    posterior_.density = guarded_.law->posterior();
  } catch (const CalculationError& error) {
    posterior_.why_not = error.what();
    guarded_ = {std::nullopt, posterior_.why_not};
  }
}

std::string WormEvidence::why_not() const {
  if (!all_.guarded().law)
    return all_.guarded().why_not;
  const std::vector<WormShare> compared_with = shares_.references();
  if (std::ranges::any_of(compared_with, lacks_larvae))
    return "no larvae were told apart to compare with";
  if (std::ranges::any_of(compared_with, lacks_worm))
    return "none of its larvae were found to compare with";
  // Where no egg was left there was nothing to culture, and the prior of the share will do.
  if (lacks_larvae(shares_.above.front()) && eggs_after())
    return "no larvae were told apart after treatment";
  return {};
}

std::optional<double> WormEvidence::reduction() const {
  const auto all = all_.reduction();
  if (!all || std::ranges::any_of(shares_.references(), lacks_worm))
    return std::nullopt;
  if (*all == 1)
    return all;
  if (lacks_larvae(shares_.above.front()))
    return std::nullopt;
  return 1 - (1 - *all) * product(shares_.above) / product(shares_.below);
}

WormEvidence WormEvidence::without_larvae_after() const {
  WormShares none = shares_;
  none.above.front().larvae = 0;
  return {all_, std::move(none)};
}

std::vector<Method> WormEvidence::methods() const {
  return {Method::guarded_posterior, posterior_method(all_.comparison().design)};
}

Interval WormEvidence::interval(Method method, double level) const {
  check_level(level);
  if (const auto known = methods(); std::ranges::find(known, method) == known.end())
    return reduction_interval(method, level, no_limits("it makes no use of larvae"));
  if (!guarded_.law)
    return reduction_interval(method, level, no_limits(guarded_.why_not));
  return reduction_interval(method, level,
                            method == Method::guarded_posterior
                                ? guarded_.law->limits(level)
                                : posterior_limits(posterior_, level));
}

} // namespace eggfall
