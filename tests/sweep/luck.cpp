#include "luck.hpp"

#include <boost/random/uniform_01.hpp>

#include <algorithm>
#include <cmath>

double Luck::uniform(double low, double high) {
  return low + (high - low) * boost::random::uniform_01<double>()(stream_);
}

double Luck::on_log_scale(double low, double high) {
  return std::clamp(std::exp(uniform(std::log(low), std::log(high))), low, high);
}

std::size_t Luck::whole_on_log_scale(std::size_t low, std::size_t high) {
  return static_cast<std::size_t>(
      on_log_scale(static_cast<double>(low), static_cast<double>(high)));
}
