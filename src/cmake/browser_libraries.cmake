# The libraries for WebAssembly, under the names that CMake's own finders give them elsewhere. Those
# that are headers alone are Debian's; the others are compiled of their sources (.ci/library-sources).

enable_language(C)

# Not /usr/include as a whole: it holds the C library of this machine, which is none for a browser.
set(headers ${CMAKE_CURRENT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(library boost fmt nlohmann toml++ Random123 range meta concepts std fast_float)
  if(EXISTS /usr/include/${library})
    file(CREATE_LINK /usr/include/${library} ${headers}/${library} SYMBOLIC)
  elseif(NOT library MATCHES "^(meta|concepts|std)$")
    message(FATAL_ERROR "the headers of ${library} were not found; expected what `sh .ci/setup wasm` installs")
  endif()
endforeach()
set(library_sources ${CMAKE_CURRENT_SOURCE_DIR}/build/libraries)
if(NOT EXISTS ${library_sources}/libxlsxwriter)
  message(FATAL_ERROR "the sources of some libraries were not found in build/libraries; expected what "
                      "`sh .ci/setup wasm` fetches")
endif()

# A library's messages name the file they stand in: no folder of this machine, so that every clone makes
# the same bytes.
add_compile_options(-ffile-prefix-map=${CMAKE_BINARY_DIR}=. -ffile-prefix-map=${CMAKE_SOURCE_DIR}=.)

# Where errors are thrown as exceptions, all code is compiled to let them through.
add_compile_options(-fwasm-exceptions)
add_link_options(-fwasm-exceptions)

function(header_library name)
  add_library(${name} INTERFACE IMPORTED)
  target_include_directories(${name} INTERFACE ${headers})
  target_compile_definitions(${name} INTERFACE ${ARGN})
endfunction()
header_library(fmt::fmt FMT_HEADER_ONLY)
header_library(nlohmann_json::nlohmann_json)
header_library(tomlplusplus::tomlplusplus TOML_HEADER_ONLY=1)
header_library(Random123::Random123)
add_library(Eigen3::Eigen INTERFACE IMPORTED)
target_include_directories(Eigen3::Eigen INTERFACE /usr/include/eigen3)
set(Boost_INCLUDE_DIRS ${headers})

# The compiler's standard library lacks two things that C++20 has.
include_directories(SYSTEM ${headers})
set(EGGFALL_STANDARD_LIBRARY_GAP
    -include ${CMAKE_CURRENT_SOURCE_DIR}/src/module/standard_library_gap.hpp)

# The sources of a library as a target; their warnings are their own affair.
function(source_library name include)
  string(REGEX REPLACE ".*::" "" target ${name})
  add_library(${target} STATIC EXCLUDE_FROM_ALL ${ARGN})
  target_include_directories(${target} SYSTEM PUBLIC ${include})
  target_compile_options(${target} PRIVATE -w)
  add_library(${name} ALIAS ${target})
endfunction()

source_library(LibCSV::LibCSV ${library_sources}/libcsv ${library_sources}/libcsv/libcsv.c)
source_library(pugixml::pugixml ${library_sources}/pugixml/src ${library_sources}/pugixml/src/pugixml.cpp)
source_library(Utf8proc::Utf8proc ${library_sources}/utf8proc ${library_sources}/utf8proc/utf8proc.c)
target_compile_definitions(Utf8proc PUBLIC UTF8PROC_STATIC)

file(GLOB zlib_sources ${library_sources}/zlib/*.c)
source_library(EggfallZlib::zlib_here ${library_sources}/zlib ${zlib_sources})
target_compile_definitions(zlib_here PRIVATE HAVE_UNISTD_H)

# Its own build makes two of its files, and looks for zlib as a file. Ciphers and other ways of
# packing are left out, as tables need none.
set(ZLIB_LIBRARY ${CMAKE_CURRENT_BINARY_DIR}/libzlib_here.a)
set(ZLIB_INCLUDE_DIR ${library_sources}/zlib)
set(ZLIB_VERSION_STRING 1.2.13)
foreach(extra COMMONCRYPTO GNUTLS MBEDTLS OPENSSL WINDOWS_CRYPTO BZIP2 LZMA)
  set(ENABLE_${extra} OFF)
endforeach()
foreach(extra TOOLS REGRESS EXAMPLES DOC)
  set(BUILD_${extra} OFF)
endforeach()
# What it would find out by a program that it runs.
set(HAVE_SIZEOF_OFF_T TRUE)
set(SIZEOF_OFF_T 8)
set(HAVE_SIZEOF_SIZE_T TRUE)
set(SIZEOF_SIZE_T 4)
set(BUILD_SHARED_LIBS OFF)
set(CMAKE_POLICY_DEFAULT_CMP0077 NEW)
add_subdirectory(${library_sources}/libzip ${CMAKE_CURRENT_BINARY_DIR}/libzip EXCLUDE_FROM_ALL)
target_compile_options(zip PRIVATE -w)
add_dependencies(zip zlib_here)
get_target_property(zip_headers zip INTERFACE_INCLUDE_DIRECTORIES)
set_target_properties(zip PROPERTIES INTERFACE_SYSTEM_INCLUDE_DIRECTORIES "${zip_headers}")
add_library(LibZip::LibZip ALIAS zip)

file(GLOB xlsx_sources ${library_sources}/libxlsxwriter/src/*.c
  ${library_sources}/libxlsxwriter/third_party/minizip/ioapi.c
  ${library_sources}/libxlsxwriter/third_party/minizip/zip.c)
source_library(LibXlsxWriter::LibXlsxWriter ${library_sources}/libxlsxwriter/include ${xlsx_sources})
target_compile_definitions(LibXlsxWriter PRIVATE USE_NO_MD5 USE_STANDARD_TMPFILE NOCRYPT NOUNCRYPT)
target_link_libraries(LibXlsxWriter PUBLIC zlib_here)

# Random123 refuses platforms that its authors have not tried, WebAssembly among them; its Philox is
# plain arithmetic of 32 and 64 bits, and the suite's known answers hold there as well. It is told
# that this is one of those it knows.
set_source_files_properties(src/base/random_stream.cpp PROPERTIES
  SKIP_UNITY_BUILD_INCLUSION ON COMPILE_DEFINITIONS __riscv)
