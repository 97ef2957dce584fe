#pragma once

#include <string>

// Files of src/data that the lesson page is made of, compiled in.
namespace eggfall {

/// lesson_audit.json.
std::string lesson_audit_json();

/// lesson_page.js.
std::string lesson_page_script();

} // namespace eggfall
