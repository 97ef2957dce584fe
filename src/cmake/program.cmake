# The program for a command line, over the library.

# The commands are apart from main(), for the manual is made from them too.
eggfall_room(cli TOGETHER 15 OPTION -O1 LINK ${json})
target_link_libraries(eggfall_cli PUBLIC
  eggfall_core eggfall_workbooks CLI11::CLI11 TBB::tbb ${CMAKE_DL_LIBS})
if(RSVG_FOUND)
  # Its headers alone: src/cli/png.cpp loads it when it is needed.
  target_include_directories(eggfall_cli SYSTEM PRIVATE ${RSVG_INCLUDE_DIRS})
  target_compile_definitions(eggfall_cli PRIVATE EGGFALL_WITH_RSVG)
else()
  message(STATUS "librsvg not found: figures are written as SVG alone")
endif()

add_executable(eggfall src/cli/main.cpp)
target_link_libraries(eggfall PRIVATE eggfall_cli eggfall_warnings)
target_compile_options(eggfall PRIVATE $<$<CONFIG:Release>:-O1>)
