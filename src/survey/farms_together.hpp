#pragma once

#include "eggfall/statistics/posterior.hpp"
#include "eggfall/survey/farm_course.hpp"
#include "eggfall/survey/survey.hpp"
#include "survey/region_picture.hpp"

#include <cstddef>
#include <functional>
#include <vector>

// What is worked out once all rows of a survey are there. Each course and each picture stands by
// itself, so that a caller who has threads may work out many at once; here nobody knows of threads.
namespace eggfall {

/// Calls step(i) for each i from 0 to count - 1, in any order, or several at once.
using ForEachIndex =
    std::function<void(std::size_t count, const std::function<void(std::size_t)>& step)>;

/// A ForEachIndex without threads.
void one_after_another(std::size_t count, const std::function<void(std::size_t)>& step);

/// course_of() each of the courses under way, in their order.
std::vector<FarmCourse> courses_of(CoursesUnderWay under_way, const PosteriorPriors& priors,
                                   const ForEachIndex& for_each = one_after_another);

/// picture_of() each group that is heard_together(), in their order.
std::vector<RegionPicture> pictures_of(const Survey& survey,
                                       const ForEachIndex& for_each = one_after_another);

} // namespace eggfall
