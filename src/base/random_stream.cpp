#include "eggfall/base/random_stream.hpp"

#include <Random123/philox.h>

#include <algorithm>

namespace eggfall {

// Two blocks of four numbers a call, which makes up for the cost of a call.
void RandomStream::draw_more() {
  const r123::Philox4x32::key_type key{{key_[0], key_[1]}};
  for (auto place = drawn_.begin(); place != drawn_.end();) {
    const r123::Philox4x32::ctr_type counter{{counter_[0], counter_[1], counter_[2], counter_[3]}};
    const auto block = r123::Philox4x32{}(counter, key);
    place = std::copy(block.begin(), block.end(), place);
    ++counter_[0];
  }
  used_ = 0;
}

} // namespace eggfall
