#include "support/invented_region.hpp"

#include "eggfall/base/random_stream.hpp"
#include "eggfall/simulation/count_model.hpp"

#include <fmt/format.h>

#include <array>

namespace {

struct Drench {
  const char* name;
  const char* drug_class;
  double resisted; ///< Share of farms.
};
constexpr std::array<Drench, 3> drenches{{
    {"white drench", "BZ", 0.7},
    {"yellow drench", "LV", 0.3},
    {"clear drench", "ML", 0.4},
}};

constexpr std::array<const char*, 3> regions{"Northmoor", "Saltmarsh", "Westvale"};

double uniform(eggfall::RandomStream& stream, double low, double high) {
  constexpr double unit = 1.0 / 4294967296.0;
  return low + (high - low) * unit * stream();
}

} // namespace

std::string InventedRegion::header() {
  return "trial,region,year,host,group,class,animal,eggs_before,eggs_after,factor_before,"
         "factor_after\n";
}

std::string InventedRegion::farm(std::size_t number) const {
  const auto farm = static_cast<std::uint32_t>(number);
  eggfall::RandomStream luck({seed_, eggfall::stream_group("region", "farm"), farm});
  const std::size_t region = luck.below(regions.size());
  const std::uint32_t year = 2030 + luck.below(2);
  const std::size_t first = luck.below(drenches.size());
  std::string rows;
  for (std::size_t d = 0; d < drenches_; ++d) {
    const Drench& drench = drenches[(first + d) % drenches.size()];
    eggfall::CountModel model;
    model.animals = animals_;
    model.mean_eggs = uniform(luck, 6, 30);
    model.k = uniform(luck, 0.5, 1.5);
    model.efficacy = uniform(luck, 0, 1) < drench.resisted ? uniform(luck, 0.5, 0.9)
                                                           : uniform(luck, 0.97, 0.999);
    const eggfall::Trial trial =
        eggfall::simulate(model, {seed_, eggfall::stream_group("region", drench.name), farm}).trial;
    for (const eggfall::Animal& animal : trial.groups.front().animals)
      rows += fmt::format("farm {},{},{},sheep,{},{},{},{},{},15,15\n", number, regions[region],
                          year, drench.name, drench.drug_class, animal.tag,
                          animal.before->eggs.value(), animal.after->eggs.value());
  }
  return rows;
}
