#include "report/safety_note.hpp"

namespace eggfall {

std::string cautions() {
  return "Wear gloves and wash hands when handling faeces; flotation salts irritate skin and eyes. "
         "Follow the product label for dose, route, species and withholding period, and local "
         "rules. These numbers support, and do not replace, the judgement of a veterinarian "
         "registered where the animals are.";
}

} // namespace eggfall
