// What the owner of tables says of them, in a file kept beside them; and a table read by it.
#include "intake/layout.hpp"

#include "counts_checks.hpp"
#include "harness.hpp"

#include "intake/reading_json.hpp"
#include "intake/understand.hpp"

#include <string>

namespace {

/// With a column that nothing in it explains, a word that may mean two things and dates of two
/// readings, so that a layout has something to say.
constexpr std::string_view table = "Tag,Mob,Treated on,Third,EPG pre,EPG post,Pot\n"
                                   "1,White,3/5/2031,50,450,0,a\n"
                                   "2,White,3/5/2031,0,300,nd,b\n"
                                   "3,Rest,3/5/2031,100,1000,1200,c\n";

/// A factor that is none is for read_options() to refuse.
eggfall::ReadOptions options_of(const eggfall::Layout& layout) {
  eggfall::ReadOptions options = fuzz::with_factor();
  options.control = layout.control;
  if (!layout.host.empty())
    options.host = layout.host;
  return options;
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Layout layout = eggfall::read_layout(bytes, "layout.toml");
  const std::string written = eggfall::layout_toml(layout);
  accepted("a layout that was written is read", [&] {
    promise(eggfall::layout_toml(eggfall::read_layout(written, "again.toml")) == written,
            "a layout that was written is read as the same");
  });
  const eggfall::UnderstoodTables tables = eggfall::understand_tables(
      {{std::string(table), "t.csv", "trial"}}, options_of(layout), layout);
  promise(!eggfall::reading_json(tables).empty(), "what was understood can be told");
  check_written_and_read_back(tables.table.trials);
}
