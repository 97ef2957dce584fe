#include "base/content_digest.hpp"

#include <fmt/format.h>

namespace eggfall {

void ContentDigest::add(std::string_view bytes) {
  crc_.process_bytes(bytes.data(), bytes.size());
}

std::string ContentDigest::text() const {
  return fmt::format("crc64:{:016x}", crc_.checksum());
}

} // namespace eggfall
