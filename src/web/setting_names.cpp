#include "web/setting_names.hpp"

#include <string>

namespace eggfall::web {
namespace {

std::string as_place(Setting setting) {
  switch (setting) {
  case Setting::breakdown:
    return "by";
  case Setting::cut_offs:
    return "cutOffs";
  case Setting::units_confirmed:
    return "unitsConfirmed";
  default: // a field that has the library's name, or an answer by its key
    return library_names.as_place(setting);
  }
}

std::string in_sentence(const Mention& mention) {
  const std::string name = as_place(mention.setting);
  return name == library_names.as_place(mention.setting) ? library_names.in_sentence(mention)
                                                         : "the setting " + name;
}

} // namespace

constexpr SettingNames request_names{" and ", in_sentence, as_place};

} // namespace eggfall::web
