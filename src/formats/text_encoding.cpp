#include "formats/text_encoding.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>
#include <iconv.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view utf8_mark = "\xEF\xBB\xBF";
constexpr std::string_view little_mark = "\xFF\xFE";
constexpr std::string_view big_mark = "\xFE\xFF";
constexpr const char* save_again = "a text in UTF-8; save the table as \"CSV UTF-8\"";

[[noreturn]] void refuse_text(const std::string& source, std::size_t line, std::string found,
                              std::string expected) {
  throw InputError({Problem{source, line, 0, {}, std::move(found), std::move(expected)}});
}

std::size_t line_at(std::string_view text, std::size_t offset) {
  return 1 + static_cast<std::size_t>(std::ranges::count(text.substr(0, offset), '\n'));
}

/// Bytes on their way to UTF-8.
class Conversion {
public:
  Conversion(const char* from, std::string_view bytes)
      : handle_(iconv_open("UTF-8", from)), bytes_(bytes) {
    if (reinterpret_cast<std::intptr_t>(handle_) == -1) // as POSIX says
      throw CalculationError(fmt::format("this system cannot convert {} to UTF-8", from));
  }
  ~Conversion() { iconv_close(handle_); }
  Conversion(const Conversion&) = delete;
  Conversion& operator=(const Conversion&) = delete;
  Conversion(Conversion&&) = delete;
  Conversion& operator=(Conversion&&) = delete;

  /// Appends to `out` what can be converted of the bytes that are left.
  /// @return 0, or EILSEQ or EINVAL for what these start with then.
  int convert(std::string& out) {
    std::array<char, 1U << 14U> piece;
    for (;;) {
      char* from = bytes_.data() + done_; // iconv asks for a char*, and writes nothing there
      std::size_t left = bytes_.size() - done_;
      char* to = piece.data();
      std::size_t room = piece.size();
      const std::size_t result = iconv(handle_, &from, &left, &to, &room);
      const int error = result == static_cast<std::size_t>(-1) ? errno : 0;
      out.append(piece.data(), piece.size() - room);
      done_ = bytes_.size() - left;
      if (error != E2BIG)
        return error;
    }
  }

  void pass_over_byte() { ++done_; }

private:
  iconv_t handle_;
  std::string bytes_;
  std::size_t done_ = 0;
};

/// "UTF-16LE" or "UTF-16BE" for a text without a byte-order mark that can be nothing else.
const char* utf16_by_zeros(std::string_view bytes) {
  constexpr std::size_t looked_at = 1'000;
  const std::size_t pairs = std::min(bytes.size(), looked_at) / 2;
  std::array<std::size_t, 2> zeros{};
  for (std::size_t i = 0; i < 2 * pairs; ++i)
    zeros[i % 2] += bytes[i] == '\0' ? 1 : 0;
  if (zeros[0] == 0 && 2 * zeros[1] > pairs)
    return "UTF-16LE";
  if (zeros[1] == 0 && 2 * zeros[0] > pairs)
    return "UTF-16BE";
  return nullptr;
}

DecodedText from_utf16(std::string_view bytes, const char* order, const std::string& source) {
  DecodedText result{{}, "UTF-16"};
  const int error = Conversion(order, bytes).convert(result.text);
  const std::size_t line = line_at(result.text, result.text.size());
  // A whole pair of bytes that misses its other half at the end is no more than cut off either.
  if (error == EINVAL)
    refuse_text(source, line, "a text in UTF-16 that is cut off in the middle of a character",
                "a whole text; save or copy it again");
  if (error != 0)
    refuse_text(source, line, "a text in UTF-16 with something that is no character", save_again);
  return result;
}

DecodedText from_windows(std::string_view bytes) {
  constexpr std::string_view replacement = "\xEF\xBF\xBD"; // U+FFFD
  DecodedText result{{}, "Windows-1252"};
  Conversion conversion("WINDOWS-1252", bytes);
  while (conversion.convert(result.text) != 0) {
    result.text += replacement;
    conversion.pass_over_byte();
  }
  return result;
}

/// Whether bytes that are valid UTF-8 up to `position` end there in the middle of a character.
bool is_cut_utf8(std::string_view bytes, std::size_t position) {
  const auto beyond_ascii = [](char c) { return static_cast<unsigned char>(c) >= 0x80U; };
  const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
  const std::string_view rest = bytes.substr(position);
  const auto lead = static_cast<unsigned>(static_cast<unsigned char>(rest.front()));
  const std::size_t wanted = lead >= 0xF0U ? 4 : lead >= 0xE0U ? 3 : lead >= 0xC2U ? 2 : 0;
  return rest.size() < wanted && std::ranges::all_of(rest.substr(1), continues) &&
         std::ranges::any_of(bytes.substr(0, position), beyond_ascii);
}

/// Nothing if the text is not in UTF-8, nor says it were.
std::optional<DecodedText> from_utf8(std::string_view bytes, const std::string& source) {
  const bool marked = bytes.starts_with(utf8_mark);
  if (marked)
    bytes.remove_prefix(utf8_mark.size());
  const auto invalid = first_invalid_utf8(bytes);
  if (!invalid)
    return DecodedText{std::string(bytes), "UTF-8"};
  if (is_cut_utf8(bytes, *invalid))
    refuse_text(source, line_at(bytes, *invalid),
                "a text in UTF-8 that is cut off in the middle of a character",
                "a whole text; save or copy it again");
  if (!marked)
    return std::nullopt;
  const auto byte = static_cast<unsigned>(static_cast<unsigned char>(bytes[*invalid]));
  refuse_text(source, line_at(bytes, *invalid),
              fmt::format("the byte 0x{:02X}, which is not UTF-8, in a text marked as UTF-8", byte),
              save_again);
}

DecodedText decoded_unchecked(std::string_view bytes, const std::string& source) {
  if (bytes.starts_with(little_mark))
    return from_utf16(bytes.substr(little_mark.size()), "UTF-16LE", source);
  if (bytes.starts_with(big_mark))
    return from_utf16(bytes.substr(big_mark.size()), "UTF-16BE", source);
  if (const char* const order = utf16_by_zeros(bytes))
    return from_utf16(bytes, order, source);
  if (auto text = from_utf8(bytes, source))
    return std::move(*text);
  return from_windows(bytes);
}

} // namespace

DecodedText decoded(std::string_view bytes, const std::string& source) {
  DecodedText result = decoded_unchecked(bytes, source);
  if (const std::size_t position = result.text.find('\0'); position != std::string::npos)
    refuse_text(source, line_at(result.text, position), "a NUL character", "text");
  return result;
}

} // namespace eggfall
