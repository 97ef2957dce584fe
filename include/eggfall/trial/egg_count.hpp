#pragma once

#include <compare>
#include <cstdint>
#include <optional>

namespace eggfall {

/// Eggs actually seen under the microscope in one sample: a whole number.
class EggsSeen {
public:
  /// More than this in one sample is taken for a typing error.
  static constexpr std::uint32_t largest = 1'000'000;

  /// @throws InputError if `eggs` exceeds `largest`.
  explicit EggsSeen(std::uint32_t eggs);

  constexpr std::uint32_t value() const noexcept { return eggs_; }
  auto operator<=>(const EggsSeen&) const = default;

private:
  std::uint32_t eggs_;
};

/// Eggs per gram of faeces.
class Epg {
public:
  /// @throws InputError if `eggs_per_gram` is negative or not finite.
  explicit Epg(double eggs_per_gram);

  constexpr double value() const noexcept { return eggs_per_gram_; }
  auto operator<=>(const Epg&) const = default;

private:
  double eggs_per_gram_;
};

/// EPG represented by one egg seen: the multiplication factor of a counting
/// method, and so the smallest count above zero that it can report.
class MultiplicationFactor {
public:
  static constexpr double smallest = 0.001;
  static constexpr double largest = 100'000.0;

  /// @throws InputError unless `smallest` <= `epg_per_egg` <= `largest`.
  explicit MultiplicationFactor(double epg_per_egg);

  constexpr double value() const noexcept { return epg_per_egg_; }
  auto operator<=>(const MultiplicationFactor&) const = default;

private:
  double epg_per_egg_;
};

/// EPG = eggs seen x factor.
Epg operator*(EggsSeen eggs, MultiplicationFactor factor);

/// The eggs seen behind a reported EPG, or nothing if `epg` is no whole
/// multiple of `factor`. A factor that is not itself a whole number allows for
/// an EPG rounded to a whole number (33 EPG at a factor of 16.67 is 2 eggs).
std::optional<EggsSeen> eggs_behind(Epg epg, MultiplicationFactor factor);

/// One sample of one animal, or of a pool of animals mixed in equal parts: what was seen, and
/// what one egg stands for.
struct Count {
  EggsSeen eggs;
  MultiplicationFactor factor;
  std::uint32_t animals = 1; ///< Animals mixed in the sample; more than 1 for a pool.

  double epg() const { return (eggs * factor).value(); }
  /// EPG x animals: what the sample adds to a sum over animals.
  double epg_of_all() const { return epg() * animals; }
};

} // namespace eggfall
