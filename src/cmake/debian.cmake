# `cpack` makes two Debian packages: eggfall, the program, and libeggfall-dev, the library.
set(EGGFALL_DEBIAN ON)
set(EGGFALL_MAINTAINER "eggfall contributors <noreply@example.invalid>")
set(debian_dir ${CMAKE_CURRENT_BINARY_DIR}/debian)
string(TIMESTAMP EGGFALL_CHANGELOG_DATE "%a, %d %b %Y %H:%M:%S +0000" UTC)
configure_file(src/cmake/debian-changelog.in ${debian_dir}/changelog @ONLY)
add_custom_command(OUTPUT ${debian_dir}/changelog.gz ${debian_dir}/eggfall.1.gz
  COMMAND ${GZIP} -9nc changelog > changelog.gz
  COMMAND ${GZIP} -9nc ${EGGFALL_MANUAL_DIR}/eggfall.1 > eggfall.1.gz
  DEPENDS ${debian_dir}/changelog ${EGGFALL_MANUAL_DIR}/eggfall.1
  WORKING_DIRECTORY ${debian_dir})
add_custom_target(debian_files ALL DEPENDS ${debian_dir}/changelog.gz ${debian_dir}/eggfall.1.gz)
add_dependencies(debian_files manual)

# Only in the packages.
function(install_debian component package)
  install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package} RENAME copyright
    COMPONENT ${component} EXCLUDE_FROM_ALL)
  install(FILES ${debian_dir}/changelog.gz DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package}
    COMPONENT ${component} EXCLUDE_FROM_ALL)
endfunction()
install_debian(debian_program eggfall)
install(FILES ${debian_dir}/eggfall.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1
  COMPONENT debian_program EXCLUDE_FROM_ALL)
install(FILES ${EGGFALL_MANUAL_DIR}/_eggfall
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
  COMPONENT debian_program EXCLUDE_FROM_ALL)
install_debian(debian_library libeggfall-dev)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
# Whatever the umask of who makes them: folders that others could not enter would be of no use.
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS ${CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS})
set(CPACK_PACKAGE_CONTACT ${EGGFALL_MAINTAINER})
set(CPACK_COMPONENTS_ALL program debian_program library debian_library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME eggfall)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS "librsvg2-2") # loaded where figures are drawn as PNG
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "faecal egg count reduction tests
Turns the worm egg counts of a drench test into the fall of each group, an
interval for it, a class by published criteria, what is weak in the test and
what to do next. It also plans tests, draws groups at random, prints sheets
for yard and bench, tallies the tests of a region, measures by simulation what
a test can tell, and makes packs for teaching.")

set(CPACK_DEBIAN_DEVEL_PACKAGE_NAME libeggfall-dev)
set(CPACK_DEBIAN_DEVEL_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVEL_PACKAGE_DEPENDS
  "libfmt-dev, libpugixml-dev, libtomlplusplus-dev, libcsv-dev, libzip-dev, libutf8proc-dev")
set(CPACK_DEBIAN_DEVEL_DESCRIPTION "faecal egg count reduction tests, C++ library
The library that the program eggfall is made of: reading tables of worm egg
counts, the fall of each group with its intervals, verdicts by published
criteria, and simulation. A static library with headers and files for CMake.")

include(CPack)
cpack_add_component_group(program)
cpack_add_component_group(devel)
cpack_add_component(program GROUP program)
cpack_add_component(debian_program GROUP program)
cpack_add_component(library GROUP devel)
cpack_add_component(debian_library GROUP devel)
