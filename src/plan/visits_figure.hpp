#pragma once

#include "formats/drawing/captioned_figure.hpp"
#include "plan/field_sheets.hpp"

namespace eggfall {

/// The two visits to the yard on a line of days: who is sampled and who is drenched on day 0, on
/// which days all are sampled again, and the days usual for the drench of each group, with dates if
/// day 0 has one. Its description says the same in words.
CaptionedFigure visits_figure(const FieldSheets& sheets);

} // namespace eggfall
