#include "survey/courses_figure.hpp"

#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"
#include "survey/course_words.hpp"
#include "survey/standing_marks.hpp"
#include "survey/survey_falls_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <utility>

namespace eggfall {
namespace {

constexpr double course_width = 156; ///< Two stand side by side on a phone of 360 pixels.
constexpr double course_height = 96;
constexpr double labels_lane = 34; ///< Width of the lane at the left for the labels of falls.
constexpr double course_top = 6;
constexpr double course_right = 8;

/// Years with the day as a part of the year; in the middle of a year whose day is not known.
double time_of_test(const CourseTest& test) {
  if (const auto month = parse_whole_number(
          test.day.size() == 10 ? std::string_view(test.day).substr(5, 2) : std::string_view());
      month && *month >= 1 && *month <= 12) {
    const double day = static_cast<double>(
        parse_whole_number(std::string_view(test.day).substr(8, 2)).value_or(1));
    return test.year + (static_cast<double>(*month) - 1 + (day - 1) / 31) / 12;
  }
  return test.year + 0.5;
}

/// The axes that all courses share.
struct CourseScales {
  FallAxis falls; ///< From the bottom up.
  int first_year = 0;
  int last_year = 0;

  double height_of(double fall) const { return course_top + course_height - falls.x_of(fall); }
  double left_of(double time) const {
    const double room = course_width - labels_lane - course_right - 8;
    return labels_lane + 4 + room * (time - first_year) / (last_year + 1 - first_year);
  }
  double right() const { return course_width - course_right; }
};

CourseScales scales_of(const std::vector<const FarmCourse*>& courses, std::vector<double> falls) {
  int first = 9'999;
  int last = 0;
  for (const FarmCourse* const course : courses)
    for (const CourseTest& test : course->tests) {
      first = std::min(first, test.year);
      last = std::max(last, test.year);
      for (const auto& fall : {test.reduction, test.lower})
        if (fall)
          falls.push_back(*fall);
    }
  return {FallAxis({0, 0, course_height, 1}, survey_fall_range(falls)), first, last};
}

void draw_fall_ticks(pugi::xml_node parent, const CourseScales& scales) {
  add_rule(parent, {labels_lane, course_top}, {labels_lane, course_top + course_height}, ink);
  double last = course_top + course_height + 20;
  for (const double tick : {0.0, 0.5, 0.9, 0.99, 0.999}) {
    if (scales.falls.beyond_left(tick) || scales.falls.beyond_right(tick))
      continue;
    const double y = scales.height_of(tick);
    add_rule(parent, {labels_lane - 4, y}, {labels_lane, y}, ink);
    if (last - y < 14 || tick > 0.99)
      continue;
    last = y;
    add_label(parent, {labels_lane - 6, y + 4}, fmt::format("{:g}%", 100 * tick), Anchor::end);
  }
}

void draw_year_ticks(pugi::xml_node parent, const CourseScales& scales) {
  const double y = course_top + course_height;
  add_rule(parent, {labels_lane, y}, {scales.right(), y}, ink);
  constexpr int most_ticks = 40;
  if (scales.last_year - scales.first_year < most_ticks)
    for (int year = scales.first_year; year <= scales.last_year; ++year)
      add_rule(parent, {scales.left_of(year + 0.5), y}, {scales.left_of(year + 0.5), y + 4}, ink);
  add_label(parent, {labels_lane, y + 16}, fmt::format("{}", scales.first_year), Anchor::start);
  if (scales.last_year > scales.first_year)
    add_label(parent, {course_width - 2, y + 16}, fmt::format("{}", scales.last_year), Anchor::end);
}

void draw_zone(pugi::xml_node parent, const CourseScales& scales, const CutOff& cut_off) {
  const double expected = scales.height_of(cut_off.expected);
  if (cut_off.lower) {
    const double lower = scales.height_of(*cut_off.lower);
    add_box(parent, {labels_lane, expected, scales.right() - labels_lane, lower - expected},
            zone_colour);
    add_rule(parent, {labels_lane, lower}, {scales.right(), lower}, ink, 1, "2 3");
  }
  add_rule(parent, {labels_lane, expected}, {scales.right(), expected}, ink, 1, "7 3");
}

void draw_tests(pugi::xml_node parent, const CourseScales& scales, const FarmCourse& course) {
  std::string path;
  for (const CourseTest& test : course.tests) {
    if (!test.reduction)
      continue;
    const double x = scales.left_of(time_of_test(test));
    const double y = scales.height_of(*test.reduction);
    if (test.left_out.empty())
      path += fmt::format("{}{} {}", path.empty() ? "M" : "L", svg_number(x), svg_number(y));
  }
  if (!path.empty()) {
    pugi::xml_node line = parent.append_child("path");
    set(line, "d", path);
    set(line, "fill", "none");
    set(line, "stroke", rule_colour);
    set(line, "stroke-width", 1.2);
  }
  for (const CourseTest& test : course.tests) {
    const double x = scales.left_of(time_of_test(test));
    if (test.lower && test.upper)
      add_rule(parent, {x, scales.height_of(*test.lower)}, {x, scales.height_of(*test.upper)}, ink,
               1.4, test.left_out.empty() ? "" : "2 2");
    if (test.reduction)
      add_standing_mark(parent, {x, scales.height_of(*test.reduction)}, test.standing, 3.2);
  }
}

/// The cut-offs of tests whose rows are there, by trial number and group.
using CutOffOfTest = std::map<std::pair<std::uint64_t, std::string>, const CutOff*>;

CutOffOfTest cut_offs_of(const std::vector<SurveyRow>& rows, const Criteria& criteria) {
  CutOffOfTest cut_offs;
  for (const SurveyRow& row : rows)
    cut_offs[{row.trial_number, row.group.name}] = choose_cut_off(criteria, row.group).cut_off;
  return cut_offs;
}

/// The cut-off that all tests of a course share; nullptr if they differ.
const CutOff* cut_off_of(const FarmCourse& course, const CutOffOfTest& cut_offs) {
  const CutOff* shared = nullptr;
  for (const CourseTest& test : course.tests) {
    const auto found = cut_offs.find({test.trial_number, test.group});
    if (found == cut_offs.end() || found->second == nullptr ||
        (shared != nullptr && shared != found->second))
      return nullptr;
    shared = found->second;
  }
  return shared;
}

} // namespace

std::vector<const FarmCourse*> courses_by_need(const std::vector<FarmCourse>& courses) {
  std::vector<const FarmCourse*> sorted;
  for (const CourseWord word : course_words_by_need)
    for (const FarmCourse& course : courses)
      if (course.word == word)
        sorted.push_back(&course);
  return sorted;
}

std::vector<CaptionedFigure> courses_figures(const std::vector<const FarmCourse*>& courses,
                                             const std::vector<SurveyRow>& rows,
                                             const Criteria& criteria) {
  const CutOffOfTest cut_offs = cut_offs_of(rows, criteria);
  std::vector<double> thresholds;
  for (const FarmCourse* const course : courses)
    if (const CutOff* const cut_off = cut_off_of(*course, cut_offs)) {
      thresholds.push_back(cut_off->expected);
      if (cut_off->lower)
        thresholds.push_back(*cut_off->lower);
    }
  const CourseScales scales = scales_of(courses, thresholds);
  const std::string host = shared_host(courses);
  std::vector<CaptionedFigure> figures;
  for (const FarmCourse* const course : courses) {
    NarrowFigure figure(
        fmt::format("{}: {}", course_name(course->key), to_string(course->word)),
        "Falls over the years, each a mark with its interval as a bar. The table holds the same "
        "numbers.",
        course_width);
    if (const CutOff* const cut_off = cut_off_of(*course, cut_offs))
      draw_zone(figure.svg(), scales, *cut_off);
    draw_fall_ticks(figure.svg(), scales);
    draw_year_ticks(figure.svg(), scales);
    draw_tests(add_group(figure.svg(), "tests"), scales, *course);
    figures.push_back({fmt::format("{}, {}", course->key.farm, drench_of_course(course->key, host)),
                       figure.finished(course_top + course_height + 20), ""});
  }
  return figures;
}

std::string courses_key() {
  return fmt::format(
      "Upward: the fall, stretched towards 100%; to the right: years. The bar is the "
      "interval, with dashes where the test takes no part in the chances. {} "
      "Tinted: between the lower threshold (dotted) and the expected fall (dashed).",
      marks_key);
}

} // namespace eggfall
