# Data that is compiled in, so that the program needs no file beside it. Sets EGGFALL_COMPILED_IN_<room>
# to the sources made of it.

# The text of a file as raw string literals, in pieces, since a literal may be too long. A piece ends at
# the end of a line where there is one, so that no character of several bytes is cut.
function(eggfall_literals file variable)
  file(READ ${file} text)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
  string(LENGTH "${text}" length)
  set(pieces "")
  set(from 0)
  while(from LESS length)
    string(SUBSTRING "${text}" ${from} 30000 piece)
    string(FIND "${piece}" "\n" end REVERSE)
    if(end GREATER 0)
      math(EXPR end "${end} + 1")
      string(SUBSTRING "${piece}" 0 ${end} piece)
    endif()
    string(APPEND pieces "\n      R\"piece(${piece})piece\",")
    string(LENGTH "${piece}" size)
    math(EXPR from "${from} + ${size}")
  endwhile()
  set(${variable} "${pieces}" PARENT_SCOPE)
endfunction()

# The published cut-offs are one TOML file, read by the very reader that checks a user's own file.
file(READ src/data/cut_offs.toml EGGFALL_CUT_OFFS_TOML)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS src/data/cut_offs.toml)
configure_file(src/judgement/published_cut_offs.cpp.in judgement/published_cut_offs.cpp @ONLY)

file(READ src/data/egg_reappearance.toml EGGFALL_EGG_REAPPEARANCE_TOML)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS src/data/egg_reappearance.toml)
configure_file(src/judgement/published_egg_reappearance.cpp.in judgement/published_egg_reappearance.cpp @ONLY)

file(READ src/data/field_practice.toml EGGFALL_FIELD_PRACTICE_TOML)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS src/data/field_practice.toml)
configure_file(src/judgement/field_practice_toml.cpp.in judgement/field_practice_toml.cpp @ONLY)

# The words that people head and fill their tables with.
eggfall_literals(src/data/table_words.toml EGGFALL_TABLE_WORDS)
configure_file(src/intake/known_table_words.cpp.in intake/known_table_words.cpp @ONLY)

# The audit's own grids are compiled in like the cut-offs.
foreach(grid calibration stress thresholds few-eggs cultures pools lesson)
  string(MAKE_C_IDENTIFIER ${grid} name)
  string(TOUPPER ${name} name)
  file(READ src/data/audit_${grid}.toml EGGFALL_${name}_TOML)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS src/data/audit_${grid}.toml)
endforeach()
configure_file(src/simulation/built_in_grids.cpp.in simulation/built_in_grids.cpp @ONLY)

# The invented tests that teach are too, each named for its lesson.
set(EGGFALL_SCENARIOS "")
foreach(scenario class clear-answer few-eggs no-egg-left uneven-flock rising-season lazy-bench
        missed-at-the-gate light-doses hidden-worm not-found-again)
  file(READ src/data/scenarios/${scenario}.toml text)
  string(APPEND EGGFALL_SCENARIOS "\n      R\"toml(${text})toml\",")
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS src/data/scenarios/${scenario}.toml)
endforeach()
configure_file(src/simulation/scenario_texts.cpp.in simulation/scenario_texts.cpp @ONLY)

# The page of sliders is made of an audit and of a script.
eggfall_literals(src/data/lesson_audit.json EGGFALL_LESSON_AUDIT)
eggfall_literals(src/data/slider_page.js EGGFALL_SLIDER_SCRIPT)
configure_file(src/teach/slider/slider_texts.cpp.in teach/slider_texts.cpp @ONLY)

configure_file(src/base/version.cpp.in base/version.cpp @ONLY)

set(EGGFALL_COMPILED_IN_base ${CMAKE_CURRENT_BINARY_DIR}/base/version.cpp)
set(EGGFALL_COMPILED_IN_intake ${CMAKE_CURRENT_BINARY_DIR}/intake/known_table_words.cpp)
set(EGGFALL_COMPILED_IN_judgement ${CMAKE_CURRENT_BINARY_DIR}/judgement/published_cut_offs.cpp
                                  ${CMAKE_CURRENT_BINARY_DIR}/judgement/published_egg_reappearance.cpp
                                  ${CMAKE_CURRENT_BINARY_DIR}/judgement/field_practice_toml.cpp)
set(EGGFALL_COMPILED_IN_simulation ${CMAKE_CURRENT_BINARY_DIR}/simulation/built_in_grids.cpp
                                   ${CMAKE_CURRENT_BINARY_DIR}/simulation/scenario_texts.cpp)
set(EGGFALL_COMPILED_IN_teach ${CMAKE_CURRENT_BINARY_DIR}/teach/slider_texts.cpp)
