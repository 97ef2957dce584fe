# The target "reference": the public headers as HTML, in reference/html of the build. A fault in a
# docstring is an error.
find_package(Doxygen 1.9)
if(NOT DOXYGEN_FOUND)
  message(STATUS "Doxygen not found: no target reference")
  return()
endif()
set(DOXYGEN_OUTPUT_DIRECTORY ${CMAKE_CURRENT_BINARY_DIR}/reference)
set(DOXYGEN_PROJECT_NAME eggfall)
set(DOXYGEN_PROJECT_BRIEF "Faecal egg count reduction tests: the C++ library")
set(DOXYGEN_USE_MDFILE_AS_MAINPAGE docs/library.md)
set(DOXYGEN_STRIP_FROM_PATH ${CMAKE_CURRENT_SOURCE_DIR}/include)
set(DOXYGEN_EXTRACT_ALL YES) # a name that says all needs no docstring
set(DOXYGEN_JAVADOC_AUTOBRIEF YES)
set(DOXYGEN_SORT_MEMBER_DOCS NO)
set(DOXYGEN_HAVE_DOT NO)
set(DOXYGEN_GENERATE_LATEX NO)
set(DOXYGEN_QUIET YES)
set(DOXYGEN_WARN_AS_ERROR FAIL_ON_WARNINGS)
doxygen_add_docs(reference include/eggfall docs/library.md
  COMMENT "Writing the reference of the library")
set(EGGFALL_DOXYFILE ${CMAKE_CURRENT_BINARY_DIR}/Doxyfile.reference)
