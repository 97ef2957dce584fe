#include "formats/workbook_text.hpp"

#include "base/user_text.hpp"

#include <boost/locale/utf.hpp>

#include <cstddef>

namespace eggfall {
namespace {

/// "_x0041_" in a workbook is the character 0041; where a text has just that, its first underscore
/// is written as a character of this kind.
std::string with_escapes(std::string_view text) {
  constexpr std::size_t size = 7;
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view seven = text.substr(i, size);
    const bool like_an_escape =
        seven.size() == size && seven.starts_with("_x") && seven.back() == '_' &&
        seven.substr(2, 4).find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
    if (like_an_escape)
      out += "_x005F";
    out += text[i];
  }
  return out;
}

} // namespace

std::string workbook_text(std::string_view text) {
  using boost::locale::utf::utf_traits;
  constexpr std::size_t most = 32'767; // in UTF-16 units, as spreadsheets count
  constexpr std::string_view mark = " [cut]";
  const std::string clean = with_escapes(without_controls(text));
  std::string out;
  std::size_t units = 0;
  std::size_t room_for_mark = 0; // bytes of `out` that leave room for it
  for (const char *position = clean.data(), *const end = position + clean.size();
       position != end;) {
    const char* const start = position;
    const std::size_t wide = utf_traits<char>::decode(position, end) > 0xFFFFU ? 2 : 1;
    if (units + wide > most)
      return out.substr(0, room_for_mark).append(mark);
    units += wide;
    out.append(start, position);
    if (units + mark.size() <= most)
      room_for_mark = out.size();
  }
  return out;
}

} // namespace eggfall
