#include "eggfall/random_stream.hpp"

#include <Random123/philox.h>

#include <algorithm>

namespace eggfall {

void RandomStream::draw_block() {
  const r123::Philox4x32::key_type key{{key_[0], key_[1]}};
  const r123::Philox4x32::ctr_type counter{{counter_[0], counter_[1], counter_[2], counter_[3]}};
  std::ranges::copy(r123::Philox4x32{}(counter, key), block_.begin());
  ++counter_[0];
  used_ = 0;
}

} // namespace eggfall
