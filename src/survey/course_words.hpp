#pragma once

#include "eggfall/survey/farm_course.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

// The words that a farm's years are told in, on screen and on the survey's page.
namespace eggfall {

/// "Alder Fold, ivermectin, sheep": with host and worm where they are given.
std::string course_name(const CourseKey& key);

/// The host that all courses are of; empty if they differ, or if there is none.
std::string shared_host(const std::vector<const FarmCourse*>& courses);

/// "ivermectin", or "ivermectin, goats" where not all courses are of `shared` host: the farm's name
/// stands elsewhere.
std::string drench_of_course(const CourseKey& key, const std::string& shared);

/// The chance of any drop, of 100: "over 99", "under 1" or "62", since no chance is certain; "-"
/// where it is not known.
std::string drop_of_100(const std::optional<EfficacyDrop>& drop);

/// That of a marked drop.
std::string marked_drop_of_100(const std::optional<EfficacyDrop>& drop);

/// A test as a line of a course's table.
struct CourseTestWords {
  std::string tested;      ///< Its day or else its year.
  std::string fall;        ///< In percent.
  std::string limits;      ///< "58.9 to 83.2"; empty where there are none.
  std::string standing;    ///< "resistant"
  std::string since_first; ///< drop_of_100(), or "cannot tell" of a test that takes no part.
  std::string since_last;  ///< drop_of_100(); empty of a test that takes no part.
};

CourseTestWords course_test_words(const CourseTest& test);

/// Whether something has changed on a farm for the worse: a drench that failed in the first test
/// already is told by its class.
bool has_changed(const FarmCourse& course);

/// How many courses there are, and how many of each word, the worst first.
std::string courses_counted(const std::vector<FarmCourse>& courses);

/// The order in which words are shown: the worst first.
inline constexpr std::array course_words_by_need{
    CourseWord::lost, CourseWord::slipping, CourseWord::too_little_to_tell, CourseWord::holding};

/// What the chances and words mean, and what they do not.
std::string courses_note();

/// "By drench, of each farm's years to its newest test: ivermectin: lost 2, holding 5; ..."
std::string courses_by_drench(const std::vector<FarmCourse>& courses);

/// "Too little to tell, 2: Hill (ivermectin), Dale (levamisole)." of the chosen ones, of whom the
/// first dozen is named; empty for none.
std::string courses_named(std::string_view what, const std::vector<FarmCourse>& courses,
                          const std::function<bool(const FarmCourse&)>& chosen);

/// What to do about a drench that slips or is lost.
std::string courses_next_step();

} // namespace eggfall
