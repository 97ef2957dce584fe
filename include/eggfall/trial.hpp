#pragma once

#include "eggfall/egg_count.hpp"

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Chemical classes of anthelmintic, by the trade's abbreviations.
enum class DrugClass {
  bz,  ///< Benzimidazoles.
  lv,  ///< Levamisole and morantel type: imidazothiazoles.
  ml,  ///< Macrocyclic lactones (avermectins, moxidectin).
  ad,  ///< Amino-acetonitrile derivatives.
  si,  ///< Spiroindoles.
  pyr, ///< Pyrantel and kin: tetrahydropyrimidines.
};

std::string_view to_string(DrugClass drug_class);

/// Reads "BZ" or "bz"; nothing if it is no class known here.
std::optional<DrugClass> parse_drug_class(std::string_view text);

/// "BZ+LV"; empty when no class is given.
std::string to_string(const std::vector<DrugClass>& classes);

/// One spelling a host: "Goat" and "goats" give "goats". An unknown host is
/// kept in lower case, so that a user's own cut-offs may name it.
std::string canonical_host(std::string_view text);

/// One spelling a worm: "Strongyle" and "cyathostomins" give "strongyles"; an
/// unknown worm is kept in lower case.
std::string canonical_worm(std::string_view text);

enum class Role { treated, control };

std::string_view to_string(Role role);

struct Animal {
  std::string tag;
  std::optional<Count> before; ///< Empty: not sampled before treatment.
  std::optional<Count> after;  ///< Empty: not sampled after treatment.
  std::optional<double> weight_kg;
  std::optional<double> dose_ml;
  std::optional<double> label_ml_per_kg; ///< Dose rate on the product's label.
  std::optional<std::chrono::year_month_day> date_before;
  std::optional<std::chrono::year_month_day> date_treated;
  std::optional<std::chrono::year_month_day> date_after;
  std::size_t line = 0; ///< Line of the table it came from; 0 if none.
};

struct Group {
  std::string name;
  Role role = Role::treated;
  std::string drench; ///< As the user calls it; may be empty.
  std::vector<DrugClass> classes;
  std::string host; ///< canonical_host(); empty if not given.
  std::string worm; ///< canonical_worm(); empty if not given.
  std::vector<Animal> animals;
};

struct Trial {
  std::string name;
  std::vector<Group> groups; ///< At most one of them has the role control.
};

/// The trial's control group, or nullptr. The pointer lives as long as `trial`.
const Group* control_of(const Trial& trial);

} // namespace eggfall
