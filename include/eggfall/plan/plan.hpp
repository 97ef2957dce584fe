#pragma once

#include "eggfall/plan/pilot.hpp"
#include "eggfall/plan/plan_question.hpp"
#include "eggfall/simulation/audit.hpp"
#include "eggfall/simulation/audit_summary.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace eggfall {

/// The chances of a design at one true efficacy, by each of PlanAim::criteria.
struct PlanOutcome {
  double efficacy = 0;
  FarmTally tally;
};

struct PlannedOption {
  PlanOption option;
  PlanDemand needs;
  std::vector<PlanOutcome> outcomes; ///< By efficacy, the highest first.
};

/// The share of an outcome's trials to which a criterion, of this number among those of the aim,
/// gives the class.
Share chance(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t index,
             VerdictClass verdict_class);

/// The share called resistant or low resistant.
Share called_resistant(const PlanOutcome& outcome, const AuditCriterion& criterion,
                       std::size_t index);

/// The share that is called neither susceptible nor resistant.
double unclear(const PlanOutcome& outcome, const AuditCriterion& criterion, std::size_t index);

/// The two answers that a test is for, by one criterion.
struct RightAnswers {
  double works = 0; ///< clearly_works()
  double fails = 0; ///< clearly_fails()
  Share good;       ///< A drench that removes `works` is called susceptible.
  Share poor;       ///< One that removes `fails` is called_resistant().
};

RightAnswers right_answers(const PlannedOption& planned, const PlanAim& aim, std::size_t index);

/// The share of the rarer of right_answers() by one criterion.
Share power(const PlannedOption& planned, const PlanAim& aim, std::size_t index);

/// The lowest power() of all criteria.
Share power(const PlannedOption& planned, const PlanAim& aim);

/// What a finished audit of a question's farms() says of each of its options().
/// @throws CalculationError if the audit has not all of their farms.
std::vector<PlannedOption> planned(const PlanQuestion& question, const AuditResult& audit);

/// Whether an option has the animals, eggs and mean count that the criteria themselves ask for.
bool meets_minima(const PlannedOption& planned, const PlanQuestion& question);

/// Whether a test of these groups can be given a class at all: an analysis gives none to fewer than
/// FieldPractice::fewest_animals samples, however the counts fall.
bool can_be_judged(const PlanOption& option);

/// The option that asks for least, of those that can_be_judged() with the wanted power: by cost if
/// all have one, or else by hours, or else by animals; of equals the one with fewer animals, and
/// then the most powerful. nullptr if there is none.
const PlannedOption* least_demanding(const std::vector<PlannedOption>& all, const PlanAim& aim);

/// The most powerful option of those that can_be_judged(), or of all if none can, the less
/// demanding of equals; nullptr if there is none.
const PlannedOption* most_powerful(const std::vector<PlannedOption>& all, const PlanAim& aim);

/// An option on another flock, or with other groups: what would have to change.
struct PlanCase {
  enum class Kind { more_eggs, more_animals, one_drench, poor_flock };
  Kind kind = Kind::more_eggs;
  PlannedFlock flock;
  PlanOption option;
};

/// Where no option has the wanted power: the best of them with 1.5 to 20 times the eggs (a higher
/// mean, or as well a lower factor), with 1.5 to 5 times the animals, and with all the animals
/// there are in a test of one drench, if there were to be several.
std::vector<PlanCase> remedies(const PlanOption& best, const PlannedFlock& flock);

/// The option on the flock at the poor end of what the pilot allows: the lower limits of its mean
/// and its k, at once.
PlanCase poor_flock(const PlanOption& option, const PlannedFlock& flock, const Pilot& pilot);

/// The question that a case answers: the same aim, of the efficacies that power() needs alone.
PlanQuestion question_of(const PlanCase& plan_case, const PlanAim& aim);

struct PlannedCase {
  PlanCase plan_case;
  PlannedOption planned;
};

/// All that a plan came to.
struct Plan {
  PlanQuestion question;
  AuditSettings settings;
  std::vector<PlannedOption> all;
  std::vector<PlannedCase> cases;
  std::optional<Pilot> pilot;
  /// What all criteria ask for such a host, to be shown beside the plan.
  std::vector<NamedMinimum> published;
};

/// The least demanding option with the wanted power that meets_minima() too, or if none does the
/// least demanding with the power alone; nullptr if none has it.
const PlannedOption* recommended(const Plan& plan);

/// What else to simulate once the options are: remedies() of the most powerful if none will do, and
/// the poor_flock() of the pilot, if there was one.
/// @throws CalculationError for a plan of no design.
std::vector<PlanCase> cases_to_try(const Plan& plan);

} // namespace eggfall
