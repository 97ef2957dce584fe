#pragma once

#include "teach/chamber/chamber_lesson.hpp"

#include <string>

namespace eggfall {

/// The pictures of chamber_page() with every counted egg numbered, the counts and the arithmetic,
/// and the truth behind them, for whoever teaches.
std::string chamber_key_page(const ChamberLesson& lesson);

} // namespace eggfall
