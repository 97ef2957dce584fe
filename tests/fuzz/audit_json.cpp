// The JSON of an audit, as --merge reads it, and all that is made of it.
#include "harness.hpp"

#include "simulation/audit_html_page.hpp"
#include "simulation/audit_json.hpp"
#include "simulation/audit_page.hpp"
#include "simulation/audit_text.hpp"

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::AuditResult read = eggfall::read_audit_json(bytes, "part.json");
  const std::string written = eggfall::audit_json(read);
  accepted("an audit that was written is read", [&] {
    promise(eggfall::audit_json(eggfall::read_audit_json(written, "again.json")) == written,
            "an audit that was written is read as the same");
  });
  const eggfall::AuditResult result = eggfall::merged({read});
  promise(!eggfall::audit_text(result, eggfall::Verbosity::full).empty() &&
              !eggfall::audit_text(result, eggfall::Verbosity::brief).empty() &&
              !eggfall::audit_csv(result).empty() &&
              !eggfall::audit_page(result, "Audit").empty() &&
              !eggfall::audit_html_page(result, "Audit").empty(),
          "an audit can be shown");
}
