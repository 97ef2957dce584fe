#include "eggfall/trial/counting_method.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

constexpr double faeces_ml_per_g = 1.0;

double positive(double value, std::string_view what) {
  if (!std::isfinite(value) || value <= 0)
    throw InputError(fmt::format("{} is {}; expected more than 0", what, value));
  return value;
}

double of_the_bench(double value, std::string_view what) {
  if (positive(value, what) > BenchFigures::g_or_ml.most)
    throw InputError(
        fmt::format("{} is {}; expected at most {}", what, value, BenchFigures::g_or_ml.most));
  return value;
}

} // namespace

double suspension_ml(const BenchFigures& bench) {
  const double faeces_ml = of_the_bench(bench.faeces_g, "the mass of faeces (g)") * faeces_ml_per_g;
  if (bench.added_ml.has_value() == bench.total_ml.has_value())
    throw InputError("expected either the volume added or the total volume, and not both");
  if (bench.added_ml)
    return of_the_bench(*bench.added_ml, "the volume added (mL)") + faeces_ml;
  const double total = of_the_bench(*bench.total_ml, "the total volume (mL)");
  if (total < faeces_ml)
    throw InputError(fmt::format("a total volume of {} mL is less than the {} g of faeces take up; "
                                 "expected faeces and liquid together",
                                 total, bench.faeces_g));
  return total;
}

MultiplicationFactor multiplication_factor(const BenchFigures& bench) {
  const double total = suspension_ml(bench);
  const double chambers = positive(bench.chambers, "the number of chambers counted");
  if (!bench.chamber_volume_ml)
    throw InputError("the volume of a chamber (mL) is missing");
  const double counted =
      chambers * positive(*bench.chamber_volume_ml, "the volume of a chamber (mL)");
  if (counted > total)
    throw InputError(fmt::format("{} mL counted out of a suspension of {} mL; expected no more "
                                 "than there is",
                                 counted, total));
  return MultiplicationFactor(total / (bench.faeces_g * counted));
}

Epg most_unseen(MultiplicationFactor factor) {
  constexpr double by_luck = 0.05;
  return Epg(-std::log(by_luck) * factor.value());
}

std::size_t chambers_for(double volume_ml, double chamber_volume_ml) {
  constexpr double rounding = 1e-9; // 0.3 mL are two chambers of 0.15
  const double chambers = positive(volume_ml, "the volume to count (mL)") /
                          positive(chamber_volume_ml, "the volume of a chamber (mL)");
  constexpr double most = 1e6;
  if (chambers > most)
    throw InputError(fmt::format("{:.3g} chambers of {} mL; expected at most {:g}", chambers,
                                 chamber_volume_ml, most));
  return static_cast<std::size_t>(std::ceil(chambers * (1 - rounding)));
}

double volume_to_count_ml(const BenchFigures& bench, MultiplicationFactor wanted) {
  const double total = suspension_ml(bench);
  const double volume = total / (bench.faeces_g * wanted.value());
  if (volume > total)
    throw InputError(fmt::format("a factor of {} would need {:.4g} mL counted, but there are only "
                                 "{:.4g} mL; weigh more faeces, or use a method that gathers the "
                                 "eggs (centrifuging under a coverslip)",
                                 wanted.value(), volume, total));
  return volume;
}

} // namespace eggfall
