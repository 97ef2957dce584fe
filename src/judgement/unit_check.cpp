#include "judgement/unit_check.hpp"

#include "judgement/field_practice.hpp"

#include <cmath>
#include <cstdint>
#include <numeric>
#include <set>

namespace eggfall {
namespace {

class CountsAboveZero {
public:
  void add(const std::optional<Count>& count, const std::vector<Count>& repeats) {
    if (!repeats.empty())
      for (const Count& each : repeats)
        add(each.eggs.value());
    else if (count)
      add(count->eggs.value());
  }

  std::uint32_t divisor() const { return divisor_; }
  std::size_t number() const { return different_.size(); }
  bool in_doubt() const {
    return divisor_ > 1 && static_cast<double>(number()) * std::log(static_cast<double>(divisor_)) >
                               -std::log(field_practice().common_divisor_chance);
  }

private:
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
  // Each time by itself as well, since one of them alone may have been typed as EPG.
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
    if (each->in_doubt())
      return UnitDoubt{UnitDoubt::Kind::epg_as_eggs, each->number(), each->divisor(), {}};
  const FieldPractice& practice = field_practice();
  if (after.eggs >= practice.swapped_eggs && before.epg > 0 &&
      after.epg >= practice.swapped_rise * before.epg)
    return UnitDoubt{UnitDoubt::Kind::swapped, counts.number(), {}, after.epg / before.epg};
  return std::nullopt;
}

} // namespace eggfall
