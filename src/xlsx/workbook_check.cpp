#include "xlsx/workbook_check.hpp"

#include <fmt/format.h>
#include <zip.h>

#include <algorithm>
#include <array>
#include <memory>
#include <optional>
#include <string_view>

namespace eggfall {
namespace {

struct Discard {
  void operator()(zip_t* archive) const { zip_discard(archive); }
  void operator()(zip_file_t* file) const { zip_fclose(file); }
};
using Archive = std::unique_ptr<zip_t, Discard>;
using File = std::unique_ptr<zip_file_t, Discard>;

Archive archive_of(const std::string& bytes) {
  zip_source_t* const source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, nullptr);
  if (source == nullptr)
    return nullptr;
  Archive archive(zip_open_from_source(source, ZIP_RDONLY, nullptr));
  if (!archive)
    zip_source_free(source);
  return archive;
}

/// What is seen of a part on the way through it; a sheet may be too large to be held.
struct Part {
  std::string head;      ///< Its first piece.
  std::string tail;      ///< From its last "<" on.
  std::size_t cells = 0; ///< Markup alone has a "<"; in a text it is written "&lt;".
  std::size_t texts = 0;
};

std::size_t count(std::string_view text, std::string_view what) {
  std::size_t times = 0;
  for (std::size_t position = text.find(what); position != std::string_view::npos;
       position = text.find(what, position + what.size()))
    ++times;
  return times;
}

std::optional<Part> look_through(zip_t* archive, const char* name) {
  const File file(zip_fopen(archive, name, 0));
  if (!file)
    return std::nullopt;
  Part part;
  std::array<char, 1U << 16U> piece{};
  zip_int64_t got = 0;
  while ((got = zip_fread(file.get(), piece.data(), piece.size())) > 0) {
    // The last tag may go on in the next piece.
    const std::string seen = part.tail + std::string(piece.data(), static_cast<std::size_t>(got));
    if (part.head.empty())
      part.head = seen;
    const std::size_t open = std::min(seen.rfind('<'), seen.size());
    part.cells += count(std::string_view(seen).substr(0, open), "<c r=");
    part.texts += count(std::string_view(seen).substr(0, open), "<si>");
    part.tail = seen.substr(open);
  }
  return got == 0 ? std::optional(part) : std::nullopt;
}

/// The last thing in a part is the end of its first element.
bool ends(const Part& part) {
  const std::size_t declared = part.head.find("?>");
  const std::size_t root = part.head.find('<', declared == std::string::npos ? 0 : declared);
  if (root == std::string::npos)
    return false;
  const std::size_t name_end = part.head.find_first_of(" />", root);
  const std::string name = part.head.substr(root + 1, name_end - root - 1);
  return part.tail.starts_with(fmt::format("</{}>", name));
}

/// The part of the texts says how many there are.
bool has_all_texts(const Part& part) {
  constexpr std::string_view said = "uniqueCount=\"";
  const std::size_t position = part.head.find(said);
  if (position == std::string::npos)
    return part.texts == 0;
  const std::size_t number = position + said.size();
  return part.head.substr(number, part.head.find('"', number) - number) ==
         std::to_string(part.texts);
}

} // namespace

bool is_whole(const std::string& workbook, const std::vector<std::size_t>& cells) {
  const Archive archive = archive_of(workbook);
  if (!archive)
    return false;
  const auto parts = zip_get_num_entries(archive.get(), 0);
  std::size_t sheets = 0;
  for (zip_int64_t i = 0; i < parts; ++i) {
    const char* const name = zip_get_name(archive.get(), static_cast<zip_uint64_t>(i), 0);
    const auto part = look_through(archive.get(), name);
    if (!part || !ends(*part) || !has_all_texts(*part))
      return false;
    if (std::string_view(name).starts_with("xl/worksheets/sheet")) {
      if (sheets == cells.size() || part->cells != cells[sheets])
        return false;
      ++sheets;
    }
  }
  return sheets == cells.size();
}

} // namespace eggfall
