#pragma once

#include <optional>
#include <string>
#include <type_traits>
#include <utility>

namespace eggfall {

/// Why a value is missing, as part of a sentence: "no egg was counted to compare with". Never
/// empty.
struct WhyNot {
  std::string text;
};

/// A value, or the reason why there is none: always one of the two. A function that gives one
/// returns either the value or a WhyNot, and a writer that meets none has the words to say why.
template <typename T> class OrReason {
public:
  // Implicit, so that a function returns either of the two as it is.
  OrReason(T value) : value_(std::move(value)) {} // NOLINT(google-explicit-constructor)
  OrReason(WhyNot reason)
      : why_not_(std::move(reason.text)) {} // NOLINT(google-explicit-constructor)

  bool has_value() const { return value_.has_value(); }
  explicit operator bool() const { return has_value(); }

  /// @throws std::bad_optional_access if there is none.
  const T& operator*() const { return value_.value(); }
  const T* operator->() const { return &value_.value(); }

  /// Empty if there is a value.
  const std::string& why_not() const { return why_not_; }

  /// `change(value)`, or the same reason.
  template <typename Change> auto transformed(Change change) const {
    using Result = OrReason<std::decay_t<std::invoke_result_t<Change, const T&>>>;
    return has_value() ? Result(change(**this)) : Result(WhyNot{why_not_});
  }

private:
  std::optional<T> value_;
  std::string why_not_;
};

} // namespace eggfall
