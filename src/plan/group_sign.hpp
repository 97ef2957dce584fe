#pragma once

#include "plan/field_sheets.hpp"

#include <string>
#include <vector>

// How a group is told at arm's length, in rain, in black and white: by a shape on the sheets, and
// by a place on its animals that can be read from above in the race.
namespace eggfall {

/// What a group goes by in the yard. Drawings are in inks, without words or a size of their own.
struct GroupSign {
  std::string shape;    ///< "square"; of the eighth treated group "square 2".
  std::string mark;     ///< What is sprayed on its animals, and where: "stripe across the rump".
  std::string svg;      ///< The shape, of class "sign".
  std::string mark_svg; ///< An animal from above that bears the mark, of class "marked".

  /// "SQUARE", as yard sheets say it: a word to call out, and not a part of the group's name.
  std::string word() const;
};

/// One for every group, no two alike in shape or mark. Those that are drenched have solid shapes;
/// the ring is the control's alone, so that an empty shape always says: no drench.
std::vector<GroupSign> group_signs(const std::vector<PlannedGroup>& groups);

/// Hatching that fills the space it is given, of class "hatch": drawn, since a printer leaves out
/// what is but a background.
std::string hatching();

/// The same along the upper and lower edge of the space, of class "edges", so that what is read or
/// written in between stands clear. The line of the upper edge comes first.
std::string hatched_edges();

/// How to spray or chalk, in a few sentences (practice); horses are chalked.
std::string marking_advice(const FieldSheetQuestion& question);

} // namespace eggfall
