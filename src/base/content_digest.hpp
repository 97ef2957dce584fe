#pragma once

#include <boost/crc.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// Tells whether two runs read the same bytes: their CRC-64 (the polynomial of ECMA-182, as the .xz
/// format uses it). It finds any accident; it is no seal against forgery.
class ContentDigest {
public:
  void add(std::string_view bytes);

  /// Of all bytes so far: "crc64:" and 16 hexadecimal digits.
  std::string text() const;

private:
  boost::crc_optimal<64, 0x42F0E1EBA9EA3693U, 0xFFFFFFFFFFFFFFFFU, 0xFFFFFFFFFFFFFFFFU, true, true>
      crc_;
};

} // namespace eggfall
