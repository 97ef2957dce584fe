#include "eggfall/statistics/worm_evidence.hpp"

#include "eggfall/base/error.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view before_treatment = "before treatment";
constexpr std::string_view control_before = "in the control group before treatment";
constexpr std::string_view control_after = "in the control group after treatment";

/// A culture, and the words for where it stands.
struct PlacedCulture {
  const Culture* culture;
  std::string_view place;

  bool missing() const { return culture->empty(); }
};

struct Cultures {
  std::vector<const Culture*> above;
  std::vector<const Culture*> below;
  std::optional<StandIn> stand_in = std::nullopt;
};

/// Sets the treated group's culture after treatment against the first of `references` that is not
/// missing. The first in the list is what the design asks for; any other is a stand-in. Where all
/// are missing it is set against the first, which has no larvae.
Cultures against(const Group& treated, const std::vector<PlacedCulture>& references) {
  for (const PlacedCulture& each : references)
    if (!each.missing()) {
      Cultures found{{&treated.culture_after}, {each.culture}};
      if (each.culture != references.front().culture)
        found.stand_in = StandIn{{references.front().place}, each.place};
      return found;
    }
  return {{&treated.culture_after}, {references.front().culture}};
}

/// Whether two groups have one and the same culture, of their faeces mixed.
bool are_one(const Culture& a, const Culture& b) {
  return !a.mixed_groups.empty() && a.mixed_groups == b.mixed_groups;
}

Cultures controlled_cultures(const Group& treated, const Group& control) {
  const PlacedCulture own{&treated.culture_before, before_treatment};
  const PlacedCulture before{&control.culture_before, control_before};
  const PlacedCulture after{&control.culture_after, control_after};
  const bool befores = !own.missing() && !before.missing();
  if (befores && !after.missing() && !are_one(*own.culture, *before.culture))
    return {{&treated.culture_after, before.culture}, {own.culture, after.culture}};
  Cultures found = against(treated, {after, own, before});
  found.stand_in.reset();
  if (found.below.front()->empty())
    return found;
  StandIn stand_in{{}, after.missing() ? own.missing() ? before.place : own.place : after.place};
  for (const PlacedCulture& each : {own, before, after})
    if (each.missing())
      stand_in.missing.push_back(each.place);
  if (!stand_in.missing.empty())
    found.stand_in = std::move(stand_in);
  else // the groups had one culture before treatment, which cancels
    found.stand_in = StandIn{{control_before}, after.place};
  return found;
}

Cultures cultures(Design design, const Group& treated, const Group* control) {
  if (design != Design::paired && control == nullptr)
    throw CalculationError("a design with a control was given none");
  const PlacedCulture own{&treated.culture_before, before_treatment};
  if (control == nullptr)
    return against(treated, {own});
  const PlacedCulture before{&control->culture_before, control_before};
  const PlacedCulture after{&control->culture_after, control_after};
  switch (design) {
  case Design::paired:
    return against(treated, {own, before, after});
  case Design::two_group:
    return against(treated, {after, before, own});
  case Design::baseline:
    return against(treated, {before, own, after});
  case Design::controlled:
    break;
  }
  return controlled_cultures(treated, *control);
}

WormShare share_in(const Culture& culture, std::string_view worm) {
  WormShare share{larvae_of(culture, worm), total_larvae(culture)};
  if (!culture.percentages)
    return share;
  const auto found = std::ranges::find(culture.worms, worm, &WormLarvae::worm);
  const LarvaeRange none{0, 0};
  share.open = OpenShare{found == culture.worms.end() ? none : found->open.value_or(none),
                         culture.percentages->number_told};
  return share;
}

std::vector<WormShare> shares(const std::vector<const Culture*>& cultures, std::string_view worm) {
  std::vector<WormShare> result;
  for (const Culture* culture : cultures)
    result.push_back(share_in(*culture, worm));
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
    result *= share.larvae / share.total;
  return result;
}

} // namespace

WormShares worm_shares(Design design, const Group& treated, const Group* control,
                       std::string_view worm) {
  const Cultures told = cultures(design, treated, control);
  return {shares(told.above, worm), shares(told.below, worm), told.stand_in};
}

