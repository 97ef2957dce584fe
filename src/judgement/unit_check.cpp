#include "judgement/unit_check.hpp"

#include "judgement/field_practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <set>

namespace eggfall {
namespace {

/// Three times each factor that counting methods have and that ends in a third: 66.667, 33.333 and
/// 16.667. The greatest comes first, since its multiples are multiples of the others too.
constexpr std::array<std::uint64_t, 3> thirds{200, 100, 50};

/// Whether a number is a multiple of three_times/3, rounded up or down to a whole number.
bool is_rounded_multiple(std::uint64_t number, std::uint64_t three_times) {
  const std::uint64_t multiple = (3 * number + three_times / 2) / three_times * three_times;
  return number == multiple / 3 || number == (2 * multiple + 3) / 6;
}

class CountsAboveZero {
public:
  void add(const std::optional<Count>& count, const std::vector<Count>& repeats) {
    if (!repeats.empty())
      for (const Count& each : repeats)
        add(each.eggs.value());
    else if (count)
      add(count->eggs.value());
  }

  std::size_t number() const { return different_.size(); }

  /// What all have in common; nothing if luck alone may do that.
  std::optional<double> divisor() const {
    if (divisor_ > 1 && luck_hardly_does(divisor_))
      return divisor_;
    for (const std::uint64_t three_times : thirds) {
      const auto is_multiple = [&](std::uint64_t each) {
        return is_rounded_multiple(each, three_times);
      };
      // Of three multiples two can be made whole by going up or down: four numbers of 3d.
      const auto one_in = static_cast<double>(three_times) / 4;
      if (luck_hardly_does(one_in) && std::ranges::all_of(different_, is_multiple))
        return static_cast<double>(three_times) / 3;
    }
    return std::nullopt;
  }

private:
  bool luck_hardly_does(double one_in) const {
    return static_cast<double>(number()) * std::log(one_in) >
           -std::log(field_practice().common_divisor_chance);
  }

  void add(std::uint32_t eggs) {
    if (eggs == 0)
      return;
    divisor_ = std::gcd(divisor_, eggs);
    different_.insert(eggs);
  }

  std::uint32_t divisor_ = 0;
  std::set<std::uint32_t> different_;
};

/// EPG times animals, and eggs seen, of the animals sampled twice.
struct Sampled {
  double epg = 0;
  std::uint64_t eggs = 0;

  void add(const Count& count) {
    epg += count.epg_of_all();
    eggs += count.eggs.value();
  }
};

} // namespace

std::optional<UnitDoubt> doubt_units(const Group& group) {
  // The counts before and those after are looked at by themselves as well, since one of the two
  // alone may have been typed as EPG.
  CountsAboveZero counts;
  CountsAboveZero counts_before;
  CountsAboveZero counts_after;
  Sampled before;
  Sampled after;
  for (const Animal& animal : group.animals) {
    counts.add(animal.before, animal.repeats_before);
    counts.add(animal.after, animal.repeats_after);
    counts_before.add(animal.before, animal.repeats_before);
    counts_after.add(animal.after, animal.repeats_after);
    if (!animal.before || !animal.after)
      continue;
    before.add(*animal.before);
    after.add(*animal.after);
  }
  for (const CountsAboveZero* each : {&counts, &counts_before, &counts_after})
    if (const auto divisor = each->divisor())
      return UnitDoubt{UnitDoubt::Kind::epg_as_eggs, each->number(), *divisor, {}};
  const FieldPractice& practice = field_practice();
  if (after.eggs >= practice.swapped_eggs && before.epg > 0 &&
      after.epg >= practice.swapped_rise * before.epg)
    return UnitDoubt{UnitDoubt::Kind::swapped, counts.number(), {}, after.epg / before.epg};
  return std::nullopt;
}

std::string divisor_text(const UnitDoubt& doubt) {
  const bool whole = doubt.divisor == std::floor(doubt.divisor);
  return fmt::format("{:.{}f}", doubt.divisor, whole ? 0 : 3);
}

} // namespace eggfall
