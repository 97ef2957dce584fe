#pragma once

#include "plan/field_sheets.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

// A line may bear no dose, for want of a weight or of the label's rate. What the weight on the
// scales then comes to is read off a strip, so that nobody multiplies at the race.
namespace eggfall {

/// CSS of add_dose_strips().
inline constexpr std::string_view dose_strip_style = R"css(
.strip { margin: 0.4rem 0; } .strip p { margin: 0; }
.strip .sign { display: inline-block; width: 1.2rem; vertical-align: -0.25rem; }
.strip ul { display: grid; grid-template-columns: repeat(auto-fill, minmax(2.65rem, 1fr));
  list-style: none; margin: 0.2rem 0 0; padding: 0 0 1px 1px; }
.strip li { margin: 0 0 -1px -1px; border: 1px solid var(--ink);
  text-align: center; line-height: 1.2; break-inside: avoid; }
.strip li span { display: block; border-bottom: 1px solid var(--rule); white-space: nowrap;
  font-size: 0.85rem; }
.strip li b { display: block; min-height: 1.6rem; font: bold 1.15rem/1.6rem Arial,
  "Liberation Sans", Helvetica, sans-serif; font-variant-numeric: tabular-nums; }
.strip .open span { padding-left: 1.6rem; min-height: 1.4rem; line-height: 1.4rem; }
@media print {
  .strip { display: flex; align-items: center; gap: 2mm; margin: 1mm 0; break-inside: avoid;
    font-size: 8.5pt; line-height: 1.1; }
  .strip p { flex: none; width: 28mm; } .strip ul { display: flex; flex: 1 1 0; margin: 0; }
  .strip .sign { width: 4mm; } .strip li { flex: 1 1 0; min-width: 0; }
  .strip li span { font-size: 8pt; } .strip li b { font-size: 10.5pt; line-height: 5.4mm;
    min-height: 5.4mm; }
  .strip .open span { min-height: 5mm; line-height: 5mm; padding-left: 4mm; }
}
)css";

/// Treated groups some of whose lines bear no dose, by their place among the groups.
std::vector<std::size_t> groups_without_dose(const FieldSheets& sheets);

/// Weights, kg, that suit the host: 10 to 90 of sheep and goats, 100 to 700 of cattle. None for
/// others, whose sizes differ too much: the strip has blanks then.
std::vector<int> strip_weights(std::string_view host);

/// Weights, kg, beyond which an animal is no such host, or its weight a slip of the pen: from half
/// the least of strip_weights() to twice the most (practice). Nothing where there are none.
std::optional<ValueRange> possible_weights(std::string_view host);

/// A strip for each of groups_without_dose(), kg above mL, and how to use them. Where the label's
/// rate is known the mL are its doses, rounded up to the gun's steps, and a dash where
/// steps_overdose(); otherwise they are blank, to be filled in with the veterinarian. Nothing where
/// no group asks for one.
void add_dose_strips(pugi::xml_node section, const FieldSheets& sheets);

} // namespace eggfall
