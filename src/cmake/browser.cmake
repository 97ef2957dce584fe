# The engine for browsers: the core and its door (src/module/main.cpp) as WebAssembly: engine.wasm, and
# engine.mjs that starts it.

# The linker runs scripts of its own in Node, and must be told where Debian keeps what they need.
set_property(GLOBAL PROPERTY RULE_LAUNCH_LINK
  "${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs")
add_executable(engine src/module/main.cpp)
target_include_directories(engine PRIVATE include src)
target_compile_options(engine PRIVATE ${EGGFALL_STANDARD_LIBRARY_GAP})
target_link_libraries(engine PRIVATE eggfall_core eggfall_workbooks eggfall_warnings)
set_target_properties(engine PROPERTIES SUFFIX .mjs)
target_link_options(engine PRIVATE
  -O2
  "SHELL:-s MODULARIZE=1"
  "SHELL:-s EXPORT_ES6=1"
  "SHELL:-s ENVIRONMENT=web,worker" # in Node too: it has all that is asked of a worker
  "SHELL:-s ALLOW_MEMORY_GROWTH=1"
  "SHELL:-s EXPORTED_FUNCTIONS=_malloc,_free"
  "SHELL:-s EXPORTED_RUNTIME_METHODS=[]")

# The module, and the page that holds it: each one file with all that it needs.
find_program(ESBUILD esbuild REQUIRED)
find_program(NODE node REQUIRED)
set(page ${CMAKE_CURRENT_SOURCE_DIR}/src/web/page)
file(GLOB page_sources CONFIGURE_DEPENDS ${page}/*)
set(bundle ${ESBUILD} --bundle --minify --charset=utf8 --log-level=warning --target=es2022)
add_custom_command(OUTPUT eggfall.mjs
  COMMAND ${NODE} ${CMAKE_CURRENT_SOURCE_DIR}/src/module/packed.mjs engine.wasm engine-packed.js
  COMMAND ${CMAKE_COMMAND} -E copy ${CMAKE_CURRENT_SOURCE_DIR}/src/web/eggfall.js eggfall.js
  COMMAND ${bundle} --format=esm --platform=neutral --outfile=eggfall.mjs eggfall.js
  DEPENDS engine src/web/eggfall.js src/module/packed.mjs
  COMMENT "The module eggfall.mjs" VERBATIM)
add_custom_command(OUTPUT eggfall.html
  COMMAND ${bundle} --format=iife --outfile=page-script.js ${page}/main.js
  # No module: browsers refuse one to the worker of a page that was opened from disk. The engine asks
  # for an address to find its own parts beside, which are all handed to it.
  COMMAND ${bundle} --format=iife "--define:import.meta.url=\"file:///\"" --outfile=page-worker.js
          --alias:eggfall.mjs=${CMAKE_CURRENT_BINARY_DIR}/eggfall.mjs ${page}/worker.js
  COMMAND ${NODE} ${page}/build.mjs eggfall.mjs page-script.js page-worker.js
          ${CMAKE_CURRENT_SOURCE_DIR}/examples/brackenhill.csv eggfall.html
  DEPENDS eggfall.mjs ${page_sources} examples/brackenhill.csv
  COMMENT "The page eggfall.html" VERBATIM)
add_custom_target(browser ALL DEPENDS eggfall.mjs eggfall.html)
