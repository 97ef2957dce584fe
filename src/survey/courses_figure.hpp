#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/survey/farm_course.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "formats/drawing/captioned_figure.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// Courses that are drawn; the others are counted, and stand in the table.
inline constexpr std::size_t most_courses_drawn = 40;

/// The worst first (course_words_by_need), each word's in the order of farms. They live as long as
/// `courses`.
std::vector<const FarmCourse*> courses_by_need(const std::vector<FarmCourse>& courses);

/// A small figure for each of these courses: falls with their limits over the years, all on the
/// same axes, with what has become of the drench in its finding. Its thresholds are drawn where the
/// row of a test is among `rows`, which tells its class.
std::vector<CaptionedFigure> courses_figures(const std::vector<const FarmCourse*>& courses,
                                             const std::vector<SurveyRow>& rows,
                                             const Criteria& criteria);

/// How to read them.
std::string courses_key();

} // namespace eggfall
