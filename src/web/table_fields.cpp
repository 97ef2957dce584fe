#include "web/table_fields.hpp"

#include "web/setting_names.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall::web {

const std::string& file_of(Fields& fields, const std::vector<std::string>& files) {
  const auto place = fields.whole("file", 0, 1'000);
  if (!place || *place >= files.size())
    throw InputError(fmt::format("{}: found no such file; expected the place of one of the {} that "
                                 "came with the request",
                                 fields.place("file"), files.size()));
  return files[static_cast<std::size_t>(*place)];
}

TableAnswers answers_of(Fields& fields) {
  constexpr double largest = 1e6;
  TableAnswers answers;
  if (const std::string layout = fields.raw_text("layout"); !layout.empty())
    answers.layout = read_layout(layout, "layout");
  TableAnswers said;
  said.layout.factor = fields.number("factor", 0, largest);
  said.layout.factor_before = fields.number("factorBefore", 0, largest);
  said.layout.factor_after = fields.number("factorAfter", 0, largest);
  said.layout.host = fields.text("host");
  said.layout.control = fields.text("control");
  said.sheets = fields.text("sheet");
  for (Fields& setting : fields.objects("settings")) {
    take(said, {setting.text("key"), setting.text("value")});
    setting.nothing_else();
  }
  said.layout = joined(std::move(said.layout), answers.layout);
  return said;
}

std::vector<TableFile> tables_of(Fields& fields, const std::vector<std::string>& files) {
  std::vector<TableFile> tables;
  for (Fields& table : fields.objects("tables")) {
    std::string name = table.text("name");
    tables.push_back({name.empty() ? "table" : std::move(name), file_of(table, files)});
    table.nothing_else();
  }
  return tables;
}

CutOffs cut_offs_of(Fields& fields) {
  const std::string own = fields.raw_text("cutOffs");
  return own.empty() ? published_cut_offs() : before_published(read_cut_offs(own, "your cut-offs"));
}

Json told_lines(const std::vector<Wording>& told) {
  return texts_of(told, request_names);
}

void refuse_wanted(const std::string& name) {
  throw InputError(fmt::format("wanted: found {}; expected names of files that the request gives "
                               "(docs/browser.md)",
                               in_quotes(name)));
}

} // namespace eggfall::web