std::vector<WormShare> WormShares::references() const {
  std::vector<WormShare> result = below;
  result.insert(result.end(), above.begin() + 1, above.end());
  return result;
}

std::vector<std::string_view> reference_places(Design design, const WormShares& shares) {
  if (shares.stand_in)
    return {shares.stand_in->place};
  if (design == Design::controlled && shares.above.size() > 1)
    return {before_treatment, control_after, control_before};
  return {where_compared(design)};
}

std::vector<std::string> cultured_worms(Design design, const Group& treated, const Group* control) {
  const Cultures told = cultures(design, treated, control);
  std::vector<std::string> worms;
  for (const auto& side : {told.below, told.above})
    for (const Culture* culture : side)
      for (const WormLarvae& each : culture->worms)
        if (std::ranges::find(worms, each.worm) == worms.end())
          worms.push_back(each.worm);
  return worms;
}

WormEvidence::WormEvidence(const Evidence& all, WormShares shares)
    : all_(all), shares_(std::move(shares)) {
  const std::string reason = why_not();
  known_ = reason.empty() ? KnownLimits::both : find_known();
  if (!reason.empty())
    guarded_ = WhyNot{reason};
  const auto law = [&](const std::vector<WormShare>& above, const std::vector<WormShare>& below) {
    return all_.guarded()->changed(
        [&](const LogRatioDensity& density) { return of_worm(density, above, below); });
  };
  try {
    if (known_ == KnownLimits::both)
      guarded_ = law(shares_.above, shares_.below);
    else if (known_ == KnownLimits::upper)
      bounding_ = law({shares_.above.front()}, {});
    else if (known_ == KnownLimits::lower)
      bounding_ = law({}, shares_.below);
  } catch (const CalculationError& error) {
    known_ = KnownLimits::none;
    guarded_ = WhyNot{error.what()};
  }
}

KnownLimits WormEvidence::find_known() const {
  // With several references their product matters, and one that lacks larvae leaves it unbounded.
  const std::vector<WormShare> references = shares_.references();
  if (!all_.guarded() || references.size() > 1 || !eggs_after())
    return KnownLimits::none;
  const bool compared = !lacks_larvae(references.front()) && !lacks_worm(references.front());
  const WormShare& after = shares_.above.front();
  if (compared)
    return lacks_larvae(after) ? KnownLimits::lower : KnownLimits::none;
  return lacks_larvae(after) || lacks_worm(after) ? KnownLimits::none : KnownLimits::upper;
}

std::string WormEvidence::why_not() const {
  if (!all_.guarded())
    return all_.guarded().why_not();
  const std::vector<WormShare> compared_with = shares_.references();
  if (std::ranges::any_of(compared_with, lacks_larvae))
    return "no larvae were told apart to compare with";
  if (std::ranges::any_of(compared_with, lacks_worm))
    return "none of its larvae were found to compare with";
  // Where no egg was left after treatment there was nothing to culture. The law is then worked out
  // with the prior of the share in place of larvae.
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
  none.above.front().open.reset();
  return {all_, std::move(none)};
}

std::vector<Method> WormEvidence::methods() const {
  return {Method::guarded_posterior, posterior_method(all_.comparison().design)};
}

Interval WormEvidence::interval(Method method, double level) const {
  check_level(level);
  if (const auto known = methods(); std::ranges::find(known, method) == known.end())
    return reduction_interval(method, level, WhyNot{"it makes no use of larvae"});
  const OrReason<GuardedLaw>& law = bounding_ ? *bounding_ : guarded_;
  const OrReason<RatioLimits> rho =
      method == Method::guarded_posterior
          ? law.transformed([&](const GuardedLaw& known) { return known.limits(level); })
          : posterior_limits(
                law.transformed([](const GuardedLaw& known) { return known.posterior(); }), level);
  return known_part(reduction_interval(method, level, rho), known_, guarded_.why_not());
}

Interval known_part(Interval interval, KnownLimits known, const std::string& why_not) {
  if (known == KnownLimits::both || !interval.usable())
    return interval;
  if (known != KnownLimits::upper)
    interval.upper.reset();
  if (known != KnownLimits::lower)
    interval.lower.reset();
  interval.why_not = why_not;
  return interval;
}

} // namespace eggfall
