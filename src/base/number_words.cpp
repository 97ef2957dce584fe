#include "base/number_words.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eggfall {

std::string number(double value) {
  return std::abs(value) >= 100 ? fmt::format("{:.0f}", value) : fmt::format("{:.3g}", value);
}

std::string plain_number(double value) {
  return fmt::format("{:.10g}", value);
}

std::string chance_of_100(double chance) {
  const double of_100 = 100 * chance;
  return of_100 > 99  ? std::string("over 99")
         : of_100 < 1 ? std::string("under 1")
                      : fmt::format("{:.0f}", of_100);
}

std::string listed(const std::vector<std::string>& items) {
  constexpr std::size_t most = 4;
  if (items.size() <= most)
    return in_words(items);
  std::vector<std::string> shown(items.begin(), items.begin() + most - 1);
  shown.push_back(fmt::format("{} more", items.size() - shown.size()));
  return in_words(shown);
}

} // namespace eggfall
