#include "survey/farms_together.hpp"

#include <utility>

namespace eggfall {

void one_after_another(std::size_t count, const std::function<void(std::size_t)>& step) {
  for (std::size_t i = 0; i < count; ++i)
    step(i);
}

std::vector<FarmCourse> courses_of(CoursesUnderWay under_way, const PosteriorPriors& priors,
                                   const ForEachIndex& for_each) {
  auto several = std::move(under_way).courses();
  std::vector<FarmCourse> courses(several.size());
  for_each(several.size(), [&](std::size_t c) {
    courses[c] = course_of(several[c].first, std::move(several[c].second), priors);
  });
  return courses;
}

std::vector<RegionPicture> pictures_of(const Survey& survey, const ForEachIndex& for_each) {
  const std::vector<HeardTogether> together = heard_together(survey);
  std::vector<RegionPicture> pictures(together.size());
  for_each(together.size(), [&](std::size_t t) { pictures[t] = picture_of(together[t]); });
  return pictures;
}

} // namespace eggfall
