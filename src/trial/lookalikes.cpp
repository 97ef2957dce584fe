#include "trial/lookalikes.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace eggfall {

void Lookalikes::add(const std::string& name) {
  const auto [found, fresh] = seen_.emplace(look_of(name), name);
  if (!fresh && found->second != name)
    pairs_.push_back(fmt::format("{} and {}", in_quotes(found->second), in_quotes(name)));
}

void Lookalikes::tell(std::string_view what, const Source& source,
                      std::vector<std::string>& notes) const {
  constexpr std::size_t most_told = 3;
  if (pairs_.empty())
    return;
  const std::size_t told = std::min(pairs_.size(), most_told);
  std::string list;
  for (std::size_t i = 0; i < told; ++i)
    list += (i > 0 ? "; " : "") + pairs_[i];
  if (pairs_.size() > told)
    list += fmt::format("; and {} more", pairs_.size() - told);
  notes.push_back(fmt::format("{}: taken as two {}: {}", source.shown(), what, list));
}

} // namespace eggfall
