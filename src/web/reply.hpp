#pragma once

#include "formats/json_values.hpp"

#include <string>
#include <vector>

namespace eggfall::web {

struct NamedFile {
  std::string name;
  std::string bytes;
};

/// What a request came to.
struct Reply {
  Json json = Json::object();
  std::vector<NamedFile> files = {};
};

} // namespace eggfall::web
