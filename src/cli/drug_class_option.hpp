#pragma once

#include "eggfall/trial/trial.hpp"

#include <string>

namespace eggfall::cli {

/// The drug class of an option --class. @throws InputError for what is none.
DrugClass drug_class_option(const std::string& text);

} // namespace eggfall::cli
