#pragma once

/// What C++20 has and the standard library of Debian's compiler for WebAssembly has not: the
/// algorithms on ranges, and numbers read by from_chars(). The compiler includes this first in
/// every file of that build and of no other, so that the sources are the same in both. Once that
/// library has caught up this goes.
#include <charconv>
#include <functional>
#include <string_view>
#include <system_error>
#include <type_traits>

#include <fast_float/fast_float.h>
#include <range/v3/algorithm/adjacent_find.hpp>
#include <range/v3/algorithm/all_of.hpp>
#include <range/v3/algorithm/any_of.hpp>
#include <range/v3/algorithm/binary_search.hpp>
#include <range/v3/algorithm/contains.hpp>
#include <range/v3/algorithm/copy.hpp>
#include <range/v3/algorithm/copy_if.hpp>
#include <range/v3/algorithm/count.hpp>
#include <range/v3/algorithm/count_if.hpp>
#include <range/v3/algorithm/equal.hpp>
#include <range/v3/algorithm/fill.hpp>
#include <range/v3/algorithm/find.hpp>
#include <range/v3/algorithm/find_if.hpp>
#include <range/v3/algorithm/for_each.hpp>
#include <range/v3/algorithm/lower_bound.hpp>
#include <range/v3/algorithm/max.hpp>
#include <range/v3/algorithm/max_element.hpp>
#include <range/v3/algorithm/min.hpp>
#include <range/v3/algorithm/min_element.hpp>
#include <range/v3/algorithm/minmax.hpp>
#include <range/v3/algorithm/minmax_element.hpp>
#include <range/v3/algorithm/mismatch.hpp>
#include <range/v3/algorithm/move.hpp>
#include <range/v3/algorithm/none_of.hpp>
#include <range/v3/algorithm/nth_element.hpp>
#include <range/v3/algorithm/replace.hpp>
#include <range/v3/algorithm/replace_if.hpp>
#include <range/v3/algorithm/reverse.hpp>
#include <range/v3/algorithm/sort.hpp>
#include <range/v3/algorithm/stable_sort.hpp>
#include <range/v3/algorithm/transform.hpp>
#include <range/v3/algorithm/unique.hpp>
#include <range/v3/algorithm/upper_bound.hpp>
#include <range/v3/functional/comparisons.hpp>

namespace std {
namespace ranges {
using ::ranges::adjacent_find;
using ::ranges::all_of;
using ::ranges::any_of;
using ::ranges::binary_search;
using ::ranges::copy;
using ::ranges::copy_if;
using ::ranges::count;
using ::ranges::count_if;
using ::ranges::equal;
using ::ranges::fill;
using ::ranges::find;
using ::ranges::find_if;
using ::ranges::for_each;
using ::ranges::lower_bound;
using ::ranges::max;
using ::ranges::max_element;
using ::ranges::min;
using ::ranges::min_element;
using ::ranges::minmax;
using ::ranges::minmax_element;
using ::ranges::mismatch;
using ::ranges::move;
using ::ranges::none_of;
using ::ranges::nth_element;
using ::ranges::replace;
using ::ranges::replace_if;
using ::ranges::reverse;
using ::ranges::sort;
using ::ranges::stable_sort;
using ::ranges::transform;
using ::ranges::unique;
using ::ranges::upper_bound;
} // namespace ranges

inline from_chars_result from_chars(const char* first, const char* last, double& value) {
  const auto read = fast_float::from_chars(first, last, value);
  return {read.ptr, read.ec};
}
} // namespace std
