#include "intake/reading_json.hpp"

#include "eggfall/base/version.hpp"
#include "formats/json_values.hpp"
#include "trial/counts_table.hpp"

#include <utility>

namespace eggfall {

std::string reading_json(const UnderstoodTables& tables) {
  const CountsCells cells = counts_cells(tables.table.trials);
  Json json = {{"schema", "eggfall.reading/1"},
               {"version", version()},
               {"understood", texts_of(tables.all)},
               {"told", texts_of(tables.told)},
               {"noticed", tables.table.notes},
               {"columns", cells.columns},
               {"rows", cells.rows}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace eggfall
