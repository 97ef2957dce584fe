#include "formats/zip_archive.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace eggfall {

ZipArchive::ZipArchive(std::string_view bytes, std::string source) : source_(std::move(source)) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* const buffer = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
  if (buffer != nullptr) {
    archive_.reset(zip_open_from_source(buffer, ZIP_RDONLY, &error));
    if (!archive_)
      zip_source_free(buffer); // an open archive owns it
  }
  zip_error_fini(&error);
  if (!archive_)
    refuse_damaged("");
}

void ZipArchive::refuse_damaged(std::string_view what) const {
  refuse(what.empty() ? "a workbook that is damaged or cut short"
                      : fmt::format("a workbook that is damaged (in its part {})", in_quotes(what)),
         "a whole .xlsx or .ods workbook; save or copy it again");
}

void ZipArchive::refuse_password() const {
  refuse("a workbook with a password",
         "one without; open it in a spreadsheet and save it again without the password");
}

void ZipArchive::refuse(std::string found, std::string expected) const {
  throw InputError({Problem{source_, 0, 0, {}, std::move(found), std::move(expected)}});
}

bool ZipArchive::has(const std::string& name) const {
  return zip_name_locate(archive_.get(), name.c_str(), ZIP_FL_NOCASE) >= 0;
}

std::optional<std::string> ZipArchive::part(const std::string& name) const {
  const zip_int64_t index = zip_name_locate(archive_.get(), name.c_str(), ZIP_FL_NOCASE);
  if (index < 0)
    return std::nullopt;
  const auto position = static_cast<zip_uint64_t>(index);
  zip_stat_t stat;
  if (zip_stat_index(archive_.get(), position, 0, &stat) == 0 &&
      (stat.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && stat.encryption_method != ZIP_EM_NONE)
    refuse_password();
  const std::unique_ptr<zip_file_t, Close> file(zip_fopen_index(archive_.get(), position, 0));
  if (!file)
    refuse_damaged(name);
  std::string text;
  std::array<char, 1U << 16U> piece;
  for (;;) {
    const zip_int64_t size = zip_fread(file.get(), piece.data(), piece.size());
    if (size < 0)
      refuse_damaged(name);
    if (size == 0)
      return text;
    text.append(piece.data(), static_cast<std::size_t>(size));
    // What the file says of its size is not to be believed.
    if (text.size() > largest_part)
      refuse(fmt::format("a part {} of more than {} MiB", in_quotes(name), largest_part >> 20U),
             "a smaller workbook");
  }
}

} // namespace eggfall
