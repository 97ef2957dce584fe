# The rooms (DEVELOPERS.md) and how each is compiled. A file includes its own room and those before
# it: .ci/rooms.toml holds the order, .ci/rooms.py looks that it is kept.
include(src/cmake/compiled_in.cmake)

# What takes the compiler's time is templates of libraries, made anew in each file. So a room's files
# are compiled some at a time, which takes a third of the time that each by itself would take. Who
# changes one file again and again is better off with the preset "dev", where this is off.
option(EGGFALL_UNITY "Compile the files of a room together" ON)

# The objects of one room. OPTION stands after the build type's own: -O1 where results are judged and
# put into words, since that takes a thousandth of the time that their numbers take.
#   eggfall_room(NAME [OPTION option] [LINK target...] [TOGETHER files] [ALONE file...])
function(eggfall_room room)
  cmake_parse_arguments(PARSE_ARGV 1 ARG "" "OPTION;TOGETHER" "LINK;ALONE")
  set(target eggfall_${room})
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/src/${room}/*.cpp)
  list(FILTER sources EXCLUDE REGEX "/src/(cli|manual)/main\\.cpp$")
  add_library(${target} OBJECT ${sources} ${EGGFALL_COMPILED_IN_${room}})
  target_compile_features(${target} PUBLIC cxx_std_20)
  target_include_directories(${target} PUBLIC include src)
  target_include_directories(${target} SYSTEM PRIVATE ${Boost_INCLUDE_DIRS})
  target_link_libraries(${target} PRIVATE eggfall_warnings fmt::fmt ${ARG_LINK})
  target_compile_options(${target} PRIVATE ${EGGFALL_STANDARD_LIBRARY_GAP})
  # Boost.Math works in double, not long double: that has 80 bits here, 64 there and in WebAssembly
  # 128 without any hardware, so results would differ between machines, and wait.
  target_compile_definitions(${target} PRIVATE BOOST_MATH_PROMOTE_DOUBLE_POLICY=false)
  if(ARG_OPTION)
    target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:${ARG_OPTION}>)
  endif()
  if(ARG_TOGETHER)
    set_target_properties(${target} PROPERTIES
      UNITY_BUILD ${EGGFALL_UNITY} UNITY_BUILD_BATCH_SIZE ${ARG_TOGETHER})
    list(TRANSFORM ARG_ALONE PREPEND src/${room}/)
    set_source_files_properties(${ARG_ALONE} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
  endif()
  if(EGGFALL_COVERAGE)
    # Without any optimisation its matrix products would take hours.
    target_compile_options(${target} PRIVATE --coverage -fprofile-update=single -O1)
  endif()
endfunction()

set(json nlohmann_json::nlohmann_json)
eggfall_room(base TOGETHER 20 LINK Random123::Random123 Utf8proc::Utf8proc)
eggfall_room(formats TOGETHER 20
  LINK ${json} tomlplusplus::tomlplusplus pugixml::pugixml LibCSV::LibCSV LibZip::LibZip)
# It reads tables row by row, through the header of the library for CSV.
eggfall_room(trial TOGETHER 20 LINK LibCSV::LibCSV)
eggfall_room(intake TOGETHER 20 OPTION -O1 LINK ${json} tomlplusplus::tomlplusplus)
# Where the work is done.
eggfall_room(statistics TOGETHER 8 ALONE mean_posterior.cpp paired_posterior.cpp
  LINK Eigen3::Eigen Random123::Random123)
eggfall_room(judgement TOGETHER 20 OPTION -O1 LINK ${json} tomlplusplus::tomlplusplus)
# The one file of that room that works long: it simulates.
set_source_files_properties(src/judgement/larger_trial.cpp PROPERTIES
  SKIP_UNITY_BUILD_INCLUSION ON COMPILE_OPTIONS $<$<CONFIG:Release>:-O3>)
eggfall_room(report TOGETHER 30 OPTION -O1 LINK ${json} pugixml::pugixml)
eggfall_room(simulation TOGETHER 12 ALONE count_model.cpp
  LINK ${json} tomlplusplus::tomlplusplus pugixml::pugixml Random123::Random123)
eggfall_room(plan TOGETHER 20 OPTION -O1 LINK ${json} pugixml::pugixml)
eggfall_room(survey TOGETHER 20 OPTION -O1 LINK ${json} pugixml::pugixml)
eggfall_room(teach TOGETHER 30 OPTION -O1 LINK ${json} pugixml::pugixml)

# What a page asks of the library.
eggfall_room(web TOGETHER 20 OPTION -O1 LINK ${json})

# The library: all rooms that know no file, thread, terminal or clock.
set(EGGFALL_CORE base formats trial intake statistics judgement report simulation plan survey teach
    web)
list(TRANSFORM EGGFALL_CORE REPLACE "(.+)" "$<TARGET_OBJECTS:eggfall_\\1>")
add_library(eggfall_core STATIC ${EGGFALL_CORE})
# Outside, the library is eggfall::eggfall, whether installed or added as a subdirectory.
add_library(eggfall::eggfall ALIAS eggfall_core)
set_target_properties(eggfall_core PROPERTIES EXPORT_NAME eggfall OUTPUT_NAME eggfall)
target_compile_features(eggfall_core PUBLIC cxx_std_20)
target_include_directories(eggfall_core
  PUBLIC $<BUILD_INTERFACE:${CMAKE_CURRENT_SOURCE_DIR}/include>)
# Who links the library installed needs what is linked here; no public header includes any of these.
target_link_libraries(eggfall_core PRIVATE
  fmt::fmt tomlplusplus::tomlplusplus pugixml::pugixml LibCSV::LibCSV LibZip::LibZip
  Utf8proc::Utf8proc)
if(EGGFALL_COVERAGE)
  target_link_options(eggfall_core PUBLIC $<BUILD_INTERFACE:--coverage>)
endif()

# Workbooks are written by a library that writes files: outside of the core, for program and page.
if(PROJECT_IS_TOP_LEVEL)
  eggfall_room(xlsx TOGETHER 20 OPTION -O1 LINK LibXlsxWriter::LibXlsxWriter LibZip::LibZip)
  add_library(eggfall_workbooks STATIC $<TARGET_OBJECTS:eggfall_xlsx>)
  target_link_libraries(eggfall_workbooks
    PUBLIC eggfall_core LibXlsxWriter::LibXlsxWriter LibZip::LibZip)
endif()
