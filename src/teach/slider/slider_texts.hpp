#pragma once

#include <string>

// Files of src/data that the page of sliders is made of, compiled in.
namespace eggfall {

/// lesson_audit.json.
std::string slider_audit_json();

/// slider_page.js.
std::string slider_page_script();

} // namespace eggfall
