#pragma once

#include "eggfall/trial/trial.hpp"
#include "formats/drawing/html_page.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

// Tables of animals' counts for pages of a class: groups side by side.
namespace eggfall {

/// What a column says of an animal.
struct AnimalColumn {
  std::string head;
  std::function<std::string(const Animal&)> cell;
};

AnimalColumn tags(std::string head);
AnimalColumn eggs(std::string head, std::optional<Count> Animal::*when); ///< Seen.
AnimalColumn epg(std::string head, std::optional<Count> Animal::*when);
AnimalColumn blank(std::string head); ///< To be filled in.

/// Columns of one group's animals.
struct GroupColumns {
  const Group& group; ///< All its animals have the counts that the columns show.
  std::vector<AnimalColumn> columns;
};

/// A line an animal; a shorter group leaves cells empty.
HtmlTable animal_table(std::string running_head, const std::vector<GroupColumns>& groups);

/// A line to write sums in, above row `position` or last, with its name in the given columns.
void add_sum_row(HtmlTable& table, std::size_t position, const std::string& name,
                 const std::vector<std::size_t>& columns = {0});

} // namespace eggfall
