#include "web/frames.hpp"

#include "eggfall/base/error.hpp"

#include <cstddef>
#include <cstdint>
#include <limits>

namespace eggfall::web {
namespace {

constexpr std::size_t number_size = 4;
constexpr unsigned bits_a_byte = 8;
constexpr std::uint32_t lowest_byte = 0xFF;

void append_number(std::string& bytes, std::size_t number) {
  if (number > std::numeric_limits<std::uint32_t>::max())
    throw CalculationError("a result is too large to be handed over");
  for (std::size_t i = 0; i < number_size; ++i) {
    bytes += static_cast<char>(number & lowest_byte);
    number >>= bits_a_byte;
  }
}

[[noreturn]] void refuse() {
  throw InputError("request: found bytes that are no request; expected what eggfall.mjs sends");
}

std::size_t take_number(std::string_view& bytes) {
  if (bytes.size() < number_size)
    refuse();
  std::uint32_t number = 0;
  for (std::size_t i = number_size; i-- > 0;)
    number = (number << bits_a_byte) | static_cast<unsigned char>(bytes[i]);
  bytes.remove_prefix(number_size);
  return number;
}

} // namespace

std::string framed(const Frames& frames) {
  std::string bytes;
  append_number(bytes, frames.files.size() + 1);
  append_number(bytes, frames.json.size());
  for (const std::string& file : frames.files)
    append_number(bytes, file.size());
  bytes += frames.json;
  for (const std::string& file : frames.files)
    bytes += file;
  return bytes;
}

Frames unframed(std::string_view bytes) {
  const std::size_t texts = take_number(bytes);
  if (texts == 0 || texts > bytes.size() / number_size)
    refuse();
  std::vector<std::size_t> sizes;
  for (std::size_t i = 0; i < texts; ++i)
    sizes.push_back(take_number(bytes));
  std::vector<std::string> all;
  for (const std::size_t size : sizes) {
    if (size > bytes.size())
      refuse();
    all.emplace_back(bytes.substr(0, size));
    bytes.remove_prefix(size);
  }
  if (!bytes.empty())
    refuse();
  Frames frames{std::move(all.front()), {}};
  all.erase(all.begin());
  frames.files = std::move(all);
  return frames;
}

} // namespace eggfall::web
