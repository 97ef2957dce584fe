#include "trial/control_option.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"

namespace eggfall {

void ControlOption::look_in(const Trial& trial) {
  for (const Group& group : trial.groups) {
    seen_ = seen_ || group.name == group_;
    if (seen_ || group_.empty())
      return;
    if (others_.size() <= most_listed) // one more tells that there are more
      others_.insert(group.name);
  }
}

void ControlOption::check(Problems& problems) const {
  if (seen_ || group_.empty())
    return;
  problems.add({{},
                0,
                0,
                {},
                "the unknown group " + in_quotes(group_),
                "one of the groups " + quoted_list(others_, most_listed),
                Setting::control});
}

} // namespace eggfall
