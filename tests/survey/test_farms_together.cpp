#include "survey/farms_together.hpp"

#include "survey/survey_json.hpp"

#include "support/support.hpp"
#include "support/surveyed_region.hpp"

#include <vector>

using namespace eggfall;

namespace {

void last_first(std::size_t count, const std::function<void(std::size_t)>& step) {
  for (std::size_t i = count; i > 0; --i)
    step(i - 1);
}

} // namespace

TEST_CASE("Courses and pictures are the same in whatever order they are worked out") {
  const SurveyedRegion region = surveyed_region(60);
  CoursesUnderWay farms;
  for (const SurveyRow& row : region.rows)
    farms.add(row);
  const PosteriorPriors& priors = region.survey.settings.priors;
  const std::vector<FarmCourse> forwards = courses_of(farms, priors);
  CHECK(courses_of(farms, priors, last_first) == forwards);
  CHECK(forwards.size() == CoursesUnderWay(farms).courses().size());

  const std::vector<RegionPicture> pictures = pictures_of(region.survey);
  REQUIRE_FALSE(pictures.empty());
  CHECK(survey_json(region.survey, pictures_of(region.survey, last_first)) ==
        survey_json(region.survey, pictures));
}
