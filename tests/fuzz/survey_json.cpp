// The JSON of a survey, as --merge reads it, and all that is made of it.
#include "harness.hpp"

#include "survey/survey_json.hpp"
#include "survey/survey_text.hpp"

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Survey read = eggfall::read_survey_json(bytes, "part.json");
  const std::string written = eggfall::survey_json(read);
  accepted("a survey that was written is read", [&] {
    promise(eggfall::survey_json(eggfall::read_survey_json(written, "again.json")) == written,
            "a survey that was written is read as the same");
  });
  promise(!eggfall::survey_text(eggfall::merged({read})).empty(), "a survey can be shown");
}
