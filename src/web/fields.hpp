#pragma once

#include "eggfall/base/error.hpp"
#include "formats/json_values.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall::web {

/// The fields of a JSON object that a page sent, read by name. Each was looked at or it is refused:
/// a name that is misspelt would otherwise be a setting silently left out.
class Fields {
public:
  /// `json` must outlive this; `where` names it in messages.
  /// @throws InputError unless it is an object.
  Fields(const Json& json, std::string where);

  /// Normalised; empty if it is missing or null.
  std::string text(std::string_view name);
  /// As it was sent, line breaks and all: for the text of a file.
  std::string raw_text(std::string_view name);
  std::vector<std::string> texts(std::string_view name);
  bool yes(std::string_view name); ///< False if it is missing.
  std::optional<double> number(std::string_view name, double least, double most);
  std::optional<double> number(std::string_view name, const ValueRange& range) {
    return number(name, range.least, range.most);
  }
  std::vector<double> numbers(std::string_view name, double least, double most);
  std::optional<std::uint64_t> whole(std::string_view name, std::uint64_t least,
                                     std::uint64_t most);
  std::vector<std::size_t> wholes(std::string_view name, std::size_t least, std::size_t most);
  std::vector<Fields> objects(std::string_view name);
  /// Without any field if it is missing.
  Fields object(std::string_view name);

  bool has(std::string_view name) const;
  const std::string& where() const { return where_; }
  std::string place(std::string_view name) const;

  /// @throws InputError if it has a field whose name was not asked for.
  void nothing_else() const;

private:
  const Json* find(std::string_view name);
  const Json& array(std::string_view name);

  const Json* json_;
  std::string where_;
  std::vector<std::string> known_;
};

} // namespace eggfall::web
