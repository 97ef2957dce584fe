# The manual page and the completions for shells, made from the command line's own definitions.
eggfall_room(manual TOGETHER 20 OPTION -O1)
target_link_libraries(eggfall_manual PUBLIC eggfall_cli)
add_executable(eggfall_write_manual src/manual/main.cpp)
target_link_libraries(eggfall_write_manual PRIVATE eggfall_manual eggfall_cli eggfall_warnings)
target_compile_options(eggfall_write_manual PRIVATE $<$<CONFIG:Release>:-O1>)

string(TIMESTAMP EGGFALL_DATE "%Y-%m-%d" UTC) # that of SOURCE_DATE_EPOCH, where it is set
set(EGGFALL_MANUAL_DIR ${CMAKE_CURRENT_BINARY_DIR}/manual)
set(EGGFALL_MANUAL_FILES ${EGGFALL_MANUAL_DIR}/eggfall.1 ${EGGFALL_MANUAL_DIR}/eggfall.bash
                         ${EGGFALL_MANUAL_DIR}/_eggfall ${EGGFALL_MANUAL_DIR}/eggfall.fish
                         ${EGGFALL_MANUAL_DIR}/drawing.html)
add_custom_command(OUTPUT ${EGGFALL_MANUAL_FILES}
  COMMAND eggfall_write_manual ${EGGFALL_MANUAL_DIR} ${EGGFALL_DATE}
  DEPENDS eggfall_write_manual
  COMMENT "Writing the manual page and the completions for shells")
add_custom_target(manual ALL DEPENDS ${EGGFALL_MANUAL_FILES})
