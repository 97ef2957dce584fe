#include "plan/work_out_plan.hpp"

#include "support/support.hpp"

#include "eggfall/base/error.hpp"
#include "web/simulate_here.hpp"

using namespace eggfall;

namespace {

AuditResult simulated(const std::vector<AuditFarm>& farms, const AuditSettings& settings) {
  return web::simulate_here(farms, settings, [](std::size_t, std::size_t) {});
}

PlanWish wish(double mean_epg, std::size_t animals) {
  PlanWish wish;
  wish.flock.host = "sheep";
  wish.flock.classes = {DrugClass::bz};
  wish.flock.mean_epg = mean_epg;
  wish.choices = {{Design::paired}, {animals}, {{MultiplicationFactor(50), {}, {}}}};
  wish.efficacies = {0.95};
  wish.trials = 20;
  return wish;
}

} // namespace

TEST_CASE("A plan simulates every option, and what would help where none will do") {
  const Plan good = work_out_plan(wish(2'000, 30), published_cut_offs(), simulated);
  CHECK(good.all.size() == 1);
  CHECK(good.settings.trials == 20);
  CHECK(recommended(good) != nullptr);
  CHECK(good.cases.empty());
  CHECK_FALSE(good.published.empty());

  const Plan poor = work_out_plan(wish(20, 3), published_cut_offs(), simulated);
  CHECK(recommended(poor) == nullptr);
  CHECK(poor.cases.size() == cases_to_try(poor).size());
  CHECK_FALSE(poor.cases.empty());
}

TEST_CASE("A wish out of range is refused before anything is simulated") {
  PlanWish impossible = wish(600, 10);
  impossible.power = 1;
  std::size_t asked = 0;
  CHECK_THROWS_AS(work_out_plan(impossible, published_cut_offs(),
                                [&](const auto& farms, const auto& settings) {
                                  ++asked;
                                  return simulated(farms, settings);
                                }),
                  InputError);
  CHECK(asked == 0);
}
