#include "cli/drug_class_option.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "trial/drug_words.hpp"

#include <fmt/format.h>

namespace eggfall::cli {

DrugClass drug_class_option(const std::string& text) {
  const auto drug_class = parse_drug_class(text);
  if (!drug_class)
    throw InputError(
        fmt::format("--class: found {}; expected {}", in_quotes(text), expected_drug_class(text)));
  return *drug_class;
}

} // namespace eggfall::cli
