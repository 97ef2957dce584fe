# The rooms (DEVELOPERS.md) and how each is compiled. A file includes its own room and those before
# it; .ci/rooms.py holds the order.
include(src/cmake/compiled_in.cmake)

# Some rooms compiled alike: with a precompiled header of what nearly all of their files include, and,
# where they put results into words, with -O1, since there the compiler's time is longer than any that
# its work could save.
#   eggfall_rooms(TARGET [OPTION] ROOMS room... LINK target... HEADERS header...)
function(eggfall_rooms target)
  cmake_parse_arguments(PARSE_ARGV 1 ARG "" "OPTION" "ROOMS;LINK;HEADERS")
  set(sources "")
  foreach(room IN LISTS ARG_ROOMS)
    file(GLOB_RECURSE of_room CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/src/${room}/*.cpp)
    list(APPEND sources ${of_room} ${EGGFALL_COMPILED_IN_${room}})
  endforeach()
  list(FILTER sources EXCLUDE REGEX "/src/(cli|manual)/main\\.cpp$")
  add_library(${target} OBJECT ${sources})
  target_compile_features(${target} PUBLIC cxx_std_20)
  target_include_directories(${target} PUBLIC include src)
  target_include_directories(${target} SYSTEM PRIVATE ${Boost_INCLUDE_DIRS})
  target_link_libraries(${target} PRIVATE eggfall_warnings ${ARG_LINK})
  target_precompile_headers(${target} PRIVATE
    <algorithm> <array> <cmath> <cstddef> <cstdint> <optional> <string> <string_view> <utility>
    <vector> <fmt/format.h> ${ARG_HEADERS})
  if(ARG_OPTION)
    target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:${ARG_OPTION}>)
  endif()
  if(EGGFALL_COVERAGE)
    # Without any optimisation its matrix products would take hours.
    target_compile_options(${target} PRIVATE --coverage -fprofile-update=single -O1)
  endif()
endfunction()

eggfall_rooms(eggfall_reading OPTION -O2 ROOMS base formats trial
  LINK fmt::fmt nlohmann_json::nlohmann_json tomlplusplus::tomlplusplus pugixml::pugixml
       LibCSV::LibCSV LibZip::LibZip Random123::Random123)
eggfall_rooms(eggfall_numbers ROOMS statistics simulation
  LINK fmt::fmt nlohmann_json::nlohmann_json tomlplusplus::tomlplusplus pugixml::pugixml
       Eigen3::Eigen Random123::Random123)
eggfall_rooms(eggfall_words OPTION -O1 ROOMS judgement report plan survey teach
  LINK fmt::fmt nlohmann_json::nlohmann_json tomlplusplus::tomlplusplus pugixml::pugixml
       Random123::Random123
  HEADERS <pugixml.hpp>)

add_library(eggfall_core STATIC
  $<TARGET_OBJECTS:eggfall_reading> $<TARGET_OBJECTS:eggfall_numbers> $<TARGET_OBJECTS:eggfall_words>)
# Outside, the library is eggfall::eggfall, whether installed or added as a subdirectory.
add_library(eggfall::eggfall ALIAS eggfall_core)
set_target_properties(eggfall_core PROPERTIES EXPORT_NAME eggfall OUTPUT_NAME eggfall)
target_compile_features(eggfall_core PUBLIC cxx_std_20)
target_include_directories(eggfall_core
  PUBLIC $<BUILD_INTERFACE:${CMAKE_CURRENT_SOURCE_DIR}/include>)
# Who links the library installed needs what is linked here; no public header includes any of these.
target_link_libraries(eggfall_core PRIVATE
  fmt::fmt tomlplusplus::tomlplusplus pugixml::pugixml LibCSV::LibCSV LibZip::LibZip)
if(EGGFALL_COVERAGE)
  target_link_options(eggfall_core PUBLIC $<BUILD_INTERFACE:--coverage>)
endif()

# The commands are apart from main(), for the manual is made from them too.
eggfall_rooms(eggfall_commands OPTION -O1 ROOMS cli
  LINK eggfall_core CLI11::CLI11 fmt::fmt nlohmann_json::nlohmann_json TBB::tbb
       LibXlsxWriter::LibXlsxWriter LibZip::LibZip ${CMAKE_DL_LIBS}
  HEADERS <CLI/CLI.hpp>)
target_link_libraries(eggfall_commands INTERFACE
  eggfall_core CLI11::CLI11 TBB::tbb LibXlsxWriter::LibXlsxWriter LibZip::LibZip ${CMAKE_DL_LIBS})
if(RSVG_FOUND)
  # Its headers alone: src/cli/png.cpp loads it when it is needed.
  target_include_directories(eggfall_commands SYSTEM PRIVATE ${RSVG_INCLUDE_DIRS})
  target_compile_definitions(eggfall_commands PRIVATE EGGFALL_WITH_RSVG)
else()
  message(STATUS "librsvg not found: figures are written as SVG alone")
endif()

add_executable(eggfall src/cli/main.cpp)
target_link_libraries(eggfall PRIVATE eggfall_commands eggfall_warnings)
