#include "chosen_cut_offs.hpp"

#include "files.hpp"

namespace eggfall::cli {

CutOffs chosen_cut_offs(const std::string& own_file) {
  CutOffs all = published_cut_offs();
  if (own_file.empty())
    return all;
  CutOffs own = read_cut_offs(read_file(own_file), own_file);
  all.criteria.insert(all.criteria.begin(), own.criteria.begin(), own.criteria.end());
  all.windows.insert(all.windows.begin(), own.windows.begin(), own.windows.end());
  return all;
}

} // namespace eggfall::cli
