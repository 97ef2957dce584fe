#include "eggfall/lesson_audit.hpp"

#include "eggfall/audit_json.hpp"
#include "lesson_texts.hpp"

namespace eggfall {

AuditResult lesson_audit() {
  return read_audit_json(lesson_audit_json(), "the lesson's audit");
}

} // namespace eggfall
