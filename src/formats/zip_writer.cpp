#include "formats/zip_writer.hpp"

#include "eggfall/base/error.hpp"

#include <zip.h>

#include <cstdint>
#include <memory>

namespace eggfall {
namespace {

struct Release {
  void operator()(zip_t* archive) const { zip_discard(archive); }
  void operator()(zip_source_t* source) const { zip_source_free(source); }
};

using HeldSource = std::unique_ptr<zip_source_t, Release>;

[[noreturn]] void no_zip_file() {
  throw CalculationError("a zip file could not be made: no memory");
}

void add_part(zip_t* archive, const ZipPart& part) {
  HeldSource source(zip_source_buffer(archive, part.bytes.data(), part.bytes.size(), 0));
  if (!source)
    no_zip_file();
  const zip_int64_t index =
      zip_file_add(archive, part.name.c_str(), source.get(), ZIP_FL_ENC_UTF_8);
  if (index < 0)
    no_zip_file();
  source.release(); // the archive's now
  // In the format's own words, and not as a time, which would be put into the zone of the machine.
  constexpr std::uint16_t midnight = 0;
  constexpr std::uint16_t first_day = (1U << 5U) | 1U; // years since 1980, month, day
  if (zip_file_set_dostime(archive, static_cast<zip_uint64_t>(index), midnight, first_day, 0) != 0)
    no_zip_file();
}

} // namespace

std::string zip_bytes(const std::vector<ZipPart>& parts) {
  const HeldSource bytes(zip_source_buffer_create(nullptr, 0, 0, nullptr));
  if (!bytes)
    no_zip_file();
  zip_source_keep(bytes.get()); // the archive frees it as well
  std::unique_ptr<zip_t, Release> archive(
      zip_open_from_source(bytes.get(), ZIP_CREATE | ZIP_TRUNCATE, nullptr));
  if (!archive) {
    zip_source_free(bytes.get());
    no_zip_file();
  }
  for (const ZipPart& part : parts)
    add_part(archive.get(), part);
  if (zip_close(archive.get()) != 0)
    no_zip_file();
  archive.release(); // closing freed it
  zip_stat_t stat;
  if (zip_source_stat(bytes.get(), &stat) != 0 || zip_source_open(bytes.get()) != 0)
    no_zip_file();
  std::string text(static_cast<std::size_t>(stat.size), '\0');
  const zip_int64_t read = zip_source_read(bytes.get(), text.data(), text.size());
  zip_source_close(bytes.get());
  if (read < 0 || static_cast<std::size_t>(read) != text.size())
    no_zip_file();
  return text;
}

} // namespace eggfall
