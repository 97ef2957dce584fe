#include "support/made_workbook.hpp"

#include <zip.h>

#include <algorithm>
#include <memory>
#include <stdexcept>

namespace {

struct Close {
  void operator()(zip_t* archive) const { zip_discard(archive); }
  void operator()(zip_source_t* source) const { zip_source_free(source); }
};

void add(zip_t* archive, const std::string& name, const std::string& content,
         const char* password) {
  std::unique_ptr<zip_source_t, Close> part(
      zip_source_buffer(archive, content.data(), content.size(), 0));
  const zip_int64_t index = zip_file_add(archive, name.c_str(), part.get(), ZIP_FL_ENC_UTF_8);
  if (index < 0)
    throw std::runtime_error("no part could be added");
  part.release(); // the archive's now
  const auto position = static_cast<zip_uint64_t>(index);
  if (password != nullptr &&
      zip_file_set_encryption(archive, position, ZIP_EM_AES_256, password) != 0)
    throw std::runtime_error("no part could be locked");
}

std::string zipped(const ZipParts& parts, const char* password) {
  const std::unique_ptr<zip_source_t, Close> buffer(
      zip_source_buffer_create(nullptr, 0, 0, nullptr));
  zip_source_keep(buffer.get()); // the archive frees it as well
  std::unique_ptr<zip_t, Close> archive(
      zip_open_from_source(buffer.get(), ZIP_CREATE | ZIP_TRUNCATE, nullptr));
  if (!archive)
    throw std::runtime_error("no zip file could be made");
  for (const auto& [name, content] : parts)
    add(archive.get(), name, content, password);
  if (zip_close(archive.get()) != 0)
    throw std::runtime_error("the zip file could not be finished");
  archive.release(); // closing freed it
  zip_stat_t stat;
  zip_source_stat(buffer.get(), &stat);
  std::string bytes(stat.size, '\0');
  zip_source_open(buffer.get());
  zip_source_read(buffer.get(), bytes.data(), bytes.size());
  zip_source_close(buffer.get());
  return bytes;
}

constexpr const char* relations = "http://schemas.openxmlformats.org/package/2006/relationships";
constexpr const char* office =
    "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

} // namespace

std::string zip_of(const ZipParts& parts) {
  return zipped(parts, nullptr);
}

std::string locked_zip_of(const ZipParts& parts) {
  return zipped(parts, "secret");
}

ZipParts parts_of_workbook(const std::string& rows) {
  const std::string opening = std::string("<Relationships xmlns=\"") + relations + "\">";
  const std::string type = std::string("Type=\"") + office;
  return {
      {"_rels/.rels", opening + "<Relationship Id=\"r1\" " + type +
                          "/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"},
      {"xl/workbook.xml", std::string("<workbook xmlns:r=\"") + office +
                              "\"><sheets><sheet name=\"Counts\" sheetId=\"1\" r:id=\"r1\"/>"
                              "</sheets></workbook>"},
      {"xl/_rels/workbook.xml.rels",
       opening + "<Relationship Id=\"r1\" " + type +
           "/worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"r2\" " + type +
           "/sharedStrings\" Target=\"/xl/sharedStrings.xml\"/><Relationship Id=\"r3\" " + type +
           "/styles\" Target=\"styles.xml\"/></Relationships>"},
      {"xl/sharedStrings.xml", "<sst/>"},
      {"xl/styles.xml", "<styleSheet/>"},
      {"xl/worksheets/sheet1.xml", "<worksheet><sheetData>" + rows + "</sheetData></worksheet>"},
  };
}

std::string workbook_of(const std::string& rows) {
  return zip_of(parts_of_workbook(rows));
}

ZipParts with_part(ZipParts parts, const std::string& name, const std::string& content) {
  const auto found = std::ranges::find(parts, name, &ZipParts::value_type::first);
  if (found != parts.end())
    found->second = content;
  else
    parts.emplace_back(name, content);
  return parts;
}
