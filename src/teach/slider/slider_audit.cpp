#include "teach/slider/slider_audit.hpp"

#include "simulation/audit_json.hpp"
#include "teach/slider/slider_texts.hpp"

namespace eggfall {

AuditResult slider_audit() {
  return read_audit_json(slider_audit_json(), "the lesson's audit");
}

} // namespace eggfall
