# What `cmake --install` puts where.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(config_dir ${CMAKE_INSTALL_LIBDIR}/cmake/eggfall)

# The program, and what helps to use it.
set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME program)
install(TARGETS eggfall RUNTIME)
install(FILES ${EGGFALL_MANUAL_DIR}/eggfall.bash
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME eggfall)
install(FILES ${EGGFALL_MANUAL_DIR}/eggfall.fish
  DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY docs examples DESTINATION ${CMAKE_INSTALL_DOCDIR}
  FILES_MATCHING PATTERN *.md PATTERN *.svg PATTERN *.png PATTERN *.csv PATTERN *.toml PATTERN *.html
                 PATTERN *.cpp PATTERN examples/library/CMakeLists.txt)

# A Debian package has its own way with these (debian.cmake).
install(FILES ${EGGFALL_MANUAL_DIR}/eggfall.1
  DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT local)
install(FILES ${EGGFALL_MANUAL_DIR}/_eggfall
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions COMPONENT local)

# The library.
set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME library)
install(TARGETS eggfall_core EXPORT eggfallTargets
  ARCHIVE INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(DIRECTORY include/eggfall DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
  FILES_MATCHING PATTERN *.hpp)
install(EXPORT eggfallTargets NAMESPACE eggfall:: DESTINATION ${config_dir})
configure_package_config_file(src/cmake/eggfallConfig.cmake.in
  ${CMAKE_CURRENT_BINARY_DIR}/eggfallConfig.cmake INSTALL_DESTINATION ${config_dir})
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/eggfallConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES
  ${CMAKE_CURRENT_BINARY_DIR}/eggfallConfig.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/eggfallConfigVersion.cmake
  src/cmake/FindLibCSV.cmake src/cmake/FindLibZip.cmake src/cmake/FindUtf8proc.cmake
  DESTINATION ${config_dir})

find_program(DPKG_DEB dpkg-deb)
find_program(DPKG_SHLIBDEPS dpkg-shlibdeps)
find_program(GZIP gzip)
if(DPKG_DEB AND DPKG_SHLIBDEPS AND GZIP)
  include(src/cmake/debian.cmake)
endif()
