# The libraries as this machine has them (README.md lists Debian's packages).
find_package(Boost 1.74 REQUIRED)
find_package(Eigen3 3.4 REQUIRED)
find_package(fmt 9 REQUIRED)
find_package(nlohmann_json 3.11 REQUIRED)
find_package(pugixml 1.13 REQUIRED)
find_package(tomlplusplus 3.3 REQUIRED)
list(PREPEND CMAKE_MODULE_PATH ${CMAKE_CURRENT_SOURCE_DIR}/src/cmake)
find_package(LibCSV REQUIRED)
find_package(LibZip REQUIRED)
find_package(Random123 REQUIRED)
find_package(Utf8proc REQUIRED)

# Those of the program alone.
if(PROJECT_IS_TOP_LEVEL)
  find_package(CLI11 2.1 REQUIRED)
  find_package(TBB 2021 REQUIRED)
  find_package(LibXlsxWriter REQUIRED)
  # Figures as PNG; without it they are SVG alone.
  find_package(PkgConfig)
  if(PKG_CONFIG_FOUND)
    pkg_check_modules(RSVG IMPORTED_TARGET librsvg-2.0>=2.52 cairo)
  endif()
endif()
