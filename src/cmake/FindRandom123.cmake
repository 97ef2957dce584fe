# Random123, headers alone, which ships no files for CMake: the target Random123::Random123.
find_path(Random123_INCLUDE_DIR Random123/philox.h)
mark_as_advanced(Random123_INCLUDE_DIR)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Random123 DEFAULT_MSG Random123_INCLUDE_DIR)
if(Random123_FOUND AND NOT TARGET Random123::Random123)
  add_library(Random123::Random123 INTERFACE IMPORTED)
  set_target_properties(Random123::Random123 PROPERTIES
    INTERFACE_INCLUDE_DIRECTORIES "${Random123_INCLUDE_DIR}")
endif()
