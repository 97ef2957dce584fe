#pragma once

#include "eggfall/judgement/standing.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/efficacy_drop.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/survey/survey_row.hpp"

#include <array>
#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// One drench on one farm, over the years (docs/survey.md, "A farm's years").
namespace eggfall {

/// What has become of a drench on a farm, in a word.
enum class CourseWord {
  holding,            ///< It works, and no marked drop is in sight.
  slipping,           ///< It works or may work, but by less than it did.
  lost,               ///< The last test that can tell says it is resistant.
  too_little_to_tell, ///< The tests allow none of the other three words.
};

/// In the order of their values.
inline constexpr std::array all_course_words{CourseWord::holding, CourseWord::slipping,
                                             CourseWord::lost, CourseWord::too_little_to_tell};

/// "holding", "slipping", "lost", "too little to tell"
std::string_view to_string(CourseWord word);
std::optional<CourseWord> parse_course_word(std::string_view text);

/// From these chances on a course is said to slip; below this chance of a marked drop since the
/// first test it may be said to hold. Practice, chosen by audit (docs/audit.md, "How soon is a slip
/// seen?").
inline constexpr double surely_dropped = 0.95; ///< Of EfficacyDrop::any.
inline constexpr double likely_marked = 0.5;   ///< Of EfficacyDrop::marked, beside it.
inline constexpr double hardly_dropped = 0.25; ///< Of EfficacyDrop::marked.

/// A test as a course shows it.
struct CourseTest {
  std::uint64_t trial_number = 0;
  std::string trial;
  std::string group;
  int year = 0;
  std::string day; ///< YYYY-MM-DD, of the treatment or else the first sample; empty if not known.
  std::optional<double> reduction; ///< A proportion, as are the limits of the survey's criterion.
  std::optional<double> lower;
  std::optional<double> upper;
  VerdictClass standing = VerdictClass::not_applicable;
  /// Why the test takes no part in the chances; empty if it does.
  std::string left_out;
  /// From the first test that takes part and is surely earlier than this ...
  std::optional<EfficacyDrop> since_first;
  std::optional<EfficacyDrop> since_last; ///< ... and from the last such one.

  bool operator==(const CourseTest&) const = default;
};

/// Whether a test stands resistant and takes part. What later tests find is then no slip, but the
/// same failure again.
bool finds_it_lost(const CourseTest& test);

/// What tells one course from another.
struct CourseKey {
  std::string farm;
  /// As the table has it, in lower case; its classes if the drench is not named.
  std::string drench;
  std::string host;
  std::string worm;

  bool operator==(const CourseKey&) const = default;
  /// By farm, drench, host and worm, each by its bytes.
  std::strong_ordering operator<=>(const CourseKey&) const = default;
};

/// The tests of one drench on one farm, in the order of their times.
struct FarmCourse {
  CourseKey key;
  std::vector<CourseTest> tests; ///< Two and more, of two times and more.
  CourseWord word = CourseWord::too_little_to_tell;

  /// Whether the first test that takes part had found it lost already.
  bool lost_from_the_first() const;

  bool operator==(const FarmCourse&) const = default;
};

/// What a course is worked out from: a test and its counts.
struct KeptTest {
  CourseTest shown;
  std::optional<Comparison> counts; ///< Of the design shown first; empty where it is left out.
};

/// The tests of a survey by farm and drench, until all are read and their courses can be worked
/// out. Rows without a farm, a time, or a drench or class, are of no course.
class CoursesUnderWay {
public:
  void add(const SurveyRow& row);

  /// Hands over those with tests of two times and more, in the order of their keys.
  std::vector<std::pair<CourseKey, std::vector<KeptTest>>> courses() &&;

private:
  std::map<CourseKey, std::vector<KeptTest>> tests_;
};

/// The course of `tests`, all of which are of `key`: their order in time, the chances of a drop
/// (drop_between()) by the evidence of each, and the word:
///
/// - lost: the last test that takes part stands resistant;
/// - slipping: it stands low resistant; or it is surely_dropped, and likely_marked, since the first
///   test or since the one before;
/// - holding: it stands susceptible, with less than hardly_dropped for a marked drop since the
/// first;
/// - else too little to tell.
///
/// Tests of one time are not compared with each other. A test takes no part if its counts give no
/// law, or if a bar says that its fall is not the drench's (units, day, control, missing animals,
/// dose); if the very last of a course takes no part, that course does not hold.
FarmCourse course_of(const CourseKey& key, std::vector<KeptTest> tests,
                     const PosteriorPriors& priors);

} // namespace eggfall
