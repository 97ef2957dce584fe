#pragma once

#include "web/frames.hpp"
#include "web/surroundings.hpp"

namespace eggfall::web {

/// Answers a request (docs/browser.md, which lists them all). Its JSON is an object whose "request"
/// names what is wanted, such as analyse.
///
/// The reply's JSON is an object: with "ok" true and what was asked for, its "files" naming the
/// reply's files in their order; or with "ok" false, a "kind" (input: to be mended by whoever asks;
/// factor: the multiplication factor alone is missing; question: one of its "answers" is to be
/// chosen; calculation: failed on acceptable input) and "problems", each with message, found,
/// expected, and where it stands: source, sheet, line, column, column_name.
///
/// Throws nothing but std::bad_alloc.
Frames answer(const Frames& request, const Surroundings& surroundings);

} // namespace eggfall::web
