// Changes a workbook inside: bytes changed at random would damage the zip file, and be refused
// before anything of the workbook is read.
#include "support/made_workbook.hpp"

#include <zip.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <exception>
#include <memory>
#include <random>
#include <string>

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

constexpr std::size_t largest_part = 1U << 16U;

struct Discard {
  void operator()(zip_t* archive) const { zip_discard(archive); }
  void operator()(zip_file_t* file) const { zip_fclose(file); }
};

/// Nothing if it is no zip file; parts that cannot be read are left out.
ZipParts parts_of(const std::uint8_t* data, std::size_t size) {
  zip_source_t* const buffer = zip_source_buffer_create(data, size, 0, nullptr);
  const std::unique_ptr<zip_t, Discard> archive(zip_open_from_source(buffer, ZIP_RDONLY, nullptr));
  if (!archive) {
    zip_source_free(buffer);
    return {};
  }
  ZipParts parts;
  for (zip_int64_t i = 0; i < zip_get_num_entries(archive.get(), 0); ++i) {
    const auto position = static_cast<zip_uint64_t>(i);
    const char* const name = zip_get_name(archive.get(), position, 0);
    const std::unique_ptr<zip_file_t, Discard> file(zip_fopen_index(archive.get(), position, 0));
    std::string text(largest_part, '\0');
    const zip_int64_t read = file ? zip_fread(file.get(), text.data(), text.size()) : -1;
    if (name == nullptr || read < 0)
      continue;
    text.resize(static_cast<std::size_t>(read));
    parts.emplace_back(name, std::move(text));
  }
  return parts;
}

void change(std::string& part) {
  constexpr std::size_t most_added = 512;
  const std::size_t size = part.size();
  part.resize(size + most_added);
  part.resize(LLVMFuzzerMutate(reinterpret_cast<std::uint8_t*>(part.data()), size, part.size()));
}

} // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  constexpr unsigned raw_in = 16; // the zip file itself is changed so rarely
  std::minstd_rand random(seed);
  ZipParts parts = random() % raw_in == 0 ? ZipParts() : parts_of(data, size);
  if (parts.empty())
    return LLVMFuzzerMutate(data, size, most);
  change(parts[random() % parts.size()].second);
  try {
    const std::string bytes = zip_of(parts);
    if (bytes.size() > most)
      return LLVMFuzzerMutate(data, size, most);
    std::memcpy(data, bytes.data(), bytes.size());
    return bytes.size();
  } catch (const std::exception&) { // such as two parts of one name
    return LLVMFuzzerMutate(data, size, most);
  }
}
